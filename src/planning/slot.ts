/** A patch that is to be planned, and the places that it may take. mm, radians. */

import type { Design } from '../design/design.ts';
import { keptWith } from '../design/kept-with.ts';
import { leavingWave } from '../design/setup.ts';
import { areaOf, extentAlong } from '../geometry/extent.ts';
import { rotateBack } from '../geometry/frame.ts';
import type { Outline } from '../geometry/outline.ts';
import { cross, length, scale, squareTo, subtract, unit, type Vec2, type Vec3 } from '../geometry/vector.ts';
import { isReadBy } from '../kinds/kinds.ts';
import { opticalDistancesOf } from '../metrology/sensing/optical-distance.ts';
import type { Eikonal } from '../optics/eikonal.ts';
import type { BiasWish, Patch, Reference } from '../scenario/scenario.ts';
import { type Forms, outlineOf } from './patch-form.ts';
import { addReading, noInformation, type Symmetric3 } from './pose-information.ts';

export interface Slot {
  readonly id: string;
  readonly reference: Reference;
  readonly focus: Patch['focus'];
  readonly order: number;
  readonly bias: BiasWish | undefined;
  /** Given by the file; undefined where the planner chooses. */
  readonly centre: Vec2 | undefined;
  readonly angle: number | undefined;
  /** About [0, 0]. */
  readonly outline: Outline | undefined;
  readonly forms: Forms;
  /** In the scenario's `patches`; undefined for one that the planner adds. */
  readonly index: number | undefined;
}

/** A slot with its place. */
export interface Placement {
  readonly slot: Slot;
  readonly centre: Vec2;
  readonly angle: number;
  readonly size: number;
  readonly outline: Outline;
  readonly area: number;
  /** Radius of a circle about the centre that lies in it; undefined of an outline that the file gives in another shape. */
  readonly core: number | undefined;
  /** In the part frame, mm⁻². */
  readonly information: Symmetric3;
}

/** Line directions that are tried where the file gives none: lines have no sense, so half a turn is all there is. */
export const ANGLES: readonly number[] = Array.from({ length: 12 }, (_, k) => (k * Math.PI) / 12);
const NO_ANGLE = [0];

export const anglesOf = (slot: Slot): readonly number[] => {
  if (slot.focus !== 'line') return NO_ANGLE;
  return slot.angle === undefined ? ANGLES : [slot.angle];
};

export function placementOf(
  design: Design,
  slot: Slot,
  centre: Vec2,
  angle: number,
  size: number,
): Placement {
  const outline = formOf(slot, centre, angle, size);
  return {
    slot,
    centre,
    angle,
    size,
    outline,
    area: areaOf(outline),
    core: coreOf(outline),
    information: informationOf(design, slot, centre, angle, outline),
  };
}

const coreOf = (outline: Outline): number | undefined => {
  if (outline.shape === 'circle') return outline.radius;
  return outline.shape === 'rectangle' ? Math.min(outline.width, outline.height) / 2 : undefined;
};

export const formOf = (slot: Slot, centre: Vec2, angle: number, size: number): Outline =>
  slot.outline === undefined
    ? outlineOf(slot.focus, centre, size, slot.forms.lengthOf(size), angle)
    : moved(slot.outline, centre);

/**
 * As metrology/sensing/sensitivity.ts has it, u = rλs/2D for a tilt and rλ(2s/D)² for power, s as in optical-distance.ts, with what the
 * pattern's placement adds.
 */
export function informationOf(
  design: Design,
  slot: Slot,
  centre: Vec2,
  angle: number,
  outline: Outline,
): Symmetric3 {
  const sum = noInformation();
  const { reference, focus } = slot;
  if (!isReadBy(reference, 'senses')) return sum;
  const { wavelength } = design.light;
  const { readable } = design.scenario.interferometer;
  const { rotation } = design.scenario.part.frame;
  const { distance, chief, tilts, lineDirection } = sightOf(reference, focus, centre, angle);
  const leaving = leavingFor(design, reference);
  const seen = { centre, outline, distance, senses: focus === 'line' ? tilts : [...tilts, chief] };
  const distances = opticalDistancesOf(design, { ...seen, lineDirection }, leaving);
  const steepness = wavesPerMm(design, centre, leaving);
  const add = (direction: Vec3, fringesPerMm: number): void => {
    const variance = (readable / fringesPerMm) ** 2 + placementVariance(design, steepness, fringesPerMm);
    addReading(sum, rotateBack(rotation, direction), 1 / variance);
  };
  let widest = 0;
  tilts.forEach((direction, k) => {
    const width = widthAlong(outline, centre, direction);
    widest = Math.max(widest, width);
    add(direction, (2 * width) / (wavelength * distances[k]!));
  });
  if (focus === 'point') add(chief, (widest / (2 * distances[2]!)) ** 2 / wavelength);
  return sum;
}

