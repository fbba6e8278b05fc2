/**
 * Phases per second on one core, a million points a call, beside numpy computing the same line focus without glass in the same
 * run (printed first; skipped with a word where numpy is missing).
 */
import { spawnSync } from 'node:child_process';
import { bench, describe } from 'vitest';
import { makePatch, type PatchRecipe } from './support/make-patch.ts';

const COUNT = 1_000_000;
const xs = Float64Array.from({ length: COUNT }, (_, k) => (k % 1000) / 100 - 5);
const ys = Float64Array.from({ length: COUNT }, (_, k) => 55 + Math.floor(k / 1000) / 100);
const out = new Float64Array(COUNT);

const line: PatchRecipe = {
  at: [30, 250, 2800],
  centre: [0, 60],
  outline: { shape: 'rectangle', centre: [0, 60], width: 10, height: 10, rotation: 0 },
  lineAngle: 0.3,
};
const point: PatchRecipe = { ...line, at: [0, 90, 130], kind: 'ball', diameter: 12.7 };
delete (point as { lineAngle?: number }).lineAngle;
const glass = { name: 'x', index: 1.457, thickness: 6.35, side: 'after' } as const;

const NUMPY = `
import time, numpy as np
n = ${COUNT}
k = np.arange(n); x = (k % 1000) / 100 - 5; y = 55 + (k // 1000) / 100
A = np.array([30.0, 250.0, 2800.0]); l = np.array([0.955, 0.296, -0.0305]); l /= np.sqrt(l @ l)
def phases():
    dx, dy, dz = A[0] - x, A[1] - y, A[2]
    run = dx * l[0] + dy * l[1] + dz * l[2]
    return (-np.sqrt(dx * dx + dy * dy + dz * dz - run * run) - np.sqrt(x * x + y * y + 250000.0)) / 632.8e-6
phases(); t = time.perf_counter()
for _ in range(10): phases()
print(round(10 * n / (time.perf_counter() - t) / 1e6, 1))
`;
const numpy = spawnSync('/usr/bin/python3', ['-c', NUMPY], {
  encoding: 'utf8',
  env: { OMP_NUM_THREADS: '1' },
});
console.log(
  numpy.status === 0
    ? `numpy: ${numpy.stdout.trim()} million phases a second`
    : 'numpy is not there: not compared',
);

describe('a million phases', () => {
  const cases = {
    'line focus, no glass': makePatch(line),
    'line focus, glass after': makePatch({ ...line, glass }),
    'point focus, no glass': makePatch(point),
    'point focus, glass after': makePatch({ ...point, glass }),
  };
  for (const [name, patch] of Object.entries(cases)) {
    bench(name, () => {
      patch.phase.phases(xs, ys, out);
    });
  }
});
