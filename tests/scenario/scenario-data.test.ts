/** A scenario as data for the bench page: every number to the last bit, and whatever JSON has no words for. */
import { readdirSync, readFileSync } from 'node:fs';
import { expect, test } from 'vitest';
import { filesBeside } from '../../src/disk/files-beside.ts';
import { readScenario } from '../../src/reading/scenario/read-scenario.ts';
import type { Scenario } from '../../src/scenario/scenario.ts';
import { scenarioData, scenarioFrom } from '../../src/scenario/scenario-data.ts';

const EXAMPLES = readdirSync('examples').filter(
  (name) => name.endsWith('.yaml') && !name.startsWith('plan-'),
);

test.each(EXAMPLES)('%s comes back as it was, but for what only stands in the light', (name) => {
  const path = `examples/${name}`;
  const { scenario } = readScenario(readFileSync(path, 'utf8'), name, undefined, filesBeside(path));
  if (scenario === undefined) throw new Error(`${name} cannot be read`);
  const { sweep: _, ...kept } = scenario;
  const slim = { ...kept, obstacles: [], part: { ...kept.part, envelope: [] } };
  expect(scenarioFrom(scenarioData(scenario))).toStrictEqual(slim);
});

test('numbers without end, no number, -0, undefined, tables and lists of numbers come back', () => {
  const odd = {
    ...{ a: Number.NaN, b: Number.POSITIVE_INFINITY, c: Number.NEGATIVE_INFINITY, d: -0, e: undefined },
    ...{
      f: [undefined, 0.1 + 0.2],
      g: new Map([['x', new Map([[1, -0]])]]),
      h: Float64Array.of(1e-300, -0, Number.NaN),
    },
    part: { envelope: [] },
    obstacles: [],
  };
  expect(scenarioFrom(scenarioData(odd as unknown as Scenario))).toStrictEqual(odd);
});

test('a function in it is refused: it could not come back', () => {
  const odd = { title: () => '', part: { envelope: [] } } as unknown as Scenario;
  expect(() => scenarioData(odd)).toThrow(TypeError);
});
