/**
 * One ray of a null test, there and back, the plain way: from the beam through the glass by Snell's law, over the pattern by the grating
 * equation with difference quotients of a phase, to the surface, mirrored there, and all the way home. mm, unit vectors. Shares no code
 * with src/. Source of the pattern's part: W. T. Welford, *Aberrations of Optical Systems*, ch. 5, from memory.
 */
import type { Place } from './fermat.ts';
import { dot, fromCosines, minus, normed, refract, size, toPlane, type Vector } from './ray.ts';
import { type Sheet, squareOn } from './surface-sheets.ts';

interface Glass {
  readonly thickness: number;
  readonly index: number;
}

export interface NullBench {
  /** Undefined: collimated along +z. */
  readonly focus: Place | undefined;
  readonly before?: Glass | undefined;
  readonly after?: Glass | undefined;
  readonly order: number;
  readonly wavelength: number;
  /** Waves at order 1. */
  readonly phase: (x: number, y: number) => number;
  readonly sheet: Sheet;
}

const STEP = 0.02;
/** Of the fourth order. */
const slope = (f: (h: number) => number): number =>
  (8 * (f(STEP) - f(-STEP)) - (f(2 * STEP) - f(-2 * STEP))) / (12 * STEP);
const along = (from: Vector, ray: Vector, way: number): Vector => [
  from[0] + way * ray[0],
  from[1] + way * ray[1],
  from[2] + way * ray[2],
];
const back = (ray: Vector): Vector => [-ray[0], -ray[1], -ray[2]];

/** Lateral cosines of the beam's ray that meets the pattern at (x, y), by aiming until it does. */
function arriving({ focus, before }: NullBench, x: number, y: number): readonly [number, number] {
  if (focus === undefined) return [0, 0];
  const depth = before?.thickness ?? 0;
  const sign = focus[2] < 0 ? 1 : -1;
  let aim: Vector = [x, y, -depth];
  for (let turn = 0; turn < 60; turn++) {
    const ray = normed(minus(aim, focus).map((part) => part * sign) as unknown as Vector);
    if (before === undefined) return [ray[0], ray[1]];
    const { at } = toPlane(aim, refract(ray, 1, before.index), 0);
    const [ex, ey] = [x - at[0], y - at[1]];
    if (Math.hypot(ex, ey) < 1e-13) return [ray[0], ray[1]];
    aim = [aim[0] + ex, aim[1] + ey, -depth];
  }
  throw new Error('no ray arrives');
}

/** mm: a ten-thousandth of a microradian of any of the normals. */
const SETTLED = 1e-9;

/** Where a ray meets the sheet, in its own x and y from a guess: the point over (x, y) comes to lie on the ray. */
function meets(sheet: Sheet, from: Vector, ray: Vector, guess: readonly [number, number]): [number, number] {
  const aside = normed(Math.abs(ray[0]) < 0.9 ? [0, ray[2], -ray[1]] : [ray[1], -ray[0], 0]);
  const other: Vector = [
    ray[1] * aside[2] - ray[2] * aside[1],
    ray[2] * aside[0] - ray[0] * aside[2],
    ray[0] * aside[1] - ray[1] * aside[0],
  ];
  const miss = (x: number, y: number): readonly [number, number] => {
    const off = minus(sheet.toSubstrate([x, y, sheet.height(x, y)]), from);
    return [dot(off, aside), dot(off, other)];
  };
  let [x, y] = guess;
  for (let turn = 0; turn < 30; turn++) {
    const h = 1e-3;
    const [e, f] = miss(x, y);
    const [right, left, up, down] = [miss(x + h, y), miss(x - h, y), miss(x, y + h), miss(x, y - h)];
    const [a, c] = [(right[0] - left[0]) / (2 * h), (right[1] - left[1]) / (2 * h)];
    const [b, d] = [(up[0] - down[0]) / (2 * h), (up[1] - down[1]) / (2 * h)];
    const [dx, dy] = [(d * e - b * f) / (a * d - b * c), (a * f - c * e) / (a * d - b * c)];
    [x, y] = [x - dx, y - dy];
    if (Math.hypot(dx, dy) < SETTLED) return [x, y];
  }
  throw new Error('the ray meets no surface');
}

export interface NullRay {
  /** On the surface, by its own x and y. */
  readonly on: readonly [number, number];
  /** Sine of the angle between the ray and the surface's normal. */
  readonly aslant: number;
  /** How far from where it left does the ray come back to the pattern, mm. */
  readonly aside: number;
  /** Sine of the angle between the ray home, before the glass and the pattern, and the way to the source from there. */
  readonly astray: number;
}

/** The ray that crosses the pattern at (x, y); `guess` is near where it meets the surface. */
export function nullRay(bench: NullBench, x: number, y: number, guess: readonly [number, number]): NullRay {
  const { after, before, focus, order, wavelength, phase, sheet } = bench;
  const grating = (px: number, py: number): readonly [number, number] => [
    order * wavelength * slope((h) => phase(px + h, py)),
    order * wavelength * slope((h) => phase(px, py + h)),
  ];
  const [ix, iy] = arriving(bench, x, y);
  const [gx, gy] = grating(x, y);
  const inside = fromCosines(ix + gx, iy + gy, after?.index ?? 1);
  const exit = after === undefined ? ([x, y, 0] as const) : toPlane([x, y, 0], inside, after.thickness).at;
  const ray = after === undefined ? inside : refract(inside, after.index, 1);

  const on = meets(sheet, exit, ray, guess);
  const { at, back: normal } = squareOn(sheet, ...on);
  const mirrored = normed(along(ray, normal, -2 * dot(ray, normal)));
  const face = toPlane(at, mirrored, after?.thickness ?? 0).at;
  const home = after === undefined ? mirrored : refract(mirrored, 1, after.index);
  const here = toPlane(face, home, 0).at;
  // A ray that goes backward: its own cosines change by the same term.
  const index = after?.index ?? 1;
  const [bx, by] = grating(here[0], here[1]);
  const leaving = back(fromCosines(-(index * home[0] + bx), -(index * home[1] + by), before?.index ?? 1));
  const last = before === undefined ? here : toPlane(here, leaving, -before.thickness).at;
  const out = before === undefined ? leaving : refract(leaving, before.index, 1);
  const source = focus === undefined ? ([0, 0, -1] as const) : normed(minus(focus, last));
  return {
    on,
    aslant: size(cross(ray, normal)),
    aside: Math.hypot(here[0] - x, here[1] - y),
    astray: size(cross(out, source)),
  };
}

const cross = (a: Vector, b: Vector): Vector => [
  a[1] * b[2] - a[2] * b[1],
  a[2] * b[0] - a[0] * b[2],
  a[0] * b[1] - a[1] * b[0],
];
