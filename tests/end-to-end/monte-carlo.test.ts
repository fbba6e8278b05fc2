/**
 * The Monte Carlo beside each budget in a report: it agrees with the linear figures within its own sampling error, and does so whatever its
 * seed, which is made of the reference's name. A cause that is drawn wrongly, or a spread that hangs on one seed, shows in one of eight names.
 */
import { expect, test } from 'vitest';
import { reportOf } from './support/command.ts';

interface Budget {
  readonly combined: Readonly<Record<string, number | null>>;
  readonly simulated: Readonly<
    Record<string, { readonly sigma: number; readonly samplingError: number } | null>
  >;
  readonly trials: number;
}

const NAMES = ['north', 'n', 'r-2', 'east', 'SMR1', 'tower', 'a', 'west-3'];

/** One cube seen by three patches that hold its x, y and z. */
const budgets = Promise.all(
  NAMES.map(async (name) => {
    const { references } = await reportOf<{ references: readonly { readonly budget_um: Budget }[] }>({
      references: [{ id: name, kind: 'smr', diameter: 38.1, at: [30, 60, 900], centring: '30 um' }],
      patches: [
        [60, 0, 90],
        [-60, 0, 90],
        [0, 60, 0],
      ].map(([x, y, lineAngle], k) => ({
        id: `p${k}`,
        reference: name,
        focus: 'line',
        centre: [x, y],
        lineAngle,
        outline: { rectangle: { width: 10, height: 10 } },
      })),
    });
    return references[0]!.budget_um;
  }),
);

test('the linear figures do not hang on a name, the draws do', async () => {
  const [first, ...others] = await budgets;
  for (const { combined, simulated } of others) {
    expect(combined).toEqual(first!.combined);
    expect(simulated).not.toEqual(first!.simulated);
  }
});

test.each(['x', 'y', 'z'])('%s: every seed agrees with the linear figure, and all together', async (axis) => {
  let sum = 0;
  for (const { combined, simulated, trials } of await budgets) {
    const { sigma, samplingError } = simulated[axis]!;
    const off = (sigma - combined[axis]!) / samplingError;
    expect(Math.abs(off)).toBeLessThan(4);
    // 1/√(2n) of a normal spread, less of a rectangular one.
    expect(samplingError / sigma).toBeGreaterThan(0.5 / Math.sqrt(2 * trials));
    expect(samplingError / sigma).toBeLessThan(1.1 / Math.sqrt(2 * trials));
    sum += off;
  }
  // Each has unit variance: no bias that eight seeds share.
  expect(Math.abs(sum / Math.sqrt(NAMES.length))).toBeLessThan(4);
});
