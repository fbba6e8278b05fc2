/**
 * The two panels that the reach map has for a reference: the glass by what each free square can serve, and the plane at the
 * reference's height with what its patches can reach. Figures mm and µm; the drawing's own units px, y down.
 */
import type { Design, DesignedPatch } from '../../design/design.ts';
import type { MainPattern } from '../../design/main-pattern.ts';
import { periodRange } from '../../design/period-range.ts';
import { boundaryOf, polylineOf } from '../../geometry/boundary.ts';
import { type Bounds, boundsOf } from '../../geometry/extent.ts';
import type { Outline } from '../../geometry/outline.ts';
import type { Vec2 } from '../../geometry/vector.ts';
import { kindOf } from '../../kinds/kinds.ts';
import { type FreeCells, featureRange, type GlassReach, reachInSpace } from '../../metrology/reach/reach.ts';
import { UM_PER_MM } from '../../quantity/conversion.ts';
import { trimmed } from '../../quantity/format.ts';
import { powerOfTen } from '../../quantity/power.ts';
import type { Reference } from '../../scenario/scenario.ts';
import { significant } from '../page/figures.ts';
import { type Html, html, trusted } from '../page/html.ts';

/** Of a panel. */
export const SIDE = 284;
/** Drawn of one reference's patches: outlines on the glass, and the regions of those whose patterns are finest. */
const MOST_OUTLINES = 200;
const MOST_REGIONS = 12;
const REGION_STEPS = 48;
/** From the panel's foot to the scale bar and the captions. */
const BAR = 12;
const CAPTION = 34;
const CAPTION_LINE = 15;

export function glassPanel(
  design: Design,
  cells: FreeCells,
  reach: GlassReach,
  patches: readonly DesignedPatch[],
  left: number,
  top: number,
): Html {
  const { substrate, keepOuts, process } = design.scenario;
  const place = fitted(boundsOf(substrate.outline), left, top);
  const drawn = patches.slice(0, MOST_OUTLINES);
  const outlines =
    patches.length > drawn.length ? `; ${drawn.length} of ${patches.length} patches drawn` : '';
  return html`${squares(cells, reach, process.minFeature, place)}${keepOuts.map(({ outline }) => path(outline, place, 'kept'))}${design.main === undefined ? '' : mainOutline(design.main, place)}${path(substrate.outline, place, 'edge')}
${drawn.map(({ outline }) => path(outline, place, 'patch'))}${scaleBar(place, left, top)}${captions(
  left,
  top,
  [`on the glass: ${shareWords(reach)}`, `${featureWords(reach)}${outlines}`],
)}`;
}

/** What the main pattern takes of the glass, with its letter. */
function mainOutline({ outline, centre }: MainPattern, place: Placed): Html {
  const [x, y] = place.at(centre);
  return html`${path(outline, place, 'main')}<text class="strong" text-anchor="middle" x="${n(x)}" y="${n(y + 5)}">M</text>
`;
}

const shareWords = ({ share, order }: GlassReach): string =>
  share === undefined
    ? 'no area is free'
    : `${percent(share)} % of the free glass can serve it${order === 1 ? '' : ` at order ${order}`}`;

/** Whole percents; all and none are said of all and none alone. */
const percent = (share: number): string =>
  trimmed(share === 0 || share === 1 ? 100 * share : Math.min(99, Math.max(1, 100 * share)), 0);

function featureWords({ features }: GlassReach): string {
  const { finest, coarsest } = featureRange(features);
  if (finest === undefined) return 'no pattern there sends light to it';
  return `features there ${significant(finest * UM_PER_MM)} to ${coarsest === undefined ? '∞' : significant(coarsest * UM_PER_MM)} µm`;
}

/** One path a class of square, a run along a row at a time. */
function squares(
  { pitch, columns, places, first }: FreeCells,
  { features }: GlassReach,
  minFeature: number,
  place: Placed,
): Html {
  const paths = { plenty: '', enough: '', none: '' };
  const classOf = (k: number): keyof typeof paths =>
    features[k]! >= 2 * minFeature ? 'plenty' : features[k]! >= minFeature ? 'enough' : 'none';
  const side = pitch * place.scale;
  for (let from = 0, to = 0; from < places.length; from = to) {
    const [kind, column] = [classOf(from), places[from]! % columns];
    const follows = (k: number): boolean =>
      places[k] === places[from]! + k - from && column + k - from < columns && classOf(k) === kind;
    for (to = from + 1; follows(to); ) to++;
    const [x, y] = place.at([
      first[0] + column * pitch,
      first[1] + Math.floor(places[from]! / columns) * pitch,
    ]);
    const width = (to - from) * side;
    paths[kind] += `M${n(x - side / 2)} ${n(y - side / 2)}h${n(width)}v${n(side)}h-${n(width)}z`;
  }
  return trusted(
    Object.entries(paths)
      .map(([kind, d]) => (d === '' ? '' : `<path class="${kind}" d="${d}"/>\n`))
      .join(''),
  );
}

