/**
 * The null test of a surface of revolution, traced on a bench with causes of error really there and the part really moved: out from the
 * pattern to the surface where it stands, mirrored, and home. What comes out is the figure as the interferometer would map it, mm of height:
 * light that comes back to another place of the pattern counts at the place of the surface that the design maps there.
 * The pattern's phase is that of normals followed back, fitted over the distance from the surface's axis. Shares no code with src/.
 */
import { type Bench, type Mirrored, type Off, type Phase, roundTrip } from './bench-chain.ts';
import { fitted } from './equations.ts';
import { movedSheet, reached, type Standing } from './null-traced.ts';
import { dot, minus, normed, size, type Vector } from './ray.ts';
import { followedBack, squareOn } from './surface-sheets.ts';

const STILL = [0, 0, 0, 0, 0, 0];
const TERMS = 9;
const SAMPLES = 40;

interface Mapped {
  readonly x: number;
  readonly y: number;
  readonly height: number;
}

/** Step of the mapping's quotients, mm. */
const NEAR = 0.01;

/** Order 1, the pattern after the air, glass after it. `points` by the surface's own x and y; `motion` of the part about its origin. */
export function nullChain(
  bench: Bench,
  standing: Standing,
  points: readonly { readonly x: number; readonly y: number }[],
): (off: Off, motion: readonly number[]) => readonly Mapped[] {
  const design = movedSheet(standing, STILL);
  const onPattern = (x: number, y: number) => followedBack(design, x, y, bench.glass).on;
  const rays = points.map(({ x, y }) => onPattern(x, y));
  const mappings = points.map(({ x, y }, k) => {
    const [px, py] = rays[k]!;
    const [right, up] = [onPattern(x + NEAR, y), onPattern(x, y + NEAR)];
    const [a, c] = [(right[0] - px) / NEAR, (right[1] - py) / NEAR];
    const [b, d] = [(up[0] - px) / NEAR, (up[1] - py) / NEAR];
    return (ex: number, ey: number): readonly [number, number] => [
      x + (d * ex - b * ey) / (a * d - b * c),
      y + (a * ey - c * ex) / (a * d - b * c),
    ];
  });
  const phase = phaseOf(bench, standing, points);
  const traced = (off: Off, motion: readonly number[]): readonly Mapped[] => {
    const sheet = movedSheet(standing, motion);
    const mirror = (at: Vector, direction: Vector): Mirrored => {
      const { way, x, y } = reached(standing, motion, at, direction);
      const { at: from, back: normal } = squareOn(sheet, x, y);
      const twice = 2 * dot(direction, normal);
      return { from, direction: normed(minus(direction, normal.map((n) => twice * n) as never)), way };
    };
    const wavelength = bench.wavelength * (1 + (off.wavelength ?? 0));
    return rays.map(([px, py], k): Mapped => {
      const home = roundTrip(bench, { order: 1, phase, off, mirror }, px, py);
      const [x, y] = mappings[k]!(home.x - px, home.y - py);
      return { x, y, height: (wavelength * home.waves) / 2 };
    });
  };
  const asDesigned = traced({}, STILL);
  return (off, motion) =>
    traced(off, motion).map(({ x, y, height }, k) => ({ x, y, height: height - asDesigned[k]!.height }));
}

function phaseOf(
  { glass, focus, wavelength }: Bench,
  standing: Standing,
  points: readonly { readonly x: number; readonly y: number }[],
): Phase {
  const sheet = movedSheet(standing, STILL);
  const [cx, cy] = [standing.origin[0] + standing.vertex[0], standing.origin[1] + standing.vertex[1]];
  const heights = points.map(({ x, y }) => Math.hypot(x, y));
  const [least, most] = [0.9 * Math.min(...heights), 1.1 * Math.max(...heights)];
  const rows = Array.from({ length: SAMPLES }, (_, k) => {
    const h = least + ((most - least) * (1 - Math.cos((Math.PI * (k + 0.5)) / SAMPLES))) / 2;
    const { on, path } = followedBack(sheet, h, 0, glass);
    return { r: on[0] - cx, leaving: -path };
  });
  const [low, high] = [Math.min(...rows.map(({ r }) => r * r)), Math.max(...rows.map(({ r }) => r * r))];
  const scaled = (square: number): number => (2 * square - low - high) / (high - low);
  const coefficients = fitted(
    rows.map(({ r }) => Array.from({ length: TERMS }, (_, k) => scaled(r * r) ** k)),
    rows.map(({ leaving }) => leaving),
  );
  const arriving = (x: number, y: number): number => Math.sign(-focus[2]) * size(minus([x, y, 0], focus));
  return {
    value: (x, y) => {
      const t = scaled((x - cx) ** 2 + (y - cy) ** 2);
      const leaving = coefficients.reduceRight((sum, coefficient) => sum * t + coefficient, 0);
      return (leaving - arriving(x, y)) / wavelength;
    },
    slope: (x, y) => {
      const t = scaled((x - cx) ** 2 + (y - cy) ** 2);
      const by = coefficients.reduce((sum, c, k) => (k === 0 ? 0 : sum + k * c * t ** (k - 1)), 0);
      const turn = (4 * by) / (high - low);
      const path = arriving(x, y);
      return [
        (turn * (x - cx) - (x - focus[0]) / path) / wavelength,
        (turn * (y - cy) - (y - focus[1]) / path) / wavelength,
      ];
    },
  };
}
