/**
 * What a camera's frame looks like where only the outlines matter: each lit region with its own fringes against a surround, seen through a
 * camera that shifts, scales, turns, mirrors and distorts, with uneven light, dust and noise, in 8 bits. Shares no code with src/.
 *
 * A place on the pattern (mm) goes to the screen in steps: as seen from the interferometer x runs to the left and y up; the picture is
 * mirrored and turned by quarters; the camera distorts radially about a point of its own, then scales, turns and shifts.
 */
import type { Point, Shape } from './outline-points.ts';
import { deviates } from './random.ts';

export interface LitRegion {
  readonly shape: Shape;
  /** Fringes across half the beam's diameter along x and y; the mean intensity and its amplitude. An amplitude and mean of the surround's: dark. */
  readonly fringes: readonly [number, number];
  readonly phase: number;
  readonly mean: number;
  readonly amplitude: number;
}

export interface Screen {
  readonly width: number;
  readonly height: number;
  /** Middle and half diameter of the beam's circle on the pattern, mm. */
  readonly beam: { readonly centre: readonly [number, number]; readonly radius: number };
  readonly mirrored: boolean;
  /** Degrees, clockwise. */
  readonly turned: number;
  /** Where the beam's middle comes to be without distortion, from the frame's; pixels. */
  readonly shift: readonly [number, number];
  /** Against the beam's circle filling the smaller side. */
  readonly scale: number;
  /** Degrees, clockwise. */
  readonly tilt: number;
  /** At the rim of the circle, a part of its radius; positive for a pincushion. About the frame's middle. */
  readonly distortion: number;
}

/** [column, row] of a place. */
export function onScreen(screen: Screen, [x, y]: readonly [number, number]): [number, number] {
  const { width, height, beam, mirrored, turned, shift, scale, tilt, distortion } = screen;
  const half = Math.min(width, height) / 2;
  let [right, down] = [-(x - beam.centre[0]) / beam.radius, -(y - beam.centre[1]) / beam.radius];
  if (mirrored) right = -right;
  for (let turn = 0; turn < turned; turn += 90) [right, down] = [-down, right];
  const angle = (tilt * Math.PI) / 180;
  const [c, s] = [Math.cos(angle), Math.sin(angle)];
  const column = scale * (right * c - down * s) + shift[0] / half;
  const row = scale * (right * s + down * c) + shift[1] / half;
  const stretch = 1 + distortion * (column ** 2 + row ** 2);
  return [(width - 1) / 2 + half * column * stretch, (height - 1) / 2 + half * row * stretch];
}

/** The place that a pixel sees: the steps undone; written to `out`. */
function patternSeen(screen: Screen): (column: number, row: number, out: Float64Array) => void {
  const { width, height, beam, mirrored, turned, shift, scale, tilt, distortion } = screen;
  const half = Math.min(width, height) / 2;
  const angle = (tilt * Math.PI) / 180;
  const [c, s] = [Math.cos(angle), Math.sin(angle)];
  return (column, row, out) => {
    const seenX = (column - (width - 1) / 2) / half;
    const seenY = (row - (height - 1) / 2) / half;
    const seen = distortion * (seenX * seenX + seenY * seenY);
    let stretch = 1 + seen;
    // Newton's method for stretch³ = stretch² + seen.
    for (let k = 0; k < 4; k++)
      stretch -= (stretch * stretch * (stretch - 1) - seen) / (stretch * (3 * stretch - 2));
    const fromX = (seenX / stretch - shift[0] / half) / scale;
    const fromY = (seenY / stretch - shift[1] / half) / scale;
    let right = fromX * c + fromY * s;
    let down = fromY * c - fromX * s;
    for (let turn = 0; turn < turned; turn += 90) {
      const before = right;
      right = down;
      down = -before;
    }
    if (mirrored) right = -right;
    out[0] = beam.centre[0] - beam.radius * right;
    out[1] = beam.centre[1] - beam.radius * down;
  };
}

