/**
 * An operator who reads the fringes of balls in a camera's picture, believing it to be seen from the interferometer, while the camera is
 * turned as it is. No glass, no bias, point foci. mm, waves. Shares no code with src/.
 *
 * The pattern aims its light at a ball's design centre T; with the ball at T + δ the light's way out and back is 2(|P − T − δ| − |P − T|)
 * longer, to first order in the miss (Fermat). The picture is an array of pixels, turned as a whole by camera-seen.ts.
 */
import { Matrix, solve } from 'ml-matrix';
import { seenBy, type Turn } from './camera-seen.ts';

type Vector = readonly [number, number, number];

export interface BallPatch {
  readonly id: string;
  readonly centre: readonly [number, number];
  readonly target: Vector;
}

export interface CameraBench {
  readonly wavelength: number;
  /** Of every patch, a circle. */
  readonly diameter: number;
  /** Half of what the camera spans, about the frame's origin. */
  readonly half: number;
  readonly patches: readonly BallPatch[];
}

interface Pixel {
  readonly patch: string;
  readonly waves: number;
}

const ACROSS = 121;
/** Fringes as finely as an eye reads them. */
const ROUND = 0.1;

/** What the camera shows with each ball displaced by `off`. */
function pictureOf(bench: CameraBench, off: (id: string) => Vector): (Pixel | undefined)[][] {
  const pitch = (2 * bench.half) / ACROSS;
  return Array.from({ length: ACROSS }, (_, row) =>
    Array.from({ length: ACROSS }, (_, column) => {
      const x = -(column - (ACROSS - 1) / 2) * pitch;
      const y = ((ACROSS - 1) / 2 - row) * pitch;
      const patch = bench.patches.find(({ centre }) => apart(centre, [x, y]) < bench.diameter / 2);
      if (patch === undefined) return undefined;
      const [tx, ty, tz] = patch.target;
      const [dx, dy, dz] = off(patch.id);
      const longer = Math.hypot(tx + dx - x, ty + dy - y, tz + dz) - Math.hypot(tx - x, ty - y, tz);
      return { patch: patch.id, waves: (2 * longer) / bench.wavelength };
    }),
  );
}

/**
 * Two tilts and the power of each patch along its senses, as the operator writes them down. `byPlace`: he takes for a patch what stands in
 * its place in the picture that he expects; else he knows the patches apart. `sign` −1: he takes every fall of the path for a rise.
 */
export function operatorReads(
  bench: CameraBench,
  off: (id: string) => Vector,
  turn: Turn,
  { byPlace = false, sign = 1 }: { readonly byPlace?: boolean; readonly sign?: 1 | -1 } = {},
): ReadonlyMap<string, readonly number[]> {
  const pitch = (2 * bench.half) / ACROSS;
  const lit = seenBy(turn, pictureOf(bench, off)).flatMap((pixels, row) =>
    pixels.flatMap((pixel, column) => {
      const place = [(column - (ACROSS - 1) / 2) * pitch, ((ACROSS - 1) / 2 - row) * pitch] as const;
      return pixel === undefined ? [] : [{ ...pixel, place }];
    }),
  );
  return new Map(
    bench.patches.map((patch) => {
      const expected = [-patch.centre[0], patch.centre[1]] as const;
      const own = lit.filter((pixel) =>
        byPlace ? apart(pixel.place, expected) < bench.diameter / 2 : pixel.patch === patch.id,
      );
      const mean = [0, 1].map((k) => own.reduce((sum, { place }) => sum + place[k]!, 0) / own.length);
      const rows = own.map(({ place: [right, up] }) => {
        const [u, v] = [right - mean[0]!, up - mean[1]!];
        return [1, u, v, u * u, u * v, v * v];
      });
      const waves = own.map((pixel) => sign * pixel.waves);
      const fit = solve(new Matrix(rows), Matrix.columnVector(waves), true).to1DArray();
      // He believes that x runs to the left.
      const fall = [fit[1]!, -fit[2]!];
      const [first, second] = tiltSenses(patch);
      const [a, b] = solve(
        new Matrix([
          [first[0], second[0]],
          [first[1], second[1]],
        ]),
        Matrix.columnVector(fall),
      ).to1DArray() as [number, number];
      const widths = [first, second].map(([x, y]) => bench.diameter * Math.hypot(x, y));
      const power = (-(fit[3]! + fit[5]!) / 2) * (Math.max(...widths) / 2) ** 2;
      const counts = [a * widths[0]!, b * widths[1]!, power];
      return [patch.id, counts.map((count) => Math.round(count / ROUND) * ROUND)];
    }),
  );
}

/** As the documentation defines them: x made square to the way of the light û, and what is square to both. */
function tiltSenses({ centre, target }: BallPatch): readonly [Vector, Vector] {
  const way: Vector = [target[0] - centre[0], target[1] - centre[1], target[2]];
  const long = Math.hypot(...way);
  const [x, y, z] = [way[0] / long, way[1] / long, way[2] / long];
  const size = Math.sqrt(1 - x * x);
  const first: Vector = [(1 - x * x) / size, (-x * y) / size, (-x * z) / size];
  return [first, [y * first[2] - z * first[1], z * first[0] - x * first[2], x * first[1] - y * first[0]]];
}

const apart = (a: readonly [number, number], b: readonly [number, number]): number =>
  Math.hypot(a[0] - b[0], a[1] - b[1]);
