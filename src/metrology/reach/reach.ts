/**
 * What a process can serve: from a place on the glass, the region of space that a pattern with features of at least `minFeature`
 * can send light to; and for a reference, the places on the glass that can send it theirs. mm; slopes are direction cosines.
 *
 * A pattern of order 1 adds λ∇Φ to the beam's lateral cosines, and |∇Φ| is at most min(duty, 1 − duty)/minFeature: the light can
 * leave within a circle of cosines about the undiffracted ray's. Glass after the pattern keeps the cosines and shifts the ray.
 * This is of a patch's middle; its edges reach a little less far. Source: the grating equation (optics/grating.ts).
 */
import type { Design } from '../../design/design.ts';
import { boundsOf } from '../../geometry/extent.ts';
import type { Vec2 } from '../../geometry/vector.ts';
import { gradientAt } from '../../optics/eikonal.ts';
import { along, rayPastGlass, runToHeight } from '../../optics/ray.ts';
import type { Reference } from '../../scenario/scenario.ts';
import { roomAt, steepestWritten, steepnessToward } from './sites.ts';

/** The greatest change of lateral cosines that the process can write. */
export const widestBend = (design: Design): number => design.light.wavelength * steepestWritten(design);

/** Light that would leave nearer to the glass's plane than this cosine allows is left out: no bench uses it. */
const STEEPEST = 0.999;

interface SpaceReach {
  /** Where the undiffracted ray passes. */
  readonly middle: Vec2;
  /** Around the region, at even steps of direction; light cut off at grazing angles is left on the edge that remains. */
  readonly edge: readonly Vec2[];
}

/**
 * The region at the height z above the pattern that a patch at `from` can serve at its order. Throws a RangeError for a height in
 * the glass.
 */
export function reachInSpace(design: Design, from: Vec2, height: number, order = 1, steps = 72): SpaceReach {
  const { glass } = design;
  const thickness = glass.side === 'after' ? glass.thickness : 0;
  if (!(height > thickness))
    throw new RangeError(`a height of ${height} mm is not beyond the glass, ${thickness} mm`);
  const incident = gradientAt(design.beam.eikonal, ...from);
  const bend = Math.abs(order) * widestBend(design);
  const at = (cosines: Vec2): Vec2 => {
    const size = Math.hypot(...cosines);
    const kept: Vec2 =
      size > STEEPEST ? [(cosines[0] * STEEPEST) / size, (cosines[1] * STEEPEST) / size] : cosines;
    const ray = rayPastGlass(glass, from, kept)!;
    const [x, y] = along(ray, runToHeight(ray, height));
    return [x, y];
  };
  return {
    middle: at(incident),
    edge: Array.from({ length: steps }, (_, k) => {
      const angle = (2 * Math.PI * k) / steps;
      return at([incident[0] + bend * Math.cos(angle), incident[1] + bend * Math.sin(angle)]);
    }),
  };
}

/** Squares of the glass whose middles are free: inside the edge margin and the beam, outside of every keep-out and its clearance. */
export interface FreeCells {
  /** Side of a square, mm. */
  readonly pitch: number;
  readonly columns: number;
  /** Of the free ones: the middles, and where each stands, row by row from below. */
  readonly xs: Float64Array;
  readonly ys: Float64Array;
  readonly places: Int32Array;
  /** Middle of the first square, the lowest at the left. */
  readonly first: Vec2;
}

export interface GlassReach {
  readonly reference: Reference;
  /** The order that the features are given for: the highest of the reference's patches; 1 where it has none. */
  readonly order: number;
  /** The feature that a pattern toward the reference has at each free square, mm; NaN where no pattern sends light to it. */
  readonly features: Float64Array;
  /** Of the free squares, that can serve the reference; undefined where none is free. */
  readonly share: number | undefined;
}

interface Reach {
  readonly cells: FreeCells;
  /** In the order of the design's references. */
  readonly references: readonly GlassReach[];
}