export interface Faults {
  readonly surround: number;
  /** Loss of light from the middle to the corner, and from left to right; parts of the light. */
  readonly vignetting: number;
  readonly uneven: number;
  /** Specks, each a dark spot of a few pixels. */
  readonly dust: number;
  /** Of a pixel, part of full scale: Gaussian, and shot noise where all is full. */
  readonly noise: number;
  readonly shot: number;
  readonly seed: number;
}

/** Each pixel the mean of 3 × 3 points, 8 bits as parts of full scale, rows from the top. */
export function outlinedFrame(screen: Screen, regions: readonly LitRegion[], faults: Faults): Float32Array {
  const { width, height, beam } = screen;
  const { uniform, normal } = deviates(faults.seed);
  const light = new Float32Array(width * height).fill(faults.surround);
  const place = new Float64Array(2);
  const placeOf = patternSeen(screen);
  for (const region of regions) {
    const { fringes, phase, mean, amplitude } = region;
    const test = insideOf(region.shape);
    const litAt = (column: number, row: number): boolean => {
      placeOf(column, row, place);
      const x = place[0]! - beam.centre[0];
      const y = place[1]! - beam.centre[1];
      return x * x + y * y < beam.radius * beam.radius && test(place[0]!, place[1]!);
    };
    const [left, right, top, bottom] = boxOnScreen(screen, region.shape);
    const [first, last] = [Math.max(0, left), Math.min(width - 1, right)];
    const cornersOf = (row: number): boolean[] =>
      Array.from({ length: Math.max(0, last - first + 2) }, (_, k) => litAt(first + k - 0.5, row - 0.5));
    let above = cornersOf(Math.max(0, top));
    for (let row = Math.max(0, top); row <= Math.min(height - 1, bottom); row++) {
      const below = cornersOf(row + 1);
      for (let column = first; column <= last; column++) {
        const k = column - first;
        const lit = Number(above[k]) + Number(above[k + 1]) + Number(below[k]) + Number(below[k + 1]);
        if (lit === 0) continue;
        // A grid of points where the edge crosses the pixel, its middle elsewhere.
        const side = lit === 4 ? 1 : 3;
        const middle = (side - 1) / 2;
        let sum = 0;
        let count = 0;
        for (let point = 0; point < side * side; point++) {
          const i = ((point % side) - middle) / side;
          const j = (Math.floor(point / side) - middle) / side;
          if (!litAt(column + i, row + j)) continue;
          const x = place[0]! - beam.centre[0];
          const y = place[1]! - beam.centre[1];
          const turns = (fringes[0] * x + fringes[1] * y) / beam.radius + phase;
          sum += mean + amplitude * Math.cos(2 * Math.PI * turns);
          count++;
        }
        light[row * width + column]! += (sum - count * faults.surround) / side ** 2;
      }
      above = below;
    }
  }
  const specks = Array.from({ length: faults.dust }, () => [
    uniform() * width,
    uniform() * height,
    1 + 3 * uniform(),
  ]);
  for (const [x, y, size] of specks as [number, number, number][])
    for (let row = Math.max(0, Math.floor(y - 2 * size)); row < Math.min(height, y + 2 * size); row++)
      for (
        let column = Math.max(0, Math.floor(x - 2 * size));
        column < Math.min(width, x + 2 * size);
        column++
      )
        light[row * width + column]! *= 1 - 0.8 * Math.exp(-((column - x) ** 2 + (row - y) ** 2) / size ** 2);
  for (let row = 0; row < height; row++)
    for (let column = 0; column < width; column++) {
      const at = row * width + column;
      const x = (2 * column) / width - 1;
      const y = (2 * row) / height - 1;
      const level =
        light[at]! * (1 - (faults.vignetting * (x * x + y * y)) / 2) * (1 + (faults.uneven * x) / 2);
      const variance = faults.noise ** 2 + faults.shot ** 2 * Math.max(0, level);
      const noisy = level + Math.sqrt(variance) * normal();
      light[at] = Math.round(255 * Math.min(1, Math.max(0, noisy))) / 255;
    }
  return light;
}

