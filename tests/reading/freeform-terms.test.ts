/** Freeform terms of an asphere as they are read, and every fault of them with its place: in the scenario, or in the grid's own file. */
import { describe, expect, it, test } from 'vitest';
import { readScenario } from '../../src/reading/scenario/read-scenario.ts';

const scenario = (words: string): string => `format: datumlight/1
light: {wavelength: 632.8 nm}
interferometer: {focus: [0, 0, -500]}
substrate: {outline: {circle: {diameter: 150}}}
part:
  datums:
    M:
      asphere:
        vertex: [0, 0, 0]
        axis: [0, 0, 1]
        ${words}
references: []
patches: []
`;

const NODES = Array.from({ length: 20 }, (_, k) => `${5 * (k % 5) - 10},${5 * Math.floor(k / 5)},${k}`);
const csv = (...rows: readonly string[]): string => ['x_mm,y_mm,z_um', ...rows].join('\n');

function read(words: string, table: string | undefined = csv(...NODES)) {
  const files = () => (table === '-' ? { fault: 'no such file' } : new TextEncoder().encode(table));
  return readScenario(scenario(words), 'a.yaml', undefined, files);
}

const asphereOf = (words: string, table?: string) => {
  const { scenario: made, findings } = read(words, table);
  expect(findings).toEqual([]);
  const datum = made!.part.datums[0]!;
  return datum.kind === 'asphere' ? datum : undefined;
};

test('terms are taken by powers, by index and by orders', () => {
  const { xy, zernike } = asphereOf(
    'xy: {"2,1": 1e-9, "0, 3": "2 * 3e-9"}\n        zernike: {radius: 15 cm, terms: {0: 1 nm, 12: 20 nm, "3,-1": -5 nm, "2,0": 1 um}}',
  )!;
  expect(xy).toEqual([
    { i: 2, j: 1, coefficient: 1e-9 },
    { i: 0, j: 3, coefficient: 6e-9 },
  ]);
  expect(zernike!.radius).toBe(150);
  expect(zernike!.terms.map(({ n, m, coefficient }) => [n, m, coefficient * 1e6])).toEqual([
    [0, 0, expect.closeTo(1)],
    [4, 0, expect.closeTo(20)],
    [3, -1, expect.closeTo(-5)],
    [2, 0, expect.closeTo(1000)],
  ]);
});

test('a grid is taken in any order of its rows, in the units of its columns', () => {
  const grid = { file: 'g.csv', x: -10, y: 0, spacing: 5, columns: 5, rows: 4 };
  const straight = asphereOf('grid: {file: g.csv, spacing: 5}')!.grid!;
  const { heights, ...rest } = straight;
  expect(rest).toEqual(grid);
  expect(heights[7]).toBeCloseTo(7e-3, 15);
  const turned = asphereOf('grid: {file: g.csv, spacing: 5 mm}', csv(...NODES.toReversed()))!.grid!;
  expect(turned).toEqual(straight);
});

/** Words, the grid's file, and the findings: file, line and column, code, and what the message says. A bad key is shown by its value. */
const FAULTS: readonly (readonly [what: string, words: string, table: string, ...found: string[]])[] = [
  ['an odd key of xy', 'xy: {"2;1": 1}', '', 'a.yaml 11:21 bad-value: no term "2;1"'],
  ['too high a power', 'xy: {"20,1": 1}', '', 'a.yaml 11:22 bad-value: no term "20,1"'],
  ['a coefficient with a unit', 'xy: {"2,1": 1 mm}', '', 'a.yaml 11:21 unit-mismatch: '],
  ['no such orders', 'zernike: {radius: 9, terms: {"3,2": 1 nm}}', '', 'a.yaml 11:45 bad-value: term "3,2"'],
  ['|m| above n', 'zernike: {radius: 9, terms: {"2,-4": 1 nm}}', '', 'a.yaml 11:46 bad-value: term "2,-4"'],
  ['an index too high', 'zernike: {radius: 9, terms: {231: 1 nm}}', '', 'a.yaml 11:43 bad-value: term "231"'],
  [
    'a term twice',
    'zernike: {radius: 9, terms: {12: 1 nm, "4,0": 1 nm}}',
    '',
    'a.yaml 11:55 conflicting-keys: `4,0` is the Zernike term that `12` is',
  ],
  ['a radius of 0', 'zernike: {radius: 0, terms: {4: 1 nm}}', '', 'a.yaml 11:27 out-of-range: `radius` is 0'],
  ['no radius', 'zernike: {terms: {4: 1 nm}}', '', 'a.yaml 11:9 missing-key: radius'],
  ['no spacing', 'grid: {file: g.csv}', '', 'a.yaml 11:9 missing-key: spacing'],
  ['no file', 'grid: {file: g.csv, spacing: 5}', '-', 'a.yaml 11:22 unreadable-file: no such file'],
  [
    'an unknown column',
    'grid: {file: g.csv, spacing: 5}',
    'x_mm,y_mm,w_um\n0,0,0',
    'g.csv 1:1 bad-table: column z_mm is missing',
    'g.csv 1:11 bad-table: unknown column "w_um"',
  ],
  [
    'a height that is no number',
    'grid: {file: g.csv, spacing: 5}',
    csv(...NODES).replace('5,0,3', '5,0,x'),
    'g.csv 5:5 bad-table: "x"',
  ],
  [
    'a node off the grid',
    'grid: {file: g.csv, spacing: 5}',
    csv(...NODES).replace('5,0,3', '5.1,0,3'),
    'g.csv 5:1 bad-table: x_mm is 5.1: no whole number of spacings of 5 mm from the least, -10 mm',
  ],
  [
    'a node twice',
    'grid: {file: g.csv, spacing: 5}',
    csv(...NODES, '5,0,3'),
    'g.csv 22:1 bad-table: the node at x 5 mm, y 0 mm appears twice',
  ],
  [
    'a node missing',
    'grid: {file: g.csv, spacing: 5}',
    csv(...NODES.filter((row) => row !== '5,0,3')),
    'a.yaml 11:22 bad-value: the grid `g.csv` has no height at x 5 mm, y 0 mm',
  ],
  [
    'too few nodes',
    'grid: {file: g.csv, spacing: 5}',
    csv(...NODES.slice(0, 15)),
    'a.yaml 11:22 bad-value: has 5 by 3 nodes',
  ],
  [
    'a spacing far too small',
    'grid: {file: g.csv, spacing: 1 um}',
    csv(...NODES),
    'a.yaml 11:22 bad-value: spans 20001 by 15001 nodes, and holds 20',
  ],
];

describe.each(FAULTS)('%s', (_, words, table, ...found) => {
  it('is refused at its place', () => {
    const { scenario: made, findings } = read(words, table);
    expect(made).toBeUndefined();
    const spots = findings.map(({ place, rule }) => `${place?.file} ${place?.line}:${place?.column} ${rule}`);
    expect(spots).toEqual(found.map((text) => text.split(': ')[0]));
    for (const [k, { message }] of findings.entries())
      expect(message).toContain(found[k]!.split(': ').slice(1).join(': '));
  });
});