/** Squares that the glass is cut into, and how many are looked at over all references and keep-outs before they are made coarser. */
const MOST_CELLS = 1024;
const LEAST_CELLS = 64;
const MOST_LOOKS = 200_000;

const known = new WeakMap<Design, Reach>();

/** Worked out once a design: report and map both ask for it. */
export function reachOf(design: Design): Reach {
  const reach = known.get(design) ?? workedOut(design);
  known.set(design, reach);
  return reach;
}

function workedOut(design: Design): Reach {
  const { keepOuts } = design.scenario;
  const looks = design.references.length + keepOuts.length;
  const cells = freeCells(design, Math.max(LEAST_CELLS, Math.min(MOST_CELLS, MOST_LOOKS / looks)));
  const orders = new Map<string, number>();
  for (const { reference, order } of design.patches)
    orders.set(reference.id, Math.max(orders.get(reference.id) ?? 1, Math.abs(order)));
  return {
    cells,
    references: design.references.map((reference) =>
      reachOverGlass(design, reference, orders.get(reference.id) ?? 1, cells),
    ),
  };
}

function freeCells(design: Design, wanted: number): FreeCells {
  const { minX, minY, maxX, maxY } = boundsOf(design.scenario.substrate.outline);
  const pitch = Math.sqrt(((maxX - minX) * (maxY - minY)) / wanted);
  const columns = Math.max(1, Math.round((maxX - minX) / pitch));
  const rows = Math.max(1, Math.round((maxY - minY) / pitch));
  const first: Vec2 = [(minX + maxX - (columns - 1) * pitch) / 2, (minY + maxY - (rows - 1) * pitch) / 2];
  const places: number[] = [];
  for (let row = 0; row < rows; row++)
    for (let column = 0; column < columns; ) {
      const place = row * columns + column;
      // No place nearer than the room, or the lack of it, is otherwise: the distances it is made of change by no more than one goes.
      const room = roomAt(design, middleOf(place, first, pitch, columns));
      const run = Math.min(columns - column, 1 + Math.floor(Math.abs(room) / pitch));
      if (room >= 0) for (let k = 0; k < run; k++) places.push(place + k);
      column += run;
    }
  const middles = places.map((place) => middleOf(place, first, pitch, columns));
  return {
    pitch,
    columns,
    xs: Float64Array.from(middles, ([x]) => x),
    ys: Float64Array.from(middles, ([, y]) => y),
    places: Int32Array.from(places),
    first,
  };
}

const middleOf = (place: number, [x, y]: Vec2, pitch: number, columns: number): Vec2 => [
  x + (place % columns) * pitch,
  y + Math.floor(place / columns) * pitch,
];

function reachOverGlass(
  design: Design,
  reference: Reference,
  order: number,
  { xs, ys }: FreeCells,
): GlassReach {
  const { dutyCycle, minFeature } = design.scenario.process;
  const features = steepnessToward(design, reference, xs, ys);
  let served = 0;
  for (let k = 0; k < features.length; k++) {
    features[k] = (Math.min(dutyCycle, 1 - dutyCycle) * order) / features[k]!;
    if (features[k]! >= minFeature) served++;
  }
  return { reference, order, features, share: xs.length === 0 ? undefined : served / xs.length };
}

/** Of the features over the free glass, mm; the coarsest undefined where a pattern would be stationary. */
export function featureRange(features: Float64Array): {
  readonly finest: number | undefined;
  readonly coarsest: number | undefined;
} {
  const known = features.filter((feature) => !Number.isNaN(feature));
  if (known.length === 0) return { finest: undefined, coarsest: undefined };
  let [finest, coarsest] = [known[0]!, known[0]!];
  for (const feature of known) {
    if (feature < finest) finest = feature;
    if (feature > coarsest) coarsest = feature;
  }
  return { finest, coarsest: Number.isFinite(coarsest) ? coarsest : undefined };
}
