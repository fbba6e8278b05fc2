/** Marks on the surface under test as they are read, and their faults with their places. */
import { expect, test } from 'vitest';
import { readScenario } from '../../src/reading/scenario/read-scenario.ts';

const read = (fiducials: string) =>
  readScenario(
    `format: datumlight/1
parameters: {edge: 9 cm}
light: {wavelength: 632.8 nm}
interferometer: {focus: [0, 0, -500]}
substrate: {outline: {circle: {diameter: 150}}}
part: {origin: [0, 0, 2600], datums: {M: {asphere: {vertex: [0, 0, 0], axis: [0, 0, 1], radius: -2000}}}}
references: []
patches: []
test:
  surface: M
  aperture: {circle: {diameter: 200}}
  fiducials: ${fiducials}
`,
    'a.yaml',
  );

test('marks have ids and places; without them there are none', () => {
  const { scenario } = read('[{id: north, at: [0, edge]}, {id: a-2, at: [-1 cm, 3]}]');
  expect(scenario!.test!.fiducials).toEqual([
    { id: 'north', at: [0, 90] },
    { id: 'a-2', at: [-10, 3] },
  ]);
  expect(read('[]').scenario!.test!.fiducials).toEqual([]);
});

test.each([
  ['[{id: a, at: [0, 1]}, {id: A, at: [0, 2]}]', '12:41 duplicate-id'],
  ['[{id: a/b, at: [0, 1]}]', '12:20 bad-id'],
  ['[{id: a, at: [0]}]', '12:27 bad-value'],
  ['[{id: a, at: [0, 1 deg]}]', '12:31 unit-mismatch'],
  ['[{id: a}]', '12:15 missing-key'],
  ['[{id: a, at: [0, 1], side: front}]', '12:35 unknown-key'],
])('%s', (fiducials, spot) => {
  const { scenario, findings } = read(fiducials);
  expect(scenario).toBeUndefined();
  expect(findings.map(({ place, rule }) => `${place?.line}:${place?.column} ${rule}`)).toEqual([spot]);
});
