/**
 * Single files, through the real executable: `plan --out`, `--reach` and `batch --verify --markdown` replace what the program itself wrote
 * and nobody has changed since, and nothing else: not the input by any of its names, not each other, not a file of the user's.
 */
import { execFileSync } from 'node:child_process';
import { linkSync, mkdirSync, readFileSync, rmSync, symlinkSync, writeFileSync } from 'node:fs';
import { join, resolve } from 'node:path';
import process from 'node:process';
import { expect, test } from 'vitest';
import { treeOf } from './support/kills-at-changes.ts';
import { datumlight, folder, openScenario, soundScenario } from './support/run.ts';

function house(): string {
  const dir = folder();
  mkdirSync(join(dir, 'below'));
  writeFileSync(join(dir, 'open.yaml'), openScenario());
  writeFileSync(join(dir, 'mine.yaml'), 'format: datumlight/1 # by hand\n');
  writeFileSync(join(dir, 'mine.svg'), '<svg xmlns="http://www.w3.org/2000/svg"/>');
  symlinkSync('open.yaml', join(dir, 'link.yaml'));
  linkSync(join(dir, 'open.yaml'), join(dir, 'hard.yaml'));
  return dir;
}
const plan = (dir: string, ...args: string[]) =>
  datumlight(['plan', 'open.yaml', '--quiet', ...args], { cwd: dir });

test.each<[string, RegExp, ...string[]]>([
  ['the input', /open\.yaml is the input;/, '--out', 'open.yaml'],
  ['the input, spelt otherwise', /is the input open\.yaml/, '--out', 'below/../open.yaml'],
  ['a link to the input', /link\.yaml is the input open\.yaml/, '--out', 'link.yaml'],
  ['a second name of the input', /hard\.yaml is the input open\.yaml/, '--out', 'hard.yaml'],
  ['the map over the input', /--reach: open\.yaml is the input/, '--out', 'p.yaml', '--reach', 'open.yaml'],
  ['two outputs in one', /p\.yaml is also the file of --out/, '--out', 'p.yaml', '--reach', './p.yaml'],
  ['a file of the user’s', /mine\.yaml already exists .*delete/, '--out', 'mine.yaml'],
  ['a map over the user’s', /mine\.svg already exists/, '--out', 'p.yaml', '--reach', 'mine.svg'],
  ['a folder', /below is a folder, not a file/, '--out', 'below'],
  ['the root', /\/ is a folder/, '--out', '/'],
  ['an empty name', /--out: the name of the file is empty/, '--out', ''],
  ['an empty name of the map', /--reach: the name of the file is empty/, '--out', 'p.yaml', '--reach', ''],
  ['the map to standard output', /--reach: the map cannot go to/, '--out', '-', '--reach', '-'],
])('plan refuses %s: exit 2, nothing is written', async (_, message, ...args) => {
  const dir = house();
  const before = treeOf(dir);
  const { code, stderr, stdout } = await plan(dir, ...args);
  expect({ code, stdout }).toEqual({ code: 2, stdout: '' });
  expect(stderr).toMatch(message);
  expect(treeOf(dir)).toEqual(before);
});

test('plan refuses the file that standard input comes from', () => {
  const dir = house();
  const command = `"${process.execPath}" "${resolve('bin/datumlight.js')}" plan - --out open.yaml <open.yaml 2>&1; echo "exit $?"`;
  const said = execFileSync('sh', ['-c', command], { cwd: dir, encoding: 'utf8' });
  expect(said).toMatch(/open\.yaml is the input.*\nexit 2\n$/s);
  expect(readFileSync(join(dir, 'open.yaml'), 'utf8')).toBe(openScenario());
});

test('plan replaces its own files, also after a checkout with CRLF and where a file is empty, until they are edited', async () => {
  const dir = house();
  const files = ['--out', 'p.yaml', '--reach', 'r.svg'];
  const [planned, map] = [join(dir, 'p.yaml'), join(dir, 'r.svg')];
  expect(await plan(dir, ...files)).toMatchObject({ code: 0 });
  const first = readFileSync(planned, 'utf8');
  writeFileSync(planned, first.replaceAll('\n', '\r\n'));
  writeFileSync(map, '');
  expect(await plan(dir, ...files)).toMatchObject({ code: 0 });
  expect(readFileSync(planned, 'utf8')).toBe(first);
  expect(readFileSync(map, 'utf8')).toContain('Reach map');
  writeFileSync(planned, first.replace('title: Open', 'title: Opened'));
  const edited = treeOf(dir);
  const { code, stderr } = await plan(dir, ...files);
  expect(code).toBe(2);
  expect(stderr).toMatch(/p\.yaml already exists and was not written by datumlight, or was changed since/);
  expect(treeOf(dir)).toEqual(edited);
  rmSync(planned);
  expect(await plan(dir, ...files)).toMatchObject({ code: 0 });
});

test('a planned scenario that is opened and planned again has one mark, its last line', async () => {
  const dir = house();
  await plan(dir, '--out', 'p.yaml');
  const planned = readFileSync(join(dir, 'p.yaml'), 'utf8');
  const reopened = planned.replace(/centre: \[[^\]]*\]/, 'centre: auto');
  expect(reopened).not.toBe(planned);
  writeFileSync(join(dir, 'open.yaml'), reopened);
  expect(await plan(dir, '--out', 'p.yaml')).toMatchObject({ code: 0 });
  const lines = readFileSync(join(dir, 'p.yaml'), 'utf8').split('\n');
  const marked = lines.flatMap((line, k) => (line.includes('written by `datumlight plan`') ? [k] : []));
  expect(marked).toEqual([lines.length - 2]);
});

test('--markdown and --overlay replace their own files only; not the scenario, not a file of the user’s, not both on standard output', async () => {
  const dir = folder();
  writeFileSync(join(dir, 's.yaml'), soundScenario());
  expect(await datumlight(['make', 's.yaml', '--out', 'out/s'], { cwd: dir })).toMatchObject({ code: 0 });
  writeFileSync(join(dir, 's.yaml'), soundScenario().replace('2800', '2801'));
  const verify = (...args: string[]) =>
    datumlight(['batch', 's.yaml', '--out', 'out', '--verify', '--quiet', ...args], { cwd: dir });
  const both = ['--markdown', 'moved.md', '--overlay', 'laid'];
  for (const code of [3, 3]) expect(await verify(...both)).toMatchObject({ code, stderr: '' });
  writeFileSync(join(dir, 'notes.md'), '# mine\n');
  const before = treeOf(dir);
  for (const [message, ...args] of [
    [/s\.yaml is the input/, '--markdown', 's.yaml'],
    [/notes\.md already exists/, '--markdown', 'notes.md'],
    [/manifest\.json already exists/, '--markdown', 'out/s/manifest.json'],
    [/both the JSON and the Markdown/, '--markdown', '-', '--json'],
  ] as const) {
    const { code, stderr, stdout } = await verify(...args);
    expect({ args, code }).toEqual({ args, code: 2 });
    expect(stderr + stdout).toMatch(message);
  }
  expect(treeOf(dir)).toEqual(before);
  // An overlay that is the user's: the Markdown stays as it was too.
  writeFileSync(join(dir, 'laid', 's.svg'), '<svg/>');
  writeFileSync(join(dir, 's.yaml'), soundScenario().replace('2800', '2802'));
  const { code, stderr } = await verify(...both);
  expect(code).toBe(3);
  expect(stderr).toMatch(/laid\/s\.svg already exists/);
  expect(treeOf(dir)['moved.md']).toBe(before['moved.md']);
});