export function spacePanel(
  design: Design,
  reference: Reference,
  patches: readonly DesignedPatch[],
  left: number,
  top: number,
): Html {
  const { id, at } = reference;
  const { noPlace } = kindOf(reference).words;
  if (noPlace !== undefined)
    return captions(left, top - SIDE / 2 - CAPTION, [`no position in space: ${noPlace}`]);
  const finest =
    patches.length > MOST_REGIONS
      ? patches.toSorted((a, b) => periodRange(a).min - periodRange(b).min).slice(0, MOST_REGIONS)
      : patches;
  const regions = finest.map(
    (patch) => reachInSpace(design, periodRange(patch).minAt, at[2], patch.order, REGION_STEPS).edge,
  );
  const { outline } = design.scenario.substrate;
  const place = fitted(boundsOfPoints([[at[0], at[1]], ...regions.flat()], boundsOf(outline)), left, top);
  const [x, y] = place.at([at[0], at[1]]);
  const count =
    patches.length > finest.length
      ? `its ${finest.length} finest patches`
      : patches.length === 1
        ? 'its patch'
        : `its ${patches.length} patches`;
  return html`${regions.map((edge) => trusted(`<path class="reach" d="M${edge.map((point) => pair(place.at(point))).join('L')}Z"/>\n`))}${path(outline, place, 'edge')}
<circle class="target" cx="${n(x)}" cy="${n(y)}" r="4"/>
${scaleBar(place, left, top)}${captions(left, top, [
  patches.length === 0
    ? `in the plane z = ${mm(at[2])}: no patch`
    : `in the plane z = ${mm(at[2])}: reach of ${count}`,
  `${id.length > LONGEST_ID ? 'it' : id} is at x ${mm(at[0])}, y ${mm(at[1])}`,
])}`;
}

/** An id longer than this has no room in a caption; the row's heading has it. */
const LONGEST_ID = 12;

interface Placed {
  readonly scale: number;
  readonly at: (point: Vec2) => Vec2;
}

/** From mm to the panel, y up. */
function fitted({ minX, minY, maxX, maxY }: Bounds, left: number, top: number): Placed {
  const scale = SIDE / Math.max(maxX - minX, maxY - minY, 1e-9);
  const [midX, midY] = [(minX + maxX) / 2, (minY + maxY) / 2];
  return {
    scale,
    at: ([x, y]) => [left + SIDE / 2 + (x - midX) * scale, top + SIDE / 2 - (y - midY) * scale],
  };
}

function boundsOfPoints(points: readonly Vec2[], about: Bounds): Bounds {
  let { minX, minY, maxX, maxY } = about;
  for (const [x, y] of points) {
    minX = Math.min(minX, x);
    minY = Math.min(minY, y);
    maxX = Math.max(maxX, x);
    maxY = Math.max(maxY, y);
  }
  return { minX, minY, maxX, maxY };
}

/** A bulge is tan(sweep/4): the radius is chord (1 + b²)/4|b|, and past a half turn |b| > 1. */
function path(outline: Outline, { at, scale }: Placed, kind: string): Html {
  const loops = boundaryOf(outline).map((loop) => {
    const vertices = polylineOf(loop);
    const runs = vertices.map(({ point, bulge }, k) => {
      const next = vertices[(k + 1) % vertices.length]!.point;
      if (bulge === 0) return `L${pair(at(next))}`;
      const chord = Math.sqrt((next[0] - point[0]) ** 2 + (next[1] - point[1]) ** 2);
      const radius = n((scale * chord * (1 + bulge * bulge)) / (4 * Math.abs(bulge)));
      return `A${radius} ${radius} 0 ${Math.abs(bulge) > 1 ? 1 : 0} ${bulge > 0 ? 0 : 1} ${pair(at(next))}`;
    });
    return `M${pair(at(vertices[0]!.point))}${runs.join('')}Z`;
  });
  return trusted(`<path class="${kind}" fill-rule="evenodd" d="${loops.join('')}"/>\n`);
}

/** Of 1, 2 or 5 times a power of ten, mm, at most a third of the panel. */
function scaleBar({ scale }: Placed, left: number, top: number): Html {
  const most = SIDE / 3 / scale;
  const power = powerOfTen(Math.floor(Math.log10(most)));
  const length = power * (most >= 5 * power ? 5 : most >= 2 * power ? 2 : 1);
  const [y, end] = [top + SIDE + BAR, left + length * scale];
  return html`<path class="bar" d="M${left} ${y}H${n(end)}"/><text x="${n(end + 6)}" y="${y + 4}">${trimmed(length, 6)} mm</text>
`;
}

const captions = (left: number, top: number, lines: readonly string[]): Html =>
  html`${lines.map((line, k) => html`<text class="quiet" x="${left}" y="${top + SIDE + CAPTION + CAPTION_LINE * k}">${line}</text>\n`)}`;

const n = (value: number): string => trimmed(value, 1);
const pair = ([x, y]: Vec2): string => `${n(x)} ${n(y)}`;
const mm = (value: number): string => `${trimmed(value, 1).replace('-', '\u2212')} mm`;
