/** The normal matrix of a patch's fit, summed row by row of its pixels, against value by value with derivatives by central differences. */
import { expect, test } from 'vitest';
import { assemble, type FitPixels, residualsOf } from '../../../src/metrology/frame/fringe-model.ts';
import { NormalMatrix } from '../../../src/metrology/frame/normal-matrix.ts';
import { deviates } from '../../independent/random.ts';

/** Waves, and parts of full scale: the error of a central difference is its square, and rounding over it. */
const STEP = 1e-5;
const ACCURACY = 1e-7;

/** Rows of unlike lengths, one pixel in seven left out; bright enough for some values to be clipped. */
function patch(frames: number, shapeCount: number): FitPixels {
  const { uniform } = deviates(3);
  const places = Array.from({ length: 12 }, (_, row) =>
    Array.from({ length: 4 + ((5 * row) % 9) }, (_, column) => [column / 6 - 1, row / 6 - 1] as const),
  ).flat();
  const each = (of: (u: number, v: number) => number): Float64Array =>
    Float64Array.from(places, ([u, v]) => of(u, v));
  return {
    count: places.length,
    values: Array.from({ length: frames }, () => each(() => uniform())),
    u: each((u) => u),
    v: each((_, v) => v),
    waves: each((u, v) => 1.3 * u - 0.7 * v + 0.2 * u * u),
    shapes: [each((u) => u), each((_, v) => v), each((u, v) => u * u + v * v)].slice(0, shapeCount),
    expected: [],
    spread: [],
    contrast: each((u) => 0.9 + 0.05 * u),
    used: Uint8Array.from(places, (_, i) => (i % 7 === 3 ? 0 : 1)),
    clipped: 0.05,
  };
}

test.each([
  [1, 1],
  [1, 3],
  [4, 2],
])('%i frames, %i shapes: JᵀJ, Jᵀr and the squares are those of all used values', (frames, shapeCount) => {
  const pixels = patch(frames, shapeCount);
  const { uniform } = deviates(8);
  const x = Float64Array.from({ length: shapeCount + frames + 12 }, () => 0.3 * (uniform() - 0.5));
  x[shapeCount + frames] = 0.7;
  x[shapeCount + frames + 6] = 0.4;
  const left = residualsOf(pixels, { x });
  const slopes = Array.from(x, (_, k) => {
    const [up, down] = [STEP, -STEP].map((by) =>
      residualsOf(pixels, { x: x.map((value, n) => (n === k ? value + by : value)) }),
    );
    return left.map((each, f) => each.map((_, i) => (down![f]![i]! - up![f]![i]!) / (2 * STEP)));
  });
  const plain = new NormalMatrix(x.length);
  let squares = 0;
  left.forEach((each, f) => {
    each.forEach((own, i) => {
      if (pixels.used[i] === 0) return;
      plain.add(
        Float64Array.from(slopes, (slope) => slope[f]![i]!),
        own,
      );
      squares += own * own;
    });
  });
  const summed = new NormalMatrix(x.length);
  expect(assemble(pixels, x, summed)).toBeCloseTo(squares, 10);
  const scale = Math.max(...plain.matrix.map(Math.abs));
  for (const [own, other] of [
    [summed.matrix, plain.matrix],
    [summed.vector, plain.vector],
  ] as const)
    other.forEach((value, at) => {
      expect(Math.abs(own[at]! - value)).toBeLessThan(ACCURACY * scale);
    });
});
