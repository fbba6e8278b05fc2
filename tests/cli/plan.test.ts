/** `plan` through the real executable: what it writes, what it keeps, and each exit code. */
import { existsSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { expect, test } from 'vitest';
import { datumlight, folder, scenarioFile } from './support/run.ts';

const OPEN = `# three balls, their patches left open
format: datumlight/1
light: {wavelength: 632.8 nm}
interferometer: {focus: [0, 0, -500], fNumber: 3.2, placed: {x: 20 um, y: 20 um, z: 20 um, rx: 40 urad, ry: 40 urad}}
substrate: {outline: {circle: {diameter: 150}}, edgeMargin: 3, clearance: 0.5}
keepOuts: [{id: main, outline: {circle: {diameter: 90}}}]
part: {origin: [0, 0, 150]}
references:   # on the cell's rim
  - {id: top, kind: ball, diameter: 0.5 in, at: [0, 84, 130], patches: auto}
  - {id: left, kind: ball, diameter: 0.5 in, at: [-73, -42, 130], patches: auto}   # the low one
  - {id: right, kind: ball, diameter: 0.5 in, at: [73, -42, 130], patches: auto}
patches: []
wanted: {x: 10 um, y: 10 um, z: 50 um, rx: 300 urad, ry: 300 urad, rz: 300 urad}
`;

test('a plan passes check and make, keeps what the user wrote, marks what it chose; same seed, same bytes', async () => {
  const file = scenarioFile(OPEN);
  const out = join(folder(), 'sub', 'planned.yaml');
  const map = join(folder(), 'reach.svg');
  const { code, stdout, stderr } = await datumlight(['plan', file, '--out', out, '--reach', map]);
  expect(readFileSync(map, 'utf8')).toContain('of the free glass can serve it');
  expect(stdout).toMatch(/planned: 3 patches, \d+ mm² of glass, worst uncertainty 0\.\d+ of its limit/);
  expect(stderr).toBe(''); // progress is for a terminal
  expect(code).toBe(0);
  const text = readFileSync(out, 'utf8');
  for (const line of OPEN.split('\n').filter((one) => !/auto|patches: \[\]/.test(one)))
    expect(text).toContain(line);
  expect(text).toMatch(/patches: \[left-1\]} {3}# the low one; plan: patches/);
  expect(text).toMatch(/- \{id: top-1, reference: top, focus: point, .*# plan/);
  const again = join(folder(), 'again.yaml');
  await datumlight(['plan', file, '--out', again, '--quiet']);
  expect(readFileSync(again, 'utf8')).toBe(text);
  expect((await datumlight(['check', out])).code).toBe(0);
  expect((await datumlight(['make', out, '--out', join(folder(), 'package')])).code).toBe(0);
});

test('check and make refuse the open scenario: exit 2, the place, the remedy', async () => {
  const { code, stderr } = await datumlight(['check', scenarioFile(OPEN)]);
  expect(code).toBe(2);
  expect(stderr).toMatch(
    /scenario\.yaml:9:\d+: `patches` is open \(`auto`\); run `datumlight plan` .*\[error open-place\]/,
  );
});

test('a wish that cannot be met: exit 1, the reason in words, the best found is written', async () => {
  const file = scenarioFile(OPEN.replace('z: 50 um', 'z: 0.2 um'));
  const out = join(folder(), 'planned.yaml');
  const { code, stderr } = await datumlight(['plan', file, '--out', out, '--quiet']);
  expect(code).toBe(1);
  expect(stderr).toMatch(/wanted\.z is too large by a factor of/);
  expect(stderr).toMatch(/what limits the patches/);
  expect(existsSync(out)).toBe(true);
});

test('--json: one document; --out - : the scenario on stdout', async () => {
  const json = await datumlight(['plan', scenarioFile(OPEN), '--out', join(folder(), 'p.yaml'), '--json']);
  expect(JSON.parse(json.stdout)).toMatchObject({ ok: true, stopped: false, reasons: [], unused: [] });
  const out = await datumlight(['plan', '-', '--out', '-'], { input: OPEN });
  expect(out.stdout.startsWith('# three balls, their patches left open\n')).toBe(true);
});

test('input that cannot be used: exit 2 and nothing written', async () => {
  const out = join(folder(), 'p.yaml');
  const { code, stderr } = await datumlight([
    'plan',
    scenarioFile(OPEN.replace('kind: ball', 'kind: bal')),
    '--out',
    out,
  ]);
  expect(code).toBe(2);
  expect(stderr).toMatch(/did you mean `ball`/);
  expect(existsSync(out)).toBe(false);
});

test.each<[string, string, RegExp]>([
  [
    'a datum feature',
    'kind: datum, datum: A, patches: auto',
    /:9:\d+: `plan` places no patch of a datum feature/,
  ],
  [
    'an unplaced ring',
    'kind: return',
    /:14:\d+: `plan` does not change a patch with `focus: return`; give a value, or/,
  ],
  [
    'a focus that its reference has no use for',
    'kind: screen, at: [0, 0, 300]',
    /:14:\d+: patch p has `focus: return`/,
  ],
])('%s: exit 2, the place and what to write instead', async (_, reference, message) => {
  const text = OPEN.replace(
    'part: {',
    'part: {datums: {A: {plane: {point: [0, 0, 0], normal: [0, 0, -1]}}}, ',
  )
    .replace('  - {id: top', `  - {id: extra, ${reference}}\n  - {id: top`)
    .replace(
      'patches: []',
      'patches:\n  - {id: p, reference: extra, focus: return, centre: [0, 0], outline: {ring: {inner: 138, outer: 144}}}',
    )
    .replace('centre: [0, 0]', reference === 'kind: return' ? 'centre: auto' : 'centre: [0, 0]');
  const out = join(folder(), 'planned.yaml');
  const { code, stderr } = await datumlight(['plan', scenarioFile(text), '--out', out]);
  expect(code).toBe(2);
  expect(stderr).toMatch(message);
  expect(existsSync(out)).toBe(false);
});