/** The way from a centre to a reference, and the directions that show as tilts. */
function sightOf(reference: Reference, focus: Patch['focus'], centre: Vec2, angle: number) {
  const way = subtract(reference.at, [centre[0], centre[1], 0]);
  const distance = length(way);
  const chief = scale(way, 1 / distance);
  if (focus === 'line') {
    const lineDirection = unit(squareTo([Math.cos(angle), Math.sin(angle), 0], chief));
    return { distance, chief, lineDirection, tilts: [unit(cross(lineDirection, chief))] };
  }
  const first = unit(squareTo([1, 0, 0], chief));
  return { distance, chief, lineDirection: undefined, tilts: [first, cross(chief, first)] };
}

/**
 * What a patch's light spreads over on its way from a centre to the reference, mm, as optical-distance.ts traces it: the longer of
 * both tilts', since the line of a slot may take any direction.
 */
export function fringeDistance(
  design: Design,
  reference: Reference,
  focus: Patch['focus'],
  centre: Vec2,
): number {
  const { distance, tilts, lineDirection } = sightOf(reference, 'point', centre, 0);
  if (!isReadBy(reference, 'senses') || (focus !== 'line' && focus !== 'point')) return distance;
  const outline: Outline = { shape: 'circle', centre, radius: 1 };
  const seen = { centre, outline, distance, senses: tilts, lineDirection };
  return Math.max(...opticalDistancesOf(design, seen, leavingFor(design, reference)));
}

/**
 * E_out of a point focus at the reference, asked for at each place that is tried: a line focus is as far off along what it senses, and its
 * light leaves for the same place.
 */
const leavingFor = keptWith((design, reference: Reference): Eikonal => leavingWave(reference, design));

/** m|∇Φ| at the centre. */
function wavesPerMm({ beam, light }: Design, [x, y]: Vec2, leaving: Eikonal): number {
  const [gx, gy] = [new Float64Array(1), new Float64Array(1)];
  const [xs, ys] = [Float64Array.of(x), Float64Array.of(y)];
  leaving.accumulateGradient(xs, ys, 1, gx, gy, 1);
  beam.eikonal.accumulateGradient(xs, ys, -1, gx, gy, 1);
  return Math.hypot(gx[0]!, gy[0]!) / light.wavelength;
}

/**
 * Of the pattern's placement, which each patch has for itself: its edges against each other, 2mε/S fringes of double passage, and
 * the patch as a whole, which moves its focus by little more than itself. As metrology/budget/pattern-errors.ts has it.
 */
function placementVariance({ scenario }: Design, steepness: number, fringesPerMm: number): number {
  const { placement } = scenario.process;
  return ((2 * placement * steepness) / fringesPerMm) ** 2 + placement ** 2;
}

function widthAlong(outline: Outline, centre: Vec2, direction: Vec3): number {
  const [x, y] = direction;
  if (outline.shape === 'circle') return 2 * outline.radius * Math.hypot(x, y);
  if (outline.shape === 'rectangle') {
    const [c, s] = [Math.cos(outline.rotation), Math.sin(outline.rotation)];
    return outline.width * Math.abs(x * c + y * s) + outline.height * Math.abs(y * c - x * s);
  }
  const { min, max } = extentAlong(outline, centre, [x, y]);
  return (max - min) * Math.hypot(x, y);
}

/** The outline carried from about [0, 0] to about `by`. */
export function moved(outline: Outline, by: Vec2): Outline {
  const shift = ([x, y]: Vec2): Vec2 => [x + by[0], y + by[1]];
  if (outline.shape === 'polygon') return { ...outline, points: outline.points.map(shift) };
  return { ...outline, centre: shift(outline.centre) };
}

/** The patch as the scenario would have it. */
export function patchOf({ slot, centre, angle, outline }: Placement): Patch {
  return {
    id: slot.id,
    reference: slot.reference.id,
    focus: slot.focus,
    centre,
    outline,
    lineAngle: slot.focus === 'line' ? angle : undefined,
    order: slot.order,
    bias: slot.bias,
  };
}

/** The cosine between the chief ray from a centre and the glass's normal. */
export const slantOf = (centre: Vec2, at: Vec3): number => {
  const way = subtract(at, [centre[0], centre[1], 0]);
  return way[2] / length(way);
};

/** Half the narrowest side: a place with less room than this holds no such patch. */
export const leastRoom = ({ outline, focus, forms }: Slot, size: number): number => {
  if (outline !== undefined) return 0;
  return (focus === 'line' ? Math.min(size, forms.lengthOf(size)) : size) / 2;
};
