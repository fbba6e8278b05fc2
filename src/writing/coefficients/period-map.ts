/**
 * The local period over a patch as a small picture: squares shaded by the frequency |∇Φ| in even steps, darkest where the lines
 * stand closest, with the steepest place marked. x right, y up, seen from the part side. mm; periods µm.
 */
import type { Pattern } from '../../design/pattern.ts';
import type { PeriodRange } from '../../design/period-range.ts';
import { boundaryOf } from '../../geometry/boundary.ts';
import { contains } from '../../geometry/contains.ts';
import { boundsOf } from '../../geometry/extent.ts';
import { type Arc, pointAlong } from '../../geometry/piece.ts';
import type { Vec2 } from '../../geometry/vector.ts';
import { UM_PER_MM } from '../../quantity/conversion.ts';
import { fixed, trimmed } from '../../quantity/format.ts';
import { significant } from '../page/figures.ts';
import { type Html, html, table, trusted } from '../page/html.ts';
import { INK, RED, SHADES } from '../palette.ts';

/** Squares along the longer side. */
const SQUARES = 16;
/** Points that stand for a curved edge in the picture, at most; an arc shorter than half a turn needs fewer. */
const ALONG_ARC = 48;

function pointsOn(arc: Arc): readonly Vec2[] {
  const count = Math.ceil(ALONG_ARC * Math.min(1, Math.abs(arc.sweep) / Math.PI));
  return Array.from({ length: count }, (_, k) => pointAlong(arc, k / count));
}

/** `id`: unique in the page. */
export function periodMap(patch: Pattern, range: PeriodRange, id: string): Html {
  const { minX, minY, maxX, maxY } = boundsOf(patch.outline);
  const longer = Math.max(maxX - minX, maxY - minY);
  const side = longer / SQUARES;
  const [columns, rows] = [Math.ceil((maxX - minX) / side - 1e-9), Math.ceil((maxY - minY) / side - 1e-9)];
  const [low, high] = [1 / range.max, 1 / range.min];
  const middles: Vec2[] = [];
  for (let row = 0; row < rows; row++)
    for (let column = 0; column < columns; column++) {
      const middle: Vec2 = [minX + (column + 0.5) * side, minY + (row + 0.5) * side];
      if (contains(patch.outline, middle)) middles.push(middle);
    }
  const { gx, gy } = patch.phase.gradients(
    Float64Array.from(middles, ([x]) => x),
    Float64Array.from(middles, ([, y]) => y),
  );
  const paths: string[] = SHADES.map(() => '');
  const digits = Math.max(0, 4 - Math.ceil(Math.log10(longer)));
  const number = (value: number): string => trimmed(value, digits);
  const shades = middles.map((_, k) => {
    const share = high > low ? (Math.sqrt(gx[k]! ** 2 + gy[k]! ** 2) - low) / (high - low) : 0;
    return Math.min(SHADES.length - 1, Math.max(0, Math.floor(share * SHADES.length)));
  });
  // a run of equal shades along a row is one rectangle
  for (let from = 0, to = 0; from < middles.length; from = to) {
    const [x, y] = middles[from]!;
    const follows = (k: number): boolean =>
      middles[k]?.[1] === y && shades[k] === shades[from] && middles[k]![0] - middles[k - 1]![0] < 1.5 * side;
    for (to = from + 1; follows(to); ) to++;
    const width = number((to - from) * side);
    paths[shades[from]!] +=
      `M${number(x - side / 2)} ${number(-y - side / 2)}h${width}v${number(side)}h-${width}z`;
  }
  const margin = longer * 0.06;
  const [markX, markY, arm] = [range.minAt[0], -range.minAt[1], longer * 0.03];
  const edges = boundaryOf(patch.outline).map((loop) => {
    const points = loop.flatMap((piece) => (piece.kind === 'segment' ? [piece.from] : pointsOn(piece)));
    return `M${points.map(([x, y]) => `${number(x)} ${number(-y)}`).join('L')}Z`;
  });
  const box = [minX - margin, -maxY - margin, maxX - minX + 2 * margin, maxY - minY + 2 * margin]
    .map(number)
    .join(' ');
  const line = number(longer / 150);
  const picture = [
    `<svg viewBox="${box}" role="img" aria-label="Map of the period">`,
    `<clipPath id="${id}"><path clip-rule="evenodd" d="${edges.join('')}"/></clipPath>`,
    `<g clip-path="url(#${id})">`,
    ...paths.map((path, k) => (path === '' ? '' : `<path d="${path}" fill="${SHADES[k]}"/>`)),
    '</g>',
    `<path d="${edges.join('')}" fill="none" stroke="${INK}" stroke-width="${line}"/>`,
    `<path d="M${number(markX - arm)} ${number(markY - arm)}l${number(2 * arm)} ${number(2 * arm)}m0 -${number(2 * arm)}l-${number(2 * arm)} ${number(2 * arm)}" fill="none" stroke="${RED}" stroke-width="${number(longer / 90)}"/>`,
    '</svg>',
  ].join('');
  return html`<h3>Period over the patch</h3>
<div class="map">${trusted(picture)}
<div>${table(
    ['', 'period, µm'],
    SHADES.map((shade, k) => [
      html`<span class="swatch" style="background:${shade}"></span>`,
      `${periodAt(low + ((high - low) * (k + 1)) / SHADES.length)} to ${periodAt(low + ((high - low) * k) / SHADES.length)}`,
    ]),
    [1],
  )}
<p>Seen from the part side, x right, y up.<br>Red cross: smallest period, ${isEndless(high) ? '∞' : fixed(range.min * UM_PER_MM, 3)} µm.<br>The patch measures ${significant(maxX - minX)} mm by ${significant(maxY - minY)} mm overall.</p></div></div>
`;
}

/** Lines of so low a frequency, per mm, do not come again on any glass: a collimated beam that goes straight back has none at all. */
const isEndless = (frequency: number): boolean => frequency <= 1e-9;
const periodAt = (frequency: number): string =>
  isEndless(frequency) ? '∞' : significant(UM_PER_MM / frequency, 4);
