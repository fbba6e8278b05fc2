/**
 * Whether the readings after a move are those predicted, or those of a bench whose signs are all wrong or whose camera is turned or
 * mirrored otherwise than believed: so that moves in the wrong direction are found at once. Fringes, along each patch's senses.
 *
 * A move changes the readings by c, predicted less before. If pictures are taken for turned in a wrong way, S being the turn or mirroring
 * of the pattern plane that this amounts to, every fall of path is read as S times what it is, and the change comes out as S c; with all
 * signs wrong as −c. Patches are then told apart rightly, or by their places alone: then what is read as patch P is of the patch that S
 * takes to P's place. Power does not turn. A supposition is given up where the χ² of what it leaves is less likely than CONTRADICTION.
 */
import { chiSquaredTail } from '../../algebra/distributions.ts';
import type { Design, DesignedPatch } from '../../design/design.ts';
import { covers } from '../../geometry/contains.ts';
import { dot, type Vec2, type Vec3 } from '../../geometry/vector.ts';
import type { BenchReading } from '../../scenario/bench-reading.ts';
import {
  type CameraOrientation,
  isSameOrientation,
  ORIENTATIONS,
  takenFor,
} from '../../scenario/camera-orientation.ts';
import { apertureWindow } from '../camera/fringe-picture-window.ts';
import { CONTRADICTION } from '../estimate/consistency.ts';
import { type Sense, sensesOf } from '../sensing/sensitivity.ts';
import { fallOfTilts, tiltsOfFall } from './fall.ts';
import { MOVE_ACCURACY } from './step.ts';

/** Cosine of the most by which an eye takes another tilt for the one that a line focus shows: 60°. */
const NEAR = 0.5;

interface MovesRead {
  /** What the moves were worked out from. */
  readonly before: readonly BenchReading[];
  /** What they were to lead to; see `predictedReadings`. */
  readonly predicted: readonly BenchReading[];
  /** What is read now. Of the three only patches that are in all, with known signs, are compared. */
  readonly taken: readonly BenchReading[];
}

/** What would explain the readings. */
export type Supposition =
  | { readonly kind: 'as predicted' }
  | { readonly kind: 'all signs wrong' }
  | { readonly kind: 'camera turned'; readonly orientation: CameraOrientation; readonly byPlace: boolean };

export interface MovesCheck {
  /** Those that the readings do not contradict: one where all is clear. */
  readonly fits: readonly Supposition[];
  readonly compared: number;
}

interface Compared {
  readonly patch: DesignedPatch;
  readonly senses: readonly Sense[];
  readonly before: readonly (number | undefined)[];
  readonly change: readonly (number | undefined)[];
  readonly taken: readonly (number | undefined)[];
  /** Variance of taken less before, fringes². */
  readonly variance: number;
}

/** What the fringes come to, to first order, once each reference is moved, mm, substrate frame. */
export function predictedReadings(
  design: Design,
  before: readonly BenchReading[],
  moveOf: (reference: string) => Vec3,
): readonly BenchReading[] {
  return before.flatMap((reading): BenchReading[] => {
    if (reading.kind !== 'fringes') return [];
    const patch = patchNamed(design, reading.patch);
    const senses = sensesOf(design, patch);
    // A ring is moved by the hologram or the part, and is not compared.
    if (senses.length === 0) return [];
    const fringes = reading.fringes.map((count, k) => {
      const { direction, fringesPerMm } = senses[k]!;
      return count === undefined
        ? undefined
        : count + fringesPerMm * dot(moveOf(patch.reference.id), direction);
    });
    return [{ ...reading, fringes }];
  });
}

/** `believed`: how the camera was taken to be turned as the readings were made. */
export function checkMoves(design: Design, read: MovesRead, believed: CameraOrientation): MovesCheck {
  const compared = comparedIn(design, read);
  const suppositions: Supposition[] = [{ kind: 'as predicted' }, { kind: 'all signs wrong' }];
  for (const orientation of ORIENTATIONS) {
    if (isSameOrientation(orientation, believed)) continue;
    for (const byPlace of [false, true]) suppositions.push({ kind: 'camera turned', orientation, byPlace });
  }
  const fits = suppositions.filter((supposition) => {
    const changes = changesIf(design, compared, supposition, believed);
    return changes !== undefined && isLikely(compared, changes);
  });
  return { fits, compared: compared.length };
}

