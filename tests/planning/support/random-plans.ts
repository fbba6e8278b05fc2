/** Scenarios by chance, planned; each plan, written into its file and read again, is asked every rule as a user's check would. */
import { designScenario } from '../../../src/design/design-scenario.ts';
import { fillingOf } from '../../../src/planning/filling.ts';
import { fillOpenPlaces } from '../../../src/reading/scenario/fill-open-places.ts';
import { readOpenScenario, readScenario } from '../../../src/reading/scenario/read-scenario.ts';
import { applyRules } from '../../../src/rules/all-rules.ts';
import { randomScenario } from '../random-scenarios.ts';
import { finished, openFrom } from './open-scenario.ts';

/** Scenarios of all the files together, and of one file: a runner has the files side by side. */
export const ALL = 500;
const PER_FILE = ALL / 4;
const PER_BATCH = 25;

/** The batches of a file, 1 to 4, for `test.each`: each by the numbers of its scenarios. */
export const batchesOf = (file: number): { from: number; to: number }[] =>
  Array.from({ length: PER_FILE / PER_BATCH }, (_, batch) => {
    const from = (file - 1) * PER_FILE + batch * PER_BATCH;
    return { from, to: from + PER_BATCH };
  });

/** What went wrong, in words; empty where every plan met its wishes and passed. */
export function failuresOf({ from, to }: { from: number; to: number }): readonly string[] {
  return Array.from({ length: to - from }, (_, k) => `scenario ${from + k}`).flatMap((seed) => {
    const text = randomScenario(seed);
    const { scenario, open } = openFrom(text);
    const plan = finished(scenario, open);
    const { listed = [] } = readOpenScenario(text, seed);
    const filled = fillOpenPlaces(text, fillingOf(plan, open, listed))!;
    const faults = [...plan.reasons, ...errorsOf(filled, seed)];
    return faults.length === 0 ? [] : [`${seed}: ${faults.join('; ')}`];
  });
}

function errorsOf(text: string, name: string): readonly string[] {
  const read = readScenario(text, name);
  const made = read.scenario && designScenario(read.scenario);
  if (made === undefined || 'findings' in made)
    return [...read.findings, ...(made?.findings ?? [])].map(({ message }) => message);
  return applyRules(made.design)
    .filter(({ severity }) => severity === 'error')
    .map(({ message }) => message);
}
