/**
 * The cells of a patch, of the main pattern or of a keep-out's whose light of one order may meet a reference's aperture: cut from a lattice until
 * they are fine against it, cells that clearly miss it dropped. mm; slopes are lateral direction cosines.
 */
import type { Design } from '../../design/design.ts';
import type { Pattern } from '../../design/pattern.ts';
import { covers, distanceToEdge } from '../../geometry/contains.ts';
import { boundsOf, largestDistanceFrom } from '../../geometry/extent.ts';
import type { Outline } from '../../geometry/outline.ts';
import { distance2, dot, scale, subtract, type Vec2, type Vec3 } from '../../geometry/vector.ts';
import { gradientAt } from '../../optics/eikonal.ts';
import { rayPastGlass } from '../../optics/ray.ts';
import type { TracedReference } from '../../optics/round-trip.ts';
import type { Reference } from '../../scenario/scenario.ts';

/** Steps across a zone's lattice, and its middle. */
export const LATTICE = 256;
export const CENTRE = LATTICE / 2;
/** The sides of its coarsest cells, in steps: the larger ones where they are about a quarter, or less, of any patch that they may land on. */
const COARSEST = [64, 32, 16] as const;
const OF_PATCH = 0.3;
export const FINEST = 2;
/** What the corners of a cell tell of the rest of it, with half as much again. */
export const SPREAD = 1.5;
/** A cell is fine enough when its light at the reference is this small against the aperture's radius. */
const FINE_AT_APERTURE = 1 / 4;
export interface Zone {
  readonly id: string;
  readonly outline: Outline;
  /** Undefined for a keep-out, of whose pattern nothing is known but that it lets undiffracted light through. */
  readonly pattern: Pattern | undefined;
  readonly minX: number;
  readonly minY: number;
  /** Of the lattice, mm. */
  readonly stepX: number;
  readonly stepY: number;
  /** The middle; the radius of the circle about it that the outline lies within, and of the one that it lies around, 0 where there is none. */
  readonly centre: Vec2;
  readonly within: number;
  readonly around: number;
  /** Half a step's diagonal. */
  readonly halfStep: number;
  /** Of the cells that are traced first, in steps. */
  readonly coarsest: number;
  readonly nodes: Map<number, Node>;
  /** By a cell's middle, whether all of it lies outside of the outline. */
  readonly outside: Map<number, boolean>;
}

/** `leastWidth` is that of the narrowest patch, mm. */
export function zoneOf(id: string, outline: Outline, pattern: Pattern | undefined, leastWidth: number): Zone {
  const { minX, minY, maxX, maxY } = boundsOf(outline);
  const [stepX, stepY] = [(maxX - minX) / LATTICE, (maxY - minY) / LATTICE];
  const centre: Vec2 = [(minX + maxX) / 2, (minY + maxY) / 2];
  return {
    id,
    outline,
    pattern,
    minX,
    minY,
    stepX,
    stepY,
    centre,
    within: largestDistanceFrom(outline, centre),
    around: covers(outline, centre) ? distanceToEdge(outline, centre) : 0,
    halfStep: Math.hypot(stepX, stepY) / 2,
    coarsest: COARSEST.find((side) => side * Math.max(stepX, stepY) <= OF_PATCH * leastWidth) ?? COARSEST[2],
    nodes: new Map(),
    outside: new Map(),
  };
}

export interface Target {
  readonly reference: Reference;
  readonly traced: TracedReference;
  readonly radius: number;
}

/** Its least corner and its side, in steps of the zone's lattice. */
export interface LitCell {
  readonly i: number;
  readonly j: number;
  readonly side: number;
}

/**
 * Cells of the zone whose light may meet the aperture, cut level by level until they are fine against it; none as soon as all
 * that is left is less than `leastArea`, mm².
 */
export function litCells(
  design: Design,
  zone: Zone,
  order: number,
  target: Target,
  leastArea: number,
  designed: boolean,
): LitCell[] {
  const lit: LitCell[] = [];
  const missAt = (i: number, j: number): Vec3 | undefined => {
    const { at, incident, pattern } = nodeOf(design, zone, i, j);
    return missOf(design, target, at, slopesAfter(incident, pattern, order));
  };
  /** What is left of a cell: nothing, itself where it is fine enough, or its quarters. */
  const refined = ({ i, j, side }: LitCell): readonly LitCell[] => {
    if (clearlyMisses(design, zone, order, target, { i, j, side })) return [];
    const miss = missAt(i + side / 2, j + side / 2);
    const corners = AROUND.map(([right, up]) => missAt(i + right * side, j + up * side));
    if (miss === undefined && corners.every((corner) => corner === undefined)) return [];
    // How far the cell's light reaches from its middle ray, with half as much again; where a part is evanescent, finer parts are asked.
    const spread = SPREAD * Math.max(...corners.map((corner) => apart(corner, miss)));
    if (miss !== undefined && Math.hypot(...miss) - spread > target.radius) return [];
    if (isOutside(design, zone, { i, j, side })) return [];
    if (
      side > zone.coarsest ||
      (!designed && side > FINEST && !(spread <= FINE_AT_APERTURE * target.radius))
    ) {
      return quartersOf({ i, j, side });
    }
    lit.push({ i, j, side });
    return [];
  };
  let open: LitCell[] = [{ i: 0, j: 0, side: LATTICE }];
  while (open.length > 0) {
    open = open.flatMap(refined);
    if (areaOfCells(zone, lit) + areaOfCells(zone, open) < leastArea) return [];
  }
  return lit;
}