function comparedIn(design: Design, { before, predicted, taken }: MovesRead): readonly Compared[] {
  const ofPatch = (readings: readonly BenchReading[], id: string) =>
    readings.find((one) => one.kind === 'fringes' && one.patch === id && one.signKnown) as
      | Extract<BenchReading, { kind: 'fringes' }>
      | undefined;
  return design.patches.flatMap((patch): Compared[] => {
    const [was, wanted, is] = [before, predicted, taken].map((readings) => ofPatch(readings, patch.id));
    if (was === undefined || wanted === undefined || is === undefined) return [];
    const { readable } = design.scenario.interferometer;
    const change = was.fringes.map((count, k) => {
      const next = wanted.fringes[k];
      return count === undefined || next === undefined ? undefined : next - count;
    });
    const variance = (was.uncertainty ?? readable) ** 2 + (is.uncertainty ?? readable) ** 2;
    const senses = sensesOf(design, patch);
    return [{ patch, senses, before: was.fringes, change, taken: is.fringes, variance }];
  });
}

type Changes = readonly (readonly (number | undefined)[])[];

/** The changes that would be read; undefined where no one could take such pictures for what he expects. */
function changesIf(
  design: Design,
  compared: readonly Compared[],
  supposition: Supposition,
  believed: CameraOrientation,
): Changes | undefined {
  if (supposition.kind === 'as predicted') return compared.map(({ change }) => change);
  if (supposition.kind === 'all signs wrong')
    return compared.map(({ change }) => change.map((value) => (value === undefined ? undefined : -value)));
  const { orientation, byPlace } = supposition;
  const turn = (direction: Vec2): Vec2 => takenFor(orientation, believed, direction);
  const sources = byPlace ? sourcesByPlace(design, compared, turn) : compared;
  if (sources === undefined) return undefined;
  const changes: (readonly (number | undefined)[])[] = [];
  for (const [k, one] of compared.entries()) {
    const changed = turnedChange(one, sources[k]!, turn);
    if (changed === undefined) return undefined;
    changes.push(changed);
  }
  return changes;
}

/** For each patch the one whose picture stands in its place; undefined where they do not pair, or each is its own. */
function sourcesByPlace(
  design: Design,
  compared: readonly Compared[],
  turn: (direction: Vec2) => Vec2,
): readonly Compared[] | undefined {
  const { centre } = apertureWindow(design, 1);
  const sources: Compared[] = [];
  for (const { patch, senses } of compared) {
    const source = compared.find((other) => {
      const [dx, dy] = turn([other.patch.centre[0] - centre[0], other.patch.centre[1] - centre[1]]);
      return other.senses.length === senses.length && covers(patch.outline, [centre[0] + dx, centre[1] + dy]);
    });
    if (source === undefined) return undefined;
    sources.push(source);
  }
  return sources.every((source, k) => source === compared[k]) ? undefined : sources;
}

/** What is read on one patch of the change of `source`. */
function turnedChange(
  { patch, senses }: Compared,
  source: Compared,
  turn: (direction: Vec2) => Vec2,
): readonly (number | undefined)[] | undefined {
  const [own, theirs] = [tiltsOf(senses), tiltsOf(source.senses)];
  const counts = source.change.slice(0, theirs.length);
  const rest = source.change.slice(theirs.length);
  if (counts.some((count) => count === undefined)) return [...own.map(() => undefined), ...rest];
  if (own.length === 1 && Math.abs(cosineOf(turn(flat(theirs[0]!)), flat(own[0]!))) < NEAR) return undefined;
  const fall = turn(fallOfTilts(source.patch, theirs, counts as readonly number[]));
  return [...tiltsOfFall(patch, own, fall), ...rest];
}

function isLikely(compared: readonly Compared[], changes: Changes): boolean {
  let [chiSquared, count] = [0, 0];
  for (const [k, { before, taken, variance }] of compared.entries()) {
    for (const [sense, change] of changes[k]!.entries()) {
      const [was, is] = [before[sense], taken[sense]];
      if (was === undefined || is === undefined || change === undefined) continue;
      chiSquared += (is - was - change) ** 2 / (variance + (MOVE_ACCURACY * change) ** 2);
      count++;
    }
  }
  return count === 0 || chiSquaredTail(chiSquared, count) >= CONTRADICTION;
}

function patchNamed({ patches }: Design, id: string): DesignedPatch {
  const patch = patches.find((one) => one.id === id);
  if (patch === undefined) throw new RangeError(`no patch ${id} in this design`);
  return patch;
}

const tiltsOf = (senses: readonly Sense[]): readonly Sense[] => senses.filter(({ kind }) => kind === 'tilt');
const flat = ({ direction: [x, y] }: Sense): Vec2 => [x, y];
const cosineOf = (a: Vec2, b: Vec2): number =>
  (a[0] * b[0] + a[1] * b[1]) / (Math.hypot(...a) * Math.hypot(...b));
