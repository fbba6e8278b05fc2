/** The head of the sheet: what the job is, in the scenario's own figures. */
import type { Design } from '../../design/design.ts';
import { NM_PER_MM } from '../../quantity/conversion.ts';
import { trimmed } from '../../quantity/format.ts';
import { placedOutlineText } from '../drawing/sheet/patch-table.ts';
import { degrees, place, places, significant } from '../page/figures.ts';
import { facts, type Html } from '../page/html.ts';
import { beamWords } from '../setup-words.ts';

export function jobTable(design: Design): Html {
  const { scenario, light, glass } = design;
  const { substrate, interferometer, part, keepOuts } = scenario;
  return facts([
    ['Wavelength in air', `${trimmed(light.wavelength * NM_PER_MM, 4)} nm${airWords(light.airIndex)}`],
    ['Beam', beamRow(design)],
    [
      'Camera',
      `${interferometer.pixelsAcrossBeam} pixels across ${place(design.beam.cameraDiameter)} mm of the pattern; ` +
        `standard uncertainty of one reading ${significant(interferometer.readable)} fringe`,
    ],
    [
      'Substrate',
      `${placedOutlineText(substrate.outline)} mm, ` +
        `pattern faces the ${substrate.patternFaces === 'part' ? 'part' : 'interferometer'}`,
    ],
    [
      'Glass',
      glass.thickness === 0
        ? 'none in the light path'
        : `${glass.name}, index ${trimmed(glass.index, 6)} relative to air, ${place(glass.thickness)} mm, ` +
          `on the ${glass.side === 'before' ? 'interferometer' : 'part'} side of the pattern`,
    ],
    [
      'Keep-outs',
      keepOuts.length === 0
        ? 'none'
        : keepOuts.map(({ id, outline }) => `${id}: ${placedOutlineText(outline)} mm`).join('; '),
    ],
    [
      'Part frame',
      `origin at ${places(part.frame.origin)} mm, rotated by ${part.rotation.map(degrees).join('°, ')}° about its x, y, z in turn`,
    ],
  ]);
}

function beamRow(design: Design): string {
  const { beam } = design.scenario.interferometer;
  const { radius } = design.beam;
  const focus = beam.kind === 'collimated' ? '' : `, focus at ${places(beam.focus)} mm`;
  const lit =
    radius === undefined ? '' : `, illuminates a circle of ${place(2 * radius)} mm diameter on the pattern`;
  return `${beamWords(design)}${focus}${lit}`;
}

const airWords = (index: number | undefined): string =>
  index === undefined ? '' : `, refractive index of the air ${trimmed(index, 8)}`;
