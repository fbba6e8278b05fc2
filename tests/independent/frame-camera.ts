/**
 * Where a camera's pixel looks on the pattern: turned and mirrored as a viewer shows it (camera-seen.ts says so of whole pictures), misplaced,
 * with a radial distortion. mm on the pattern, pixels; the middle of the first pixel, top left, is column 0, row 0. Shares no code with src/.
 */
import type { Turn } from './camera-seen.ts';

export interface FrameCamera {
  readonly width: number;
  readonly height: number;
  readonly turn: Turn;
  /** The beam's circle on the pattern, which spans the frame's smaller side. */
  readonly beam: { readonly centre: readonly [number, number]; readonly diameter: number };
  /** Of the picture from the frame's middle, columns and rows. */
  readonly off?: readonly [number, number];
  /** The picture over its right size, less 1. */
  readonly growth?: number;
  /** Part of the radius by which the middle is shrunk toward the axis against the beam's edge: r goes to r (1 + d (r² − 1)), the edge at 1. */
  readonly distortion?: number;
}

/** The place on the pattern that [column, row] shows, fractions and all. */
export function placeSeen(camera: FrameCamera): (column: number, row: number) => readonly [number, number] {
  const { width, height, turn, beam, off = [0, 0], growth = 0, distortion = 0 } = camera;
  const half = Math.min(width, height) / 2;
  const size = beam.diameter / 2;
  const isFlipped = (turn.view === 'part') !== turn.mirrored;
  return (column, row) => {
    let right = (column - (width - 1) / 2 - off[0]) / (half * (1 + growth));
    let up = ((height - 1) / 2 - row + off[1]) / (half * (1 + growth));
    const shrunk = undistorted(Math.hypot(right, up), distortion);
    [right, up] = [right * shrunk, up * shrunk];
    // A clockwise quarter turn takes (right, up) to (up, −right): undone one by one.
    for (let turned = 0; turned < turn.turned; turned += 90) [right, up] = [-up, right];
    // From the interferometer x runs to the left.
    const x = isFlipped ? right : -right;
    return [beam.centre[0] + size * x, beam.centre[1] + size * up];
  };
}

/** True radius over the radius seen. */
function undistorted(seen: number, d: number): number {
  if (d === 0) return 1;
  let true_ = seen;
  for (let step = 0; step < 6; step++)
    true_ -= (true_ * (1 + d * (true_ * true_ - 1)) - seen) / (1 - d + 3 * d * true_ * true_);
  return seen === 0 ? 1 / (1 - d) : true_ / seen;
}

/** [column, row] at which a place is seen: the other way round, by Newton's method. */
export function pixelSeen(camera: FrameCamera): (x: number, y: number) => readonly [number, number] {
  const seen = placeSeen(camera);
  return (x, y) => {
    let [column, row] = [camera.width / 2, camera.height / 2];
    for (let step = 0; step < 20; step++) {
      const [px, py] = seen(column, row);
      const [ax, ay] = seen(column + 0.5, row);
      const [bx, by] = seen(column, row + 0.5);
      const [xc, yc, xr, yr] = [2 * (ax - px), 2 * (ay - py), 2 * (bx - px), 2 * (by - py)];
      const size = xc * yr - xr * yc;
      const [dx, dy] = [x - px, y - py];
      column += (dx * yr - xr * dy) / size;
      row += (xc * dy - yc * dx) / size;
      if (Math.hypot(dx, dy) < 1e-9) break;
    }
    return [column, row];
  };
}
