/** Scenarios by chance: each is planned, each plan passes every rule as a user's check would, none fails. */
import { expect, test } from 'vitest';
import { designScenario } from '../../src/design/design-scenario.ts';
import { fillingOf } from '../../src/planning/filling.ts';
import { fillOpenPlaces } from '../../src/reading/fill-open-places.ts';
import { readOpenScenario, readScenario } from '../../src/reading/read-scenario.ts';
import { applyRules } from '../../src/rules/all-rules.ts';
import { randomScenario } from './random-scenarios.ts';
import { finished, openFrom } from './support/open-scenario.ts';

const BATCHES = 4;
const PER_BATCH = 15;

test.each(Array.from({ length: BATCHES }, (_, batch) => batch))('batch %i', (batch) => {
  const failed: string[] = [];
  for (let k = 0; k < PER_BATCH; k++) {
    const seed = `scenario ${batch * PER_BATCH + k}`;
    const text = randomScenario(seed);
    const { scenario, open } = openFrom(text);
    const plan = finished(scenario, open);
    const { listed = [] } = readOpenScenario(text, seed);
    const filled = fillOpenPlaces(text, fillingOf(plan, open, listed))!;
    const read = readScenario(filled, seed);
    const made = read.scenario && designScenario(read.scenario);
    const errors =
      made === undefined || 'findings' in made
        ? read.findings.map(({ message }) => message)
        : applyRules(made.design)
            .filter(({ severity }) => severity === 'error')
            .map(({ message }) => message);
    if (plan.reasons.length > 0 || errors.length > 0)
      failed.push(`${seed}: ${[...plan.reasons, ...errors].join('; ')}`);
  }
  expect(failed).toEqual([]);
});
