/** A surface under test with a grid of heights, through the real executable: found beside the scenario, known to manifest, report and cache. */
import { createHash } from 'node:crypto';
import { readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import Ajv2020 from 'ajv/dist/2020.js';
import { expect, test, vi } from 'vitest';
import { datumlight, folder } from './support/run.ts';

// Several runs of the executable.
vi.setConfig({ testTimeout: 120_000 });

const SCENARIO = `format: datumlight/1
light: {wavelength: 632.8 nm}
interferometer: {focus: [0, 0, -500], fNumber: 3.2, pixelsAcrossBeam: 1000}
substrate: {outline: {circle: {diameter: 150}}}
part:
  origin: [0, 0, 2600]
  datums:
    M:
      asphere:
        vertex: [0, 0, 0]
        axis: [0, 0, 1]
        radius: -2000
        conic: -1
        xy: {"2,1": 1e-9}
        zernike: {radius: 100, terms: {5: 200 nm, "3,-3": -50 nm}}
        grid: {file: sag.csv, spacing: 20 mm}
test: {surface: M, aperture: {circle: {diameter: 180}}}
references: []
patches: []
`;

const sag = (height: number): string =>
  ['x_mm,y_mm,z_nm']
    .concat(
      Array.from({ length: 121 }, (_, k) => {
        const [x, y] = [20 * (k % 11) - 100, 20 * Math.floor(k / 11) - 100];
        return `${x},${y},${(height * x * y) / 1e4}`;
      }),
    )
    .join('\n');

test('the grid’s bytes are in manifest and report, and another grid is another case', async () => {
  const dir = folder();
  writeFileSync(join(dir, 's.yaml'), SCENARIO.replace('', ''));
  writeFileSync(join(dir, 'sag.csv'), sag(100));
  const made = await datumlight(['make', 's.yaml', '--out', 'package'], { cwd: dir });
  expect(made.code, made.stderr).toBe(0);
  const json = (name: string) => JSON.parse(readFileSync(join(dir, 'package', name), 'utf8'));
  const sha256 = createHash('sha256').update(sag(100)).digest('hex');
  expect(json('manifest.json').scenario.files).toEqual({ 'sag.csv': { sha256 } });
  const report = json('report.json');
  expect(report.scenario.files).toEqual({ 'sag.csv': { sha256 } });
  expect(report.scenario.datums.M).toMatchObject({
    xy: [{ i: 2, j: 1, coefficient: 1e-9 }],
    zernike: {
      radius_mm: 100,
      terms: [
        { n: 2, m: 2 },
        { n: 3, m: -3 },
      ],
    },
    grid: { file: 'sag.csv', spacing_mm: 20, columns: 11, rows: 11 },
  });
  const schema = JSON.parse(readFileSync('schemas/report.schema.json', 'utf8'));
  const validate = new Ajv2020.default({ strict: true, allowUnionTypes: true }).compile(schema);
  expect(validate(report), JSON.stringify(validate.errors)).toBe(true);

  const batch = async () => {
    const args = ['batch', 's.yaml', '--out', 'out', '--cache', 'cache', '--json'];
    const { made: fresh, cached } = JSON.parse((await datumlight(args, { cwd: dir })).stdout);
    return { fresh, cached };
  };
  expect(await batch()).toEqual({ fresh: 1, cached: 0 });
  expect(await batch()).toEqual({ fresh: 0, cached: 1 });
  writeFileSync(join(dir, 'sag.csv'), sag(101));
  expect(await batch()).toEqual({ fresh: 1, cached: 0 });
});

test('a fault in the grid is shown with its line', async () => {
  const dir = folder();
  writeFileSync(join(dir, 's.yaml'), SCENARIO.replace('', ''));
  writeFileSync(join(dir, 'sag.csv'), sag(100).replace('-80,-100,', '-81,-100,'));
  const { code, stderr, stdout } = await datumlight(['check', 's.yaml'], { cwd: dir });
  expect(code).toBe(2);
  expect(stdout + stderr).toContain('sag.csv:3:1');
  expect(stdout + stderr).toContain('-81,-100');
});
