/** Too little light back from a reference of each kind: where it goes and the way out are told in that kind's own words. */
import { expect, it } from 'vitest';
import { designScenario } from '../../src/design/design-scenario.ts';
import { readScenario } from '../../src/reading/scenario/read-scenario.ts';
import { noReturn } from '../../src/rules/no-return.ts';
import { weakReturn } from '../../src/rules/weak-return.ts';

const CASES: readonly (readonly [string, object, object, RegExp])[] = [
  [
    'a ball under a line focus',
    { kind: 'ball', diameter: 12.7, at: [0, 0, 200] },
    { focus: 'line', lineAngle: 0, outline: { circle: { diameter: 10 } } },
    /misses the ball.*; a ball needs `focus: point`/,
  ],
  [
    'a cube under a point focus',
    { kind: 'smr', diameter: 38.1, at: [0, 0, 1000] },
    { focus: 'point', outline: { circle: { diameter: 10 } } },
    /; a retroreflector needs `focus: line`/,
  ],
  [
    'a plane of the part under a steep tilt',
    { kind: 'datum', datum: 'P' },
    { focus: 'normal', outline: { ring: { inner: 60, outer: 64 } }, bias: { shape: 'tilt', fringes: 500 } },
    /returns beside the patch.*; reduce the bias, or make the patch wider/,
  ],
];

it.each(CASES)('%s', (_name, reference, patch, words) => {
  const { scenario } = readScenario(
    JSON.stringify({
      format: 'datumlight/1',
      light: { wavelength: '632.8 nm' },
      interferometer: { focus: [0, 0, -500] },
      substrate: { outline: { circle: { diameter: 150 } } },
      part: { origin: [0, 0, 300], datums: { P: { plane: { point: [0, 0, 0], normal: [0, 0, -1] } } } },
      references: [{ id: 'r', ...reference }],
      patches: [{ id: 'p', reference: 'r', centre: [0, 0], ...patch }],
    }),
    'test.yaml',
  );
  const made = designScenario(scenario!);
  if ('findings' in made) throw new Error(made.findings.map(({ message }) => message).join());
  const found = [noReturn, weakReturn].flatMap(({ find }) => find(made.design));
  expect(found.map(({ message, hint }) => `${message}; ${hint}`)).toEqual([expect.stringMatching(words)]);
});
