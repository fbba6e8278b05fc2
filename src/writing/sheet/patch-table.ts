/** The main pattern and all patches, one row each: what is looked up most at the bench. The numbers are those of the drawing seen from the interferometer. */
import type { Design, DesignedPatch } from '../../design/design.ts';
import { type RingMove, ringMoves } from '../../metrology/rings/ring-moves.ts';
import { leading } from '../../metrology/rings/ring-strip.ts';
import { RING_COUNTS } from '../../metrology/sensing/ring-count.ts';
import { sensesOf } from '../../metrology/sensing/sensitivity.ts';
import { UM_PER_MM } from '../../quantity/conversion.ts';
import { degrees, NONE, place, significant } from '../page/figures.ts';
import { type Html, type HtmlValue, html, table } from '../page/html.ts';
import { amountWords } from '../page/move-words.ts';
import type { Report } from '../report/report-form.ts';

/** A ring's tilts, each with its unit: µm of a shift, µrad of a turn. */
function ringCells(design: Design, patch: DesignedPatch): readonly [perFringe: string, oneReading: string] {
  const tilts = leading(ringMoves(design, patch)).filter(({ count }) => RING_COUNTS[count] !== 'power');
  if (tilts.length === 0) return [NONE, NONE];
  const cell = (sizeOf: (move: RingMove) => number): string =>
    [...new Set(tilts.map((move) => amountWords(move.kind, sizeOf(move))))].join(', ');
  return [cell(({ perFringe }) => Math.hypot(...perFringe)), cell(({ resolution }) => resolution)];
}

/** A short name is not broken at its hyphen. */
const inOneLine = (name: string): HtmlValue =>
  name.length > LONGEST ? name : html`<span class="name">${name}</span>`;

/** Letters for which a column of the table has room. */
const LONGEST = 12;

export function patchTable(design: Design, { patches }: Report): Html {
  const rows = design.patches.map((patch, k) => {
    const tilts = sensesOf(design, patch).filter(({ kind }) => kind === 'tilt');
    const perFringe = tilts.map(({ fringesPerMm }) => significant(UM_PER_MM / fringesPerMm));
    return [
      k + 1,
      inOneLine(patch.id),
      inOneLine(patch.reference.id),
      inOneLine(
        patch.asked.lineAngle === undefined ? patch.asked.focus : `line ${degrees(patch.asked.lineAngle)}°`,
      ),
      ...patch.centre.map(place),
      place(patch.distance),
      ...(perFringe.length === 0
        ? ringCells(design, patch)
        : [[...new Set(perFringe)].join(', '), significant(patches[k]?.resolution_um)]),
      significant(patches[k]?.fresnelNumber, 2),
    ];
  });
  const { main } = design;
  const own =
    main === undefined
      ? []
      : [
          [
            'M',
            main.id,
            `surface ${main.test.surface}`,
            'null',
            ...main.centre.map(place),
            ...Array.from({ length: 4 }, () => NONE),
          ],
        ];
  return table(
    [
      'No.',
      'Patch',
      'Reference',
      'Focus',
      'x, mm',
      'y, mm',
      'Distance, mm',
      'µm per fringe',
      'One reading, µm',
      'Fresnel number',
    ],
    [...own, ...rows],
    [0, 4, 5, 6, 7, 8, 9],
  );
}
