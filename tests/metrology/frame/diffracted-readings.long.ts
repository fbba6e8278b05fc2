/**
 * Some two hundred and fifty patches of several benches by scalar diffraction, Fresnel numbers from 2 to 60: the uncertainties that are
 * stated cover what waves do to readings that are fitted by rays. Fringes, standard uncertainties.
 */
import { describe, expect, it } from 'vitest';
import { deviates } from '../../independent/random.ts';
import { exampleOf } from './scene.ts';
import { readDiffracted } from './support/diffracted.ts';
import { flat, type Judged } from './support/judged.ts';
import { goodOf } from './support/read-taken.ts';
import { ballScene, lineScene } from './support/scenes.ts';

const BENCHES = {
  line: () => [
    exampleOf('converging-retroreflectors'),
    exampleOf('off-axis-asphere'),
    exampleOf('steer-mirror-on-stage'),
    lineScene(deviates(51), 15).design,
  ],
  ball: () => [
    exampleOf('diverging-balls'),
    exampleOf('infrared-collimated'),
    ballScene(deviates(52), 15).design,
  ],
} as const;
const TAKEN = [
  { seed: 'a', off: 0.5, size: 40 },
  { seed: 'b', off: 2, size: 40 },
  { seed: 'c', off: 2.5, size: 60 },
  { seed: 'd', off: 1, size: 60 },
];

const readAll = (kind: keyof typeof BENCHES): readonly Judged[] =>
  BENCHES[kind]()
    .flatMap((design) =>
      design.patches.flatMap((patch) => TAKEN.flatMap((taken) => readDiffracted(design, patch, taken) ?? [])),
    )
    .filter((one) => one.kind === kind);

describe.each([
  ['line', 120, 0.95, 0],
  // Nearly aligned ones without a bias show the rings of their edges, no fringes: they say so.
  ['ball', 60, 0.7, 0.01],
] as const)('patches of the kind %s, by waves', (kind, fewest, read, far) => {
  const all = readAll(kind);
  const good = goodOf(all);
  const over = flat(good, 'over').map(Math.abs);

  it('are read for the most part, within twice the stated uncertainty in 95 of 100', () => {
    expect(all.length).toBeGreaterThan(fewest);
    expect(good.length).toBeGreaterThan(read * all.length);
    expect(over.filter((each) => each < 2).length).toBeGreaterThan(0.95 * over.length);
  });
  it('are hardly ever farther off than four', () => {
    expect(good.filter((one) => one.over.some((each) => Math.abs(each!) > 4)).length).toBeLessThanOrEqual(
      far * all.length,
    );
    expect(good.filter(({ isReversed }) => isReversed)).toEqual([]);
  });
});