/** Whether no part of a cell lies in the zone: asked once for all orders and references. */
function isOutside(design: Design, zone: Zone, { i, j, side }: LitCell): boolean {
  // A cell's middle is that of no cell of another size.
  const key = keyOf(i + side / 2, j + side / 2);
  const known = zone.outside.get(key);
  if (known !== undefined) return known;
  const { at } = nodeOf(design, zone, i + side / 2, j + side / 2);
  const away = distance2(at, zone.centre);
  const reach = side * zone.halfStep;
  // Most cells are told by the circles about the middle, without the hundreds of sides of a main pattern's outline.
  const found =
    away >= zone.within + reach ||
    (away > zone.around && !covers(zone.outline, at) && distanceToEdge(zone.outline, at) >= reach);
  zone.outside.set(key, found);
  return found;
}

const areaOfCells = (zone: Zone, cells: readonly LitCell[]): number =>
  cells.reduce((sum, { side }) => sum + side * side, 0) * zone.stepX * zone.stepY;

/**
 * Whether a cell's light goes clear of the aperture, by lateral direction cosines alone: those that it has against those that would
 * hit. They change evenly across a cell even where a part of it is evanescent, which would else be cut to its finest.
 */
function clearlyMisses(
  design: Design,
  zone: Zone,
  order: number,
  target: Target,
  { i, j, side }: LitCell,
): boolean {
  const { at: place } = target.reference;
  let [middleX, middleY, spread] = [0, 0, 0];
  for (const [right, up] of MIDDLE_AND_AROUND) {
    const { at, incident, pattern } = nodeOf(design, zone, i + right * side, j + up * side);
    const dx = place[0] - at[0];
    const dy = place[1] - at[1];
    const way = Math.sqrt(dx * dx + dy * dy + place[2] * place[2]);
    const offX = incident[0] + order * pattern[0] - dx / way;
    const offY = incident[1] + order * pattern[1] - dy / way;
    if (right === 1 / 2) {
      middleX = offX;
      middleY = offY;
      continue;
    }
    const [apartX, apartY] = [offX - middleX, offY - middleY];
    spread = Math.max(spread, Math.sqrt(apartX * apartX + apartY * apartY));
  }
  return Math.sqrt(middleX * middleX + middleY * middleY) - SPREAD * spread > targetAngle(design, target);
}

/** How far from the direction of its middle, in direction cosines, no ray can be that meets the target. */
export function targetAngle({ glass }: Design, { reference, radius }: Target): number {
  // Glass after the pattern shifts a ray by less than its thickness.
  const shift = glass.side === 'after' ? glass.thickness : 0;
  return (radius + shift) / (reference.at[2] - shift);
}

export const quartersOf = ({ i, j, side }: LitCell): LitCell[] =>
  AROUND.map(([right, up]) => ({ i: i + (right * side) / 2, j: j + (up * side) / 2, side: side / 2 }));

/** Corners of a cell, and its quarters, counterclockwise. */
export const AROUND: readonly Vec2[] = [
  [0, 0],
  [1, 0],
  [1, 1],
  [0, 1],
];

const MIDDLE_AND_AROUND: readonly Vec2[] = [[1 / 2, 1 / 2], ...AROUND];

const apart = (a: Vec3 | undefined, b: Vec3 | undefined): number =>
  a === undefined || b === undefined ? Infinity : Math.hypot(a[0] - b[0], a[1] - b[1], a[2] - b[2]);

/** Slopes after order `order`. */
export const slopesAfter = (incident: Vec2, pattern: Vec2, order: number): Vec2 => [
  incident[0] + order * pattern[0],
  incident[1] + order * pattern[1],
];

export const keyOf = (i: number, j: number): number => i * (LATTICE + 1) + j;

/** A point of a zone's lattice, worked out once for all orders and references. */
interface Node {
  readonly at: Vec2;
  readonly incident: Vec2;
  readonly pattern: Vec2;
}

export function nodeOf(design: Design, zone: Zone, i: number, j: number): Node {
  const key = keyOf(i, j);
  const known = zone.nodes.get(key);
  if (known !== undefined) return known;
  const at: Vec2 = [zone.minX + i * zone.stepX, zone.minY + j * zone.stepY];
  const { incident, pattern } = slopesAt(design, zone.pattern, at);
  const node = { at, incident, pattern };
  zone.nodes.set(key, node);
  return node;
}

/** Where the ray passes the target, from the target and square to the ray; undefined where the order is evanescent. */
function missOf({ glass }: Design, { reference }: Target, from: Vec2, cosines: Vec2): Vec3 | undefined {
  const ray = rayPastGlass(glass, from, cosines);
  if (ray === undefined) return undefined;
  const off = subtract(ray.point, reference.at);
  return subtract(off, scale(ray.direction, dot(off, ray.direction)));
}

/** ∇E_in, and λ∇Φ of the pattern (0 for a keep-out's undiffracted light). */
export function slopesAt(
  { beam, light }: Design,
  of: Pattern | undefined,
  [x, y]: Vec2,
): { incident: Vec2; pattern: Vec2 } {
  const [gx, gy] = of?.phase.gradient(x, y) ?? [0, 0];
  const pattern: Vec2 = [gx * light.wavelength, gy * light.wavelength];
  return { incident: gradientAt(beam.eikonal, x, y), pattern };
}
