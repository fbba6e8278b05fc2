/** A patch of a scene as the operator's camera sees it, in place or with its reference moved; fringes counted over it. */
import {
  asSeen,
  closeness,
  fringeVector,
  type Picture,
  type Way,
  wayOf,
} from '../../independent/fringes-seen.ts';
import type { Vector } from '../../independent/ray.ts';
import { type CameraWaves, cameraWaves } from '../../independent/round-trip.ts';
import type { PatchOnBench } from './operator-setup.ts';

export interface Seen {
  readonly waves: CameraWaves;
  readonly picture: Picture;
}

/** With the light that comes back from beyond the patch's edge too, so that a fringe can be followed to the edge. */
export function seenOf({ setup }: PatchOnBench, moved: Vector = [0, 0, 0]): Seen {
  const { within: _, ...open } = setup;
  const waves = cameraWaves(open, moved);
  return { waves, picture: asSeen(waves, setup.centre) };
}

export const movedBy = (bench: PatchOnBench, direction: Vector, mm: number): Seen =>
  seenOf(bench, [direction[0] * mm, direction[1] * mm, direction[2] * mm]);

/** What a move adds at places of the picture, fringes. */
const addedAt = (at: readonly Way[], before: Seen, after: Seen): readonly number[] =>
  at.map((place) => after.picture(...place) - before.picture(...place));

/** Fringes that a move adds from edge to edge of the patch. */
export function fringesAcross({ setup, corners }: PatchOnBench, before: Seen, after: Seen): number {
  const [x0, y0] = setup.centre;
  const added = addedAt(
    corners.map(([x, y]) => wayOf([x - x0, y - y0])),
    before,
    after,
  );
  return Math.max(...added) - Math.min(...added);
}

/** What a move adds from the middle to the edge on all sides, fringes, over a circle as wide as the patch. */
export function fringesAround({ widest }: PatchOnBench, before: Seen, after: Seen): readonly number[] {
  const circle = (radius: number): readonly number[] =>
    addedAt(
      Array.from({ length: 24 }, (_, k): Way => {
        const angle = (2 * Math.PI * (k + 0.3)) / 24;
        return [radius * Math.cos(angle), radius * Math.sin(angle)];
      }),
      before,
      after,
    );
  // Half-way out power has a quarter of its fringes: in the middle there may be a ridge, where no light is.
  const halfWay = meanOf(circle(widest / 4));
  return circle(widest / 2).map((part) => (part - halfWay) / 0.75);
}

/** Of what there is: on a ridge no light is. */
export function meanOf(values: readonly number[]): number {
  const seen = values.filter((value) => !Number.isNaN(value));
  return seen.reduce((sum, value) => sum + value, 0) / seen.length;
}

/** Fringes from edge to edge of the patch. */
export const fringesOf = (bench: PatchOnBench, seen: Seen): number =>
  fringesAcross(bench, { waves: () => 0, picture: () => 0 }, seen);

/** The share of the patch that light still comes back to, with the reference moved: what left from beyond its edge, or lands there, is lost. */
export function litShare({ setup, corners }: PatchOnBench, [dx, dy, dz]: Vector, mm: number): number {
  const waves = cameraWaves(setup, [dx * mm, dy * mm, dz * mm]);
  const [xs, ys] = [0, 1].map((axis) => {
    const runs = corners.map((corner) => corner[axis as 0 | 1]);
    const [from, to] = [Math.min(...runs), Math.max(...runs)];
    return Array.from({ length: GRID }, (_, k) => from + ((k + 0.5) / GRID) * (to - from));
  }) as [number[], number[]];
  const within = xs.flatMap((x) => ys.map((y) => [x, y] as const)).filter(([x, y]) => setup.within!(x, y));
  return within.filter(([x, y]) => !Number.isNaN(waves(x, y))).length / within.length;
}

const GRID = 30;

/** Fringes a mm at places all over the patch, off its ridge. */
export function closenessOver({ reach }: PatchOnBench, { picture }: Seen): readonly number[] {
  const runs = [-0.6, -0.25, 0.3, 0.55].map((part) => part * reach);
  return runs
    .flatMap((right) => runs.map((up) => closeness(fringeVector(picture, [right, up], reach / 1000))))
    .filter((value) => !Number.isNaN(value));
}
