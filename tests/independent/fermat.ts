/**
 * Optical paths by brute force, to test the closed forms against: the crossing point Q of the glass's outer face is found by
 * Newton's method in its two coordinates, with difference quotients for the derivatives, from the definition of the path alone.
 * mm. Shares no code and no parametrisation with src/optics.
 */
export type Place = readonly [number, number, number];

const between = (a: Place, b: Place): number => Math.hypot(a[0] - b[0], a[1] - b[1], a[2] - b[2]);

/** Distance of a point from the line through `on` along the unit vector `along`. */
export function toLine(from: Place, on: Place, along: Place): number {
  const d = [0, 1, 2].map((k) => from[k] - on[k]);
  const run = d[0] * along[0] + d[1] * along[1] + d[2] * along[2];
  return Math.hypot(d[0] - run * along[0], d[1] - run * along[1], d[2] - run * along[2]);
}

/** ±|Q − F| + n|P − Q| made stationary over Q in the face z = −t: sign −1 for a wave that converges to F. */
export const pathThroughEntry = (
  focus: Place,
  sign: 1 | -1,
  at: Place,
  thickness: number,
  index: number,
): number =>
  stationary([at[0], at[1]], (x, y) => {
    const q: Place = [x, y, -thickness];
    return sign * between(q, focus) + index * between(at, q);
  }).path;

/** (path in air to Q) + n|P − Q| made stationary over Q in the face z = −t, for a wave that is no sphere. */
export const pathFromEntry = (
  at: Place,
  thickness: number,
  index: number,
  inAir: (q: Place) => number,
): number =>
  stationary([at[0], at[1]], (x, y) => {
    const q: Place = [x, y, -thickness];
    return inAir(q) + index * between(at, q);
  }).path;

/** n|P − Q| + (path in air from Q) made stationary over Q in the face z = t. */
export const pathThroughExit = (
  at: Place,
  thickness: number,
  index: number,
  inAir: (q: Place) => number,
): number => crossingOfExit(at, thickness, index, inAir).path;

/** The same, with the point Q through which the light goes. */
export function crossingOfExit(
  at: Place,
  thickness: number,
  index: number,
  inAir: (q: Place) => number,
): { readonly path: number; readonly through: Place } {
  const whole = (qx: number, qy: number): number => {
    const q: Place = [qx, qy, thickness];
    return index * between(at, q) + inAir(q);
  };
  let { path, x, y } = stationary([at[0], at[1]], whole);
  if (Number.isNaN(path)) {
    // From an axis about which all is round, rays leave all round: one of them in +x, if it is one.
    const along = stationary([at[0] + BESIDE, at[1]], (qx, qy) => whole(qx, at[1]) + (qy - at[1]) ** 2);
    x = along.x;
    y = along.y;
    path = isLevel(whole, x, y) ? along.path : Number.NaN;
  }
  return { path, through: [x, y, thickness] };
}

/** Step of the difference quotients, mm: fourth-order ones, so that the gradient is right to about 1e-12. */
const STEP = 2e-2;

/** mm. */
const BESIDE = 1;

/** Of the slope at the end of a search, without dimension: where it is more, the path bends sharply there (a kink) and is stationary nowhere near. */
const LEVEL = 1e-6;
/** Of how much the slope changes over the finer step: smooth paths of a bench change by a tenth of it. */
const KINK = 0.02;

/**
 * A path over two coordinates, both in mm, made stationary from a start that is near enough for Newton's method. The path is NaN where
 * the search ends at a kink: a step finer than that of the search tells.
 */
export function stationary(
  start: readonly [number, number],
  path: (x: number, y: number) => number,
): { readonly path: number; readonly x: number; readonly y: number } {
  let [x, y] = start;
  for (let turn = 0; turn < 30; turn++) {
    const gx = slope((h) => path(x + h, y));
    const gy = slope((h) => path(x, y + h));
    const xx = bend((h) => path(x + h, y));
    const yy = bend((h) => path(x, y + h));
    const xy =
      (path(x + STEP, y + STEP) -
        path(x + STEP, y - STEP) -
        path(x - STEP, y + STEP) +
        path(x - STEP, y - STEP)) /
      (4 * STEP * STEP);
    const det = xx * yy - xy * xy;
    const dx = (yy * gx - xy * gy) / det;
    const dy = (xx * gy - xy * gx) / det;
    x -= dx;
    y -= dy;
    if (Math.hypot(dx, dy) < 1e-8) break;
  }
  return { path: isLevel(path, x, y) ? path(x, y) : Number.NaN, x, y };
}

function isLevel(path: (x: number, y: number) => number, x: number, y: number): boolean {
  const fine = STEP / 16;
  return [(h: number) => path(x + h, y), (h: number) => path(x, y + h)].every(
    (f) => Math.abs(slope(f, fine)) < LEVEL && Math.abs(f(fine) - 2 * f(0) + f(-fine)) < KINK * fine,
  );
}

const slope = (f: (h: number) => number, step = STEP): number =>
  (8 * (f(step) - f(-step)) - (f(2 * step) - f(-2 * step))) / (12 * step);
const bend = (f: (h: number) => number): number => (f(STEP) - 2 * f(0) + f(-STEP)) / (STEP * STEP);
