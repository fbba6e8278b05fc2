/** `make` through the real executable: a whole package or none, the same bytes each time, nothing of the user's lost. */
import { createHash } from 'node:crypto';
import { existsSync, mkdirSync, readdirSync, readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { expect, test } from 'vitest';
import { datumlight, example, executable, folder, scenarioFile, soundScenario } from './support/run.ts';

const FILES = [
  'bench.html',
  'bench.svg',
  'coefficients.csv',
  'coefficients.html',
  'coefficients.json',
  'fabrication.html',
  'fabrication.pdf',
  'layout.dxf',
  'layout.pdf',
  'layout.svg',
  'manifest.json',
  'reach.svg',
  'report.json',
  'samples.csv',
  'sheet.html',
];
const read = (dir: string, name: string): string => readFileSync(join(dir, name), 'utf8');
const hash = (text: string): string => createHash('sha256').update(text).digest('hex');

test('writes the whole package, and the manifest says what is in it', async () => {
  const out = join(folder(), 'deep', 'out');
  const { code, stderr } = await datumlight(['make', example('converging-retroreflectors'), '--out', out]);
  expect({ code, errors: /error/.test(stderr) }).toEqual({ code: 0, errors: false });
  expect(readdirSync(out).sort()).toEqual(FILES);
  const manifest = JSON.parse(read(out, 'manifest.json'));
  expect(manifest.scenario.sha256).toBe(hash(readFileSync(example('converging-retroreflectors'), 'utf8')));
  for (const name of FILES.filter((file) => file !== 'manifest.json')) {
    expect(manifest.files[name].sha256).toBe(hash(read(out, name)));
  }
});

test('the same scenario gives the same bytes', async () => {
  const [a, b] = [join(folder(), 'a'), join(folder(), 'b')];
  await datumlight(['make', example('infrared-collimated'), '--out', a]);
  await executable(['make', example('infrared-collimated'), '--out', b], {
    env: { TZ: 'Asia/Tokyo', LANG: 'de_DE.UTF-8' },
  });
  for (const name of FILES) expect(read(b, name)).toBe(read(a, name));
});

test('a broken design writes nothing and exits 1; a draft is written and marked', async () => {
  const out = join(folder(), 'out');
  const refused = await datumlight(['make', example('broken-rules'), '--out', out]);
  expect(refused.code).toBe(1);
  expect(existsSync(out)).toBe(false);
  const draft = await datumlight(['make', example('broken-rules'), '--out', out, '--draft']);
  expect(draft.code).toBe(1);
  for (const name of readdirSync(out)) {
    if (name === 'report.json' || name === 'manifest.json')
      expect(JSON.parse(read(out, name)).draft).toBe(true);
    // The PDF's texts are compressed; its own tests read them.
    else if (!name.endsWith('.pdf')) expect(read(out, name), name).toContain('NOT FOR FABRICATION');
  }
});

test('a new package takes the place of the old one, and the user’s own files stay', async () => {
  const out = join(folder(), 'out');
  const scenario = scenarioFile(soundScenario());
  await datumlight(['make', scenario, '--out', out]);
  writeFileSync(join(out, 'notes.txt'), 'mine');
  writeFileSync(
    scenario,
    soundScenario((text) => text.replace('title: Sound', 'title: Changed')),
  );
  const { code } = await datumlight(['make', scenario, '--out', out]);
  expect(code).toBe(0);
  expect(read(out, 'notes.txt')).toBe('mine');
  expect(read(out, 'layout.svg')).toContain('Changed');
  expect(readdirSync(join(out, '..')).filter((name) => name !== 'out')).toEqual([]);
});

test('a broken design leaves the old package as it was', async () => {
  const out = join(folder(), 'out');
  const scenario = scenarioFile(soundScenario());
  await datumlight(['make', scenario, '--out', out]);
  const before = read(out, 'manifest.json');
  writeFileSync(
    scenario,
    soundScenario((text) => text.replace('centre: [60, 0]', 'centre: [2, 60]')),
  );
  expect((await datumlight(['make', scenario, '--out', out])).code).toBe(1);
  expect(read(out, 'manifest.json')).toBe(before);
});

test('files that datumlight did not write are never overwritten', async () => {
  const out = folder();
  writeFileSync(join(out, 'layout.svg'), 'mine');
  const { code, stderr } = await datumlight(['make', scenarioFile(soundScenario()), '--out', out]);
  expect(code).toBe(2);
  expect(stderr).toMatch(/layout\.svg already exists and was not written by datumlight/);
  expect(read(out, 'layout.svg')).toBe('mine');
});

test('a target that is a file, or under a file: a clear error, exit 2', async () => {
  const file = join(folder(), 'taken');
  writeFileSync(file, 'mine');
  for (const out of [file, join(file, 'below')]) {
    const { code, stderr } = await datumlight(['make', scenarioFile(soundScenario()), '--out', out]);
    expect(code).toBe(2);
    expect(stderr).toMatch(/not-writable/);
    expect(stderr).not.toMatch(/\n {4}at /);
  }
  expect(readFileSync(file, 'utf8')).toBe('mine');
});

test('an existing empty folder is used', async () => {
  const out = join(folder(), 'empty');
  mkdirSync(out);
  expect((await datumlight(['make', scenarioFile(soundScenario()), '--out', out])).code).toBe(0);
  expect(readdirSync(out).sort()).toEqual(FILES);
});
