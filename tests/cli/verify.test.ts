/** `batch --verify` through the real executable: 0 where nothing moved, 3 where something did, and what moved in a designer's terms. */
import { existsSync, readdirSync, readFileSync, rmSync, statSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import Ajv2020 from 'ajv/dist/2020.js';
import { expect, test } from 'vitest';
import { readXml } from '../writing/drawing/drawing-readers.ts';
import { datumlight, folder, soundScenario } from './support/run.ts';

const accepts = new Ajv2020.default({ strict: false }).compile(
  JSON.parse(readFileSync('schemas/report.schema.json', 'utf8')),
);

const TEXT = soundScenario((text) =>
  text
    .replace('light:', 'parameters: {away: 2800 mm}\nlight:')
    .replace('250, 2800', '250, away')
    .replace(
      'references:',
      'part: {datums: {A: {cylinder: {point: [0, 0, 0], axis: [0, 0, 1], diameter: 240}}}}\nreferences:',
    ),
);

/** A folder with a scenario and its committed package. */
async function committed(): Promise<string> {
  const dir = folder();
  writeFileSync(join(dir, 's.yaml'), TEXT);
  expect((await datumlight(['make', 's.yaml', '--out', 'out/s'], { cwd: dir })).code).toBe(0);
  return dir;
}
const verify = (dir: string, ...more: string[]) =>
  datumlight(['batch', 's.yaml', '--out', 'out', '--verify', ...more], { cwd: dir });

test('the same: exit 0, and nothing is written', async () => {
  const dir = await committed();
  const before = readdirSync(join(dir, 'out'), { recursive: true });
  const { code, stdout } = await verify(dir);
  expect({ code, stdout }).toEqual({ code: 0, stdout: 'out: 1 compared, no differences\n' });
  expect(readdirSync(join(dir, 'out'), { recursive: true })).toEqual(before);
});

test('a package whose sheet was made for a camera that is turned: the same while its manifest says so', async () => {
  const dir = folder();
  writeFileSync(join(dir, 's.yaml'), TEXT);
  writeFileSync(join(dir, 'bench.yml'), 'camera: {view: part, turned: 90}\n');
  const made = ['make', 's.yaml', '--out', 'out/s', '--bench', 'bench.yml', '--mirrored', '--quiet'];
  expect((await datumlight(made, { cwd: dir })).code).toBe(0);
  const sheet = { camera: { view: 'part', turned: 90, mirrored: true } };
  const read = (name: string) => JSON.parse(readFileSync(join(dir, 'out/s', name), 'utf8'));
  expect([read('manifest.json').sheet, read('report.json').sheet]).toEqual([sheet, sheet]);
  expect(accepts(read('report.json')) ? [] : accepts.errors).toEqual([]);
  expect(await verify(dir)).toMatchObject({ code: 0, stdout: 'out: 1 compared, no differences\n' });

  // A manifest that names another camera, or none that there is, is not that of this sheet.
  const manifest = readFileSync(join(dir, 'out/s/manifest.json'), 'utf8');
  for (const turned of ['180', '45']) {
    writeFileSync(join(dir, 'out/s/manifest.json'), manifest.replace('"turned": 90', `"turned": ${turned}`));
    const { code, stdout } = await verify(dir, '--json');
    expect(code).toBe(3);
    expect(JSON.parse(stdout).differences[0].files).toContain('sheet.html');
  }
});

test('a moved reference and patch: exit 3, told as parameter, µm, periods; as JSON, Markdown and overlay', async () => {
  const dir = await committed();
  const manifest = readFileSync(join(dir, 'out/s/manifest.json'));
  writeFileSync(
    join(dir, 's.yaml'),
    TEXT.replace('2800 mm', '2801 mm')
      .replace('centre: [60, 0]', 'centre: [60.003, 0.004]')
      .replace('240}', '241}'),
  );
  const told = await verify(dir, '--markdown', 'moved.md', '--overlay', 'overlays');
  expect(told.code).toBe(3);
  expect(told.stdout).toMatch(/parameter away value: 2800 mm -> 2801 mm \(\+1 mm\)/);
  expect(told.stdout).toMatch(/datum A diameter_mm: 240 -> 241/);
  expect(told.stdout).toMatch(/patch near-1 centre: moved 5 µm/);
  expect(told.stdout).toMatch(/patch north-1 target: moved 1000 µm/);
  expect(told.stdout).toMatch(/patch north-1 smallest period: .* µm -> .* µm/);
  expect(readFileSync(join(dir, 'moved.md'), 'utf8')).toMatch(/\| patch near-1 \| centre \| .* \| 5 µm \|/);

  const { code, stdout } = await verify(dir, '--json');
  expect(code).toBe(3);
  const { ok, compared, differences } = JSON.parse(stdout);
  expect([ok, compared, differences.length, differences[0].state]).toEqual([false, 1, 1, 'changed']);
  const moved = differences[0].changes.find((change: { id: string; what: string }) => {
    return change.id === 'near-1' && change.what === 'centre';
  });
  expect(moved).toMatchObject({ about: 'patch', unit: 'um' });
  // |(3, 4) µm| = 5 µm
  expect(moved.by).toBeCloseTo(5, 6);

  const overlay = join(dir, 'overlays', 's.svg');
  const svg = readFileSync(overlay, 'utf8');
  expect(svg.match(/<g id="(old|new)"/g)).toHaveLength(2);
  const ids = [...svg.matchAll(/ id="([^"]+)"/g)].map(([, id]) => id);
  expect(new Set(ids).size).toBe(ids.length);
  expect(() => readXml(svg)).not.toThrow();
  expect(readFileSync(join(dir, 'out/s/manifest.json'))).toEqual(manifest);
});

test('a finding that is gone and one that appeared are told', async () => {
  const dir = await committed();
  writeFileSync(join(dir, 's.yaml'), TEXT.replace('fNumber: 3.2}', 'fNumber: 3.2, pixelsAcrossBeam: 60}'));
  const { code, stdout } = await verify(dir);
  expect(code).toBe(3);
  expect(stdout).toMatch(/finding undersampled appeared: warning at near-1/);
  expect(stdout).toMatch(/interferometer pixelsAcrossBeam: 1000 -> 60/);
});

test('missing, refused, orphaned and edited packages are differences of their own kind', async () => {
  const dir = await committed();
  writeFileSync(join(dir, 'out/s/layout.svg'), 'edited by hand');
  const edited = await verify(dir);
  expect(edited.code).toBe(3);
  expect(edited.stdout).toMatch(/changed since it was written: layout.svg/);

  writeFileSync(join(dir, 's.yaml'), TEXT.replace('centre: [60, 0]', 'centre: [2, 60]'));
  const refused = await verify(dir);
  expect(refused.code).toBe(3);
  expect(refused.stdout).toMatch(/s exists, but its scenario no longer gives one/);
  expect(refused.stdout).toMatch(/s exists.*\n {2}s.yaml:.*patch-overlap/);

  rmSync(join(dir, 'out/s'), { recursive: true });
  expect((await verify(dir)).code).toBe(1);
  writeFileSync(join(dir, 's.yaml'), TEXT);
  const missing = await verify(dir);
  expect(missing.code).toBe(3);
  expect(missing.stdout).toMatch(/s is missing/);
  expect(existsSync(join(dir, 'out/s'))).toBe(false);

  await datumlight(['make', 's.yaml', '--out', 'out/s'], { cwd: dir });
  await datumlight(['make', 's.yaml', '--out', 'out/lost'], { cwd: dir });
  const orphaned = await verify(dir);
  expect(orphaned.code).toBe(3);
  expect(orphaned.stdout).toMatch(/lost exists, but no scenario gives it/);
});

test('texts of a scenario become no markup in the Markdown', async () => {
  const dir = await committed();
  writeFileSync(join(dir, 's.yaml'), TEXT.replace('title: Sound', 'title: "<b>|[x](y) `z`"'));
  await verify(dir, '--markdown', 'moved.md');
  const markdown = readFileSync(join(dir, 'moved.md'), 'utf8');
  expect(markdown).toContain('&lt;b&gt;\\|\\[x\\](y) \\`z\\`');
  expect(statSync(join(dir, 'moved.md')).size).toBeLessThan(65536);
});
