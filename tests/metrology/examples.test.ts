/** Every example: the linear budget and the Monte Carlo one agree, for each reference and for the part. */

import { readdirSync, readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { designScenario } from '../../src/design/design-scenario.ts';
import { readScenario } from '../../src/reading/scenario/read-scenario.ts';
import type { ReportedBudget } from '../../src/writing/report/report-form.ts';
import { partPose, referencePositions } from './support/reported.ts';

const folder = new URL('../../examples/', import.meta.url);
const examples = readdirSync(folder)
  // Those for `plan` leave places open.
  .filter((name) => name.endsWith('.yaml') && !name.startsWith('plan-'))
  .sort();

/** How many unknowns were compared; each within four standard errors of its simulation. */
function compare(budget: ReportedBudget<string>): number {
  let compared = 0;
  for (const [name, simulated] of Object.entries(budget.simulated)) {
    const linear = budget.combined[name]!;
    expect(simulated === null).toBe(linear === null);
    if (simulated === null) continue;
    expect(Math.abs(simulated.sigma - linear)).toBeLessThan(4 * simulated.samplingError);
    expect(simulated.samplingError).toBeLessThan(0.025 * linear);
    compared++;
  }
  return compared;
}

describe('linear and Monte Carlo budgets', () => {
  it.each(examples)('agree within the sampling error on %s', (name) => {
    const { scenario } = readScenario(readFileSync(new URL(name, folder), 'utf8'), name);
    const made = designScenario(scenario!);
    if ('findings' in made) throw new Error(`${name} makes no design`);
    const positions = referencePositions(made.design);
    const compared = positions.reduce((sum, { budget_um }) => sum + compare(budget_um), 0);
    expect(compared + compare(partPose(made.design).budget)).toBeGreaterThan(3);
  });
});
