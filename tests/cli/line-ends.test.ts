/**
 * A checkout that converts line ends is no change: the same hash, cache keys and package bytes of a CRLF scenario, `--verify` 0 of a
 * converted package, with a word about it; a text file is converted here as git does (`core.autocrlf`), and by git itself where it is
 * installed. Binary files count by their bytes.
 */
import { execFileSync, spawnSync } from 'node:child_process';
import { cpSync, readdirSync, readFileSync, rmSync, statSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { beforeAll, expect, test } from 'vitest';
import { datumlight, folder, soundScenario } from './support/run.ts';

const MESH =
  'solid s\nfacet normal 0 0 1\nouter loop\nvertex 900 80 1400\nvertex 901 80 1400\nvertex 900 300 1400\nendloop\nendfacet\nendsolid s\n';
/** A title over two lines, a mesh, parameters and a table of cases: whatever reads a line end of its own. */
const plain = soundScenario((text) =>
  text
    .replace('title: Sound', 'title: "Sound\n  and whole"')
    .replace('references:', 'part: {envelope: [{mesh: {file: m.stl}}]}\nreferences:'),
);
const swept = soundScenario(
  (text) =>
    `${text.replace('light:', 'parameters: {away: 2800 mm}\nlight:').replace('250, 2800', '250, away')}sweep: {cases: t.csv}\n`,
);
const TABLE = 'case,away\nnear,2700\nfar,2900\n';

const crlf = (path: string): void =>
  writeFileSync(path, readFileSync(path, 'utf8').replace(/\r?\n/g, '\r\n'));
const TEXT = /\.(ya?ml|stl|csv|json|svg|dxf|html)$/;

const filesOf = (root: string): string[] =>
  readdirSync(root, { recursive: true, encoding: 'utf8' })
    .filter((name) => statSync(join(root, name)).isFile())
    .sort();
const tree = (root: string): Record<string, string> =>
  Object.fromEntries(filesOf(root).map((name) => [name, readFileSync(join(root, name), 'latin1')]));

let made: string;

beforeAll(async () => {
  made = folder();
  for (const [name, text] of Object.entries({
    'p.yaml': plain,
    's.yaml': swept,
    't.csv': TABLE,
    'm.stl': MESH,
  }))
    writeFileSync(join(made, name), text);
  expect(await batch(made, '--cache', 'cache')).toMatchObject({ code: 0, stderr: '' });
});

/** Scenarios with what they name, their packages and a cache. */
function bench(): string {
  const dir = folder();
  cpSync(made, dir, { recursive: true });
  return dir;
}
const convert = (dir: string, which: (name: string) => boolean = () => true): void => {
  for (const name of filesOf(dir)) if (TEXT.test(name) && which(name)) crlf(join(dir, name));
};
const batch = (dir: string, ...more: string[]) =>
  datumlight(['batch', 'p.yaml', 's.yaml', '--out', 'out', '--jobs', '1', ...more], { cwd: dir });

test('a scenario, its mesh and its table with CRLF: the same package bytes, from make and batch, and from the cache', async () => {
  const dir = bench();
  const packages = tree(join(dir, 'out'));
  convert(dir, (name) => !name.includes('/'));
  expect(readFileSync(join(dir, 'p.yaml'), 'latin1')).toContain('\r\n');
  expect((await datumlight(['make', 'p.yaml', '--out', 'made'], { cwd: dir })).code).toBe(0);
  expect(tree(join(dir, 'made'))).toEqual(tree(join(dir, 'out', 'p')));
  crlf(join(dir, 'made', 'coefficients.csv'));
  const returned = await datumlight(['check', 'p.yaml', '--table', 'made/coefficients.csv'], { cwd: dir });
  expect(returned).toMatchObject({ code: 0, stdout: expect.stringContaining('coefficients.csv: same') });
  const again = await batch(dir, '--cache', 'cache', '--json');
  expect(JSON.parse(again.stdout)).toMatchObject({ made: 0, cached: 3 });
  rmSync(join(dir, 'out'), { recursive: true });
  expect((await batch(dir, '--no-cache')).code).toBe(0);
  expect(tree(join(dir, 'out'))).toEqual(packages);
});

test('--verify of converted packages: exit 0 with a word; a change beside them is told without them; a binary file counts', async () => {
  const dir = bench();
  convert(join(dir, 'out'));
  const { code, stdout } = await batch(dir, '--verify', '--markdown', 'moved.md');
  expect({ code, stdout }).toEqual({
    code: 0,
    stdout: 'out: 3 compared, no differences; only line ends differ (CRLF or LF) in 3 packages\n',
  });
  expect(readFileSync(join(dir, 'moved.md'), 'utf8')).toContain(
    'All 3 packages match their scenarios. Only line ends differ',
  );
  expect(JSON.parse((await batch(dir, '--verify', '--json')).stdout)).toMatchObject({
    ok: true,
    converted: 3,
    differences: [],
  });

  // One line end more is no conversion.
  const samples = join(dir, 'out', 's', 'far', 'samples.csv');
  writeFileSync(samples, `${readFileSync(samples, 'utf8')}\r\n`);
  const report = join(dir, 'out', 'p', 'report.json');
  writeFileSync(report, readFileSync(report, 'utf8').replace('"draft": false', '"draft": true'));
  const edited = JSON.parse((await batch(dir, '--verify', '--json')).stdout);
  expect(edited.differences).toMatchObject([
    { name: 'p', files: ['report.json'], editedSince: ['report.json'] },
    { name: 's/far', files: ['samples.csv'], editedSince: ['samples.csv'] },
  ]);

  const pdf = join(dir, 'out', 's', 'near', 'layout.pdf');
  writeFileSync(pdf, readFileSync(pdf, 'latin1').replaceAll('\n', '\r\n'), 'latin1');
  const broken = await batch(dir, '--verify');
  expect(broken.code).toBe(3);
  expect(broken.stdout).toMatch(/s\/near .*\n(.*\n)* {2}changed since it was written: layout\.pdf/);
});

test('a converted package is whole: a cached batch leaves it, and gathering gives the bytes that were written', async () => {
  const dir = bench();
  const written = tree(join(dir, 'out'));
  convert(join(dir, 'out'));
  const joined = await datumlight(['batch', '--gather', 'out', '--out', 'joined'], { cwd: dir });
  expect(joined).toMatchObject({ code: 0, stderr: '' });
  expect(tree(join(dir, 'joined'))).toEqual(written);
  expect(JSON.parse((await batch(dir, '--cache', 'cache', '--json')).stdout)).toMatchObject({
    made: 0,
    cached: 3,
  });
  expect(readFileSync(join(dir, 'out', 'p', 'layout.svg'), 'latin1')).toContain('\r\n');
});

const noGit = spawnSync('git', ['--version']).status !== 0;
test.skipIf(noGit)('a checkout by git with core.autocrlf is no change to --verify', async () => {
  const dir = bench();
  await datumlight(['make', 'p.yaml', '--out', 'patterned', '--pattern', 'gds', 'oas'], { cwd: dir });
  const env = { ...process.env, GIT_CONFIG_GLOBAL: '/dev/null', GIT_CONFIG_NOSYSTEM: '1' };
  const git = (...args: string[]) =>
    execFileSync('git', ['-c', 'user.name=a', '-c', 'user.email=a@b.invalid', ...args], { cwd: dir, env });
  git('init', '-q');
  git('add', '-A');
  git('commit', '-qm', 'packages');
  const committed = tree(dir);
  const names = ['out', 'patterned', 'p.yaml', 's.yaml', 't.csv', 'm.stl'];
  for (const name of names) rmSync(join(dir, name), { recursive: true });
  git('-c', 'core.autocrlf=true', 'checkout', '-q', '--', '.');
  const changed = Object.entries(tree(dir)).filter(([name, text]) => committed[name] !== text);
  const converted = changed.map(([name]) => name).filter((name) => !name.startsWith('.git/'));
  for (const name of ['p.yaml', 'm.stl', 't.csv', 'out/p/layout.dxf', 'out/s/far/manifest.json'])
    expect(converted).toContain(name);
  expect(Object.keys(committed)).toContain('patterned/pattern.gds');
  expect(converted.filter((name) => /\.(pdf|gds|oas)$/.test(name))).toEqual([]);
  const { code, stdout } = await batch(dir, '--verify');
  expect(stdout).toMatch(/no differences; only line ends differ \(CRLF or LF\) in 3 packages/);
  expect(code).toBe(0);
});