function insideOf(shape: Shape): (x: number, y: number) => boolean {
  if (shape.shape === 'polygon') return insideOfConvex(shape.points);
  const [cx, cy] = shape.centre;
  if (shape.shape === 'circle') return (x, y) => (x - cx) ** 2 + (y - cy) ** 2 < shape.radius ** 2;
  if (shape.shape === 'rectangle' || shape.shape === 'ellipse') {
    const [c, s] = [Math.cos(shape.rotation), Math.sin(shape.rotation)];
    return (x, y) => {
      const u = ((x - cx) * c + (y - cy) * s) / (shape.width / 2);
      const v = ((y - cy) * c - (x - cx) * s) / (shape.height / 2);
      return shape.shape === 'ellipse' ? u * u + v * v < 1 : Math.abs(u) < 1 && Math.abs(v) < 1;
    };
  }
  const { inner, outer } = shape;
  const isBetween = (x: number, y: number): boolean => {
    const square = (x - cx) ** 2 + (y - cy) ** 2;
    return square >= inner * inner && square <= outer * outer;
  };
  if (shape.shape === 'ring') return isBetween;
  const [from, sweep] = [shape.from, shape.to - shape.from];
  return (x, y) => {
    if (!isBetween(x, y)) return false;
    const turn = 2 * Math.PI;
    return (((Math.atan2(y - cy, x - cx) - from) % turn) + turn) % turn < sweep;
  };
}

/** By the distance of the edge in each of many directions from the middle. */
function insideOfConvex(points: readonly Point[]): (x: number, y: number) => boolean {
  const middle = [0, 1].map((k) => points.reduce((sum, point) => sum + point[k]!, 0) / points.length) as [
    number,
    number,
  ];
  const reach = Float64Array.from({ length: DIRECTIONS + 1 }, (_, k) => {
    const angle = (2 * Math.PI * k) / DIRECTIONS;
    const [c, s] = [Math.cos(angle), Math.sin(angle)];
    // Each side of a convex outline bounds it along the direction.
    return Math.min(
      ...points.map(([px, py], i) => {
        const [qx, qy] = points[(i + 1) % points.length]!;
        const [nx, ny] = [qy - py, px - qx];
        const along = nx * c + ny * s;
        return along > 0 ? (nx * (px - middle[0]) + ny * (py - middle[1])) / along : Number.POSITIVE_INFINITY;
      }),
    );
  });
  return (x, y) => {
    const dx = x - middle[0];
    const dy = y - middle[1];
    const turn = ((Math.atan2(dy, dx) / (2 * Math.PI) + 1) % 1) * DIRECTIONS;
    const before = Math.floor(turn);
    const edge = reach[before]! + (turn - before) * (reach[before + 1]! - reach[before]!);
    return dx * dx + dy * dy < edge * edge;
  };
}

const DIRECTIONS = 2048;

/** Columns and rows that a shape may reach: those of the corners of its box, with room for what distortion bends. */
function boxOnScreen(screen: Screen, shape: Shape): readonly [number, number, number, number] {
  const points =
    shape.shape === 'polygon'
      ? shape.points
      : [0, 1, 2, 3, 4, 5, 6, 7].map((k): readonly [number, number] => {
          const reach =
            shape.shape === 'circle'
              ? shape.radius
              : shape.shape === 'rectangle' || shape.shape === 'ellipse'
                ? Math.hypot(shape.width, shape.height) / 2
                : shape.outer;
          const angle = (k * Math.PI) / 4;
          const far = 1.1 * reach;
          return [shape.centre[0] + far * Math.cos(angle), shape.centre[1] + far * Math.sin(angle)];
        });
  const seen = points.map((point) => onScreen(screen, point));
  const [columns, rows] = [seen.map(([column]) => column), seen.map(([, row]) => row)];
  const room = 6;
  return [
    Math.floor(Math.min(...columns)) - room,
    Math.ceil(Math.max(...columns)) + room,
    Math.floor(Math.min(...rows)) - room,
    Math.ceil(Math.max(...rows)) + room,
  ];
}
