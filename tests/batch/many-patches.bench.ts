/** How `check` grows with patches, part by part: reading, designing, each rule of a scenario of 500 and of 5,000 patches. */
import { bench, describe } from 'vitest';
import { workOut } from '../../src/batch/work-out.ts';
import { applyRules } from '../../src/rules/all-rules.ts';
import { manyPatches } from './support/many-patches.ts';

describe.each([50, 500, 5000])('%i patches', (count) => {
  const text = manyPatches(count);
  const { design } = workOut(text, 'many.yaml');
  const options = { iterations: 1, warmupIterations: 0, time: 0, warmupTime: 0 };
  bench('read and design', () => void workOut(text, 'many.yaml'), options);
  bench('all rules', () => void applyRules(design!), options);
});
