/** `batch` through the real executable: sweeps, the cache, shards and gathering, going on after a stop. */
import { spawn } from 'node:child_process';
import { existsSync, mkdirSync, readdirSync, readFileSync, rmSync, statSync, writeFileSync } from 'node:fs';
import { join, resolve } from 'node:path';
import { expect, test } from 'vitest';
import { datumlight, example, executable, folder, scenarioFile, soundScenario } from './support/run.ts';

const swept = (cases: number): string =>
  soundScenario(
    (text) =>
      `${text.replace('light:', 'parameters: {away: 2800 mm}\nlight:').replace('250, 2800', '250, away')}` +
      `sweep:\n  values: {away: {from: 2700 mm, to: 2900 mm, count: ${cases}}}\n`,
  );
const read = (...path: string[]): string => readFileSync(join(...path), 'utf8');

/** Every file under a folder with its contents. */
function tree(root: string): Record<string, string> {
  const names = readdirSync(root, { recursive: true, encoding: 'utf8' }).sort();
  return Object.fromEntries(
    names.filter((name) => statSync(join(root, name)).isFile()).map((name) => [name, read(root, name)]),
  );
}

test('makes a package for each scenario and case; one bad scenario stops no other; the code is the worst', async () => {
  const dir = folder();
  writeFileSync(join(dir, 'good.yaml'), soundScenario());
  writeFileSync(join(dir, 'swept.yaml'), swept(3));
  writeFileSync(join(dir, 'unit.yaml'), soundScenario().replace('632.8 nm', '632.8 nn'));
  writeFileSync(join(dir, 'broken.yaml'), soundScenario().replace('[60, 0]', '[2, 60]'));
  const { code, stdout, stderr } = await datumlight(['batch', '*.yaml', '--out', 'out', '--cache', 'cache'], {
    cwd: dir,
  });
  expect(code).toBe(2);
  expect(stdout).toContain('4 fine, 1 broken, 1 unusable');
  expect(stderr).toMatch(/unit: unusable\n.*unknown-unit/);
  expect(stderr).toMatch(/broken: broken\n.*patch-overlap/);
  expect(readdirSync(join(dir, 'out')).sort()).toEqual([
    'good',
    'overview.html',
    'summary.csv',
    'summary.json',
    'swept',
  ]);
  const summary = JSON.parse(read(dir, 'out', 'summary.json'));
  expect(
    summary.rows.map(({ name, outcome, written }: Record<string, unknown>) => [name, outcome, written]),
  ).toEqual([
    ['broken', 'broken', false],
    ['good', 'fine', true],
    ['swept/1', 'fine', true],
    ['swept/2', 'fine', true],
    ['swept/3', 'fine', true],
    ['unit', 'unusable', false],
  ]);
  expect(summary.rows[3].parameters).toEqual([{ name: 'away', unit: 'mm', value: 2800 }]);
  const [head, ...rows] = read(dir, 'out', 'summary.csv').trimEnd().split('\n');
  expect(head).toContain(',away_mm,');
  expect(rows).toHaveLength(6);
  const page = read(dir, 'out', 'overview.html');
  expect(page.match(/<img loading="lazy" src="swept\/\d\/layout.svg#svgView\(/g)).toHaveLength(3);

  const alone = await datumlight(['make', 'good.yaml', '--out', 'alone'], { cwd: dir });
  expect(alone.code).toBe(0);
  expect(tree(join(dir, 'out', 'good'))).toEqual(tree(join(dir, 'alone')));

  const again = await datumlight(['batch', '*.yaml', '--out', 'out', '--cache', 'cache', '--json'], {
    cwd: dir,
  });
  expect(again.code).toBe(2);
  expect(JSON.parse(again.stdout)).toMatchObject({ made: 0, cached: 6, total: 6 });
});

test('what the cache gives is what was made, even into another folder and after the packages were damaged', async () => {
  const dir = folder();
  writeFileSync(join(dir, 's.yaml'), swept(3));
  const run = (out: string, ...more: string[]) =>
    datumlight(['batch', 's.yaml', '--out', out, '--json', '--cache', 'cache', ...more], { cwd: dir });
  await run('first');
  const first = tree(join(dir, 'first'));
  writeFileSync(join(dir, 'first', 's', '2', 'layout.svg'), 'edited');
  rmSync(join(dir, 'first', 's', '3'), { recursive: true });
  expect(JSON.parse((await run('first')).stdout)).toMatchObject({ made: 0, cached: 3 });
  expect(tree(join(dir, 'first'))).toEqual(first);
  await run('second');
  expect(tree(join(dir, 'second'))).toEqual(first);
  const fresh = await datumlight(['batch', 's.yaml', '--out', 'third', '--no-cache', '--json'], { cwd: dir });
  expect(JSON.parse(fresh.stdout)).toMatchObject({ made: 3, cached: 0 });
  expect(tree(join(dir, 'third'))).toEqual(first);
});

test('a changed datum remakes only the scenario that has it', async () => {
  const dir = folder();
  for (const name of ['a', 'b', 'c']) {
    writeFileSync(join(dir, `${name}.yaml`), soundScenario().replace('title: Sound', `title: Sound ${name}`));
  }
  const run = () =>
    datumlight(['batch', '*.yaml', '--out', 'out', '--json', '--cache', 'cache'], { cwd: dir });
  await run();
  writeFileSync(join(dir, 'b.yaml'), read(dir, 'b.yaml').replace('[90, 20, 130]', '[90, 20, 131]'));
  expect(JSON.parse((await run()).stdout)).toMatchObject({ made: 1, cached: 2 });
});

test('shards gathered in any order are one run, byte for byte; a missing or doubled part is named', async () => {
  const dir = folder();
  writeFileSync(join(dir, 's.yaml'), swept(5));
  writeFileSync(join(dir, 'bad.yaml'), 'format: nonsense\n');
  const run = (...args: string[]) => datumlight(['batch', ...args], { cwd: dir });
  await run('*.yaml', '--out', 'whole', '--no-cache');
  for (const part of [1, 2, 3])
    await run('*.yaml', '--out', `p${part}`, '--shard', `${part}/3`, '--no-cache');
  const gathered = await run('--gather', 'p3', 'p1', 'p2', '--out', 'joined');
  expect(gathered.code).toBe(2);
  expect(tree(join(dir, 'joined'))).toEqual(tree(join(dir, 'whole')));
  const missing = await run('--gather', 'p3', 'p1', '--out', 'none');
  expect(missing).toMatchObject({ code: 2 });
  expect(missing.stderr).toMatch(/entries are missing from the shards/);
  const doubled = await run('--gather', 'p1', 'p2', 'p3', 'p2', '--out', 'none');
  expect(doubled.stderr).toMatch(/which p2 also contains/);
  expect(existsSync(join(dir, 'none'))).toBe(false);
});

test.each([['--cache', 'cache'], ['--no-cache']])(
  'a stopped run goes on where it was: %s %s',
  async (...cache) => {
    const dir = folder();
    writeFileSync(join(dir, 's.yaml'), swept(25));
    const args = ['batch', 's.yaml', '--out', 'out', '--jobs', '1', '--json', ...cache];
    const child = spawn(process.execPath, [resolve('bin/datumlight.js'), ...args], { cwd: dir });
    let said = '';
    child.stderr.on('data', (chunk) => {
      said += chunk;
    });
    const ended = new Promise<NodeJS.Signals | null>((done) => child.on('exit', (_, signal) => done(signal)));
    // Once the first package is there.
    while (!existsSync(join(dir, 'out', 's'))) await new Promise((again) => setTimeout(again, 5));
    child.kill('SIGINT');
    expect(await ended).toBe('SIGINT');
    expect(said).toContain('run the same command to continue');
    const { code, stdout } = await datumlight(args, { cwd: dir });
    expect(code).toBe(0);
    const { made, cached } = JSON.parse(stdout);
    expect(made + cached).toBe(25);
    expect(cached).toBeGreaterThan(0);
    expect(readdirSync(join(dir, 'out', 's'))).toHaveLength(25);
    expect(readdirSync(join(dir, 'out')).sort()).toEqual([
      'overview.html',
      's',
      'summary.csv',
      'summary.json',
    ]);
  },
);

test('several runs at once share a cache and an --out', async () => {
  const dir = folder();
  writeFileSync(join(dir, 's.yaml'), swept(6));
  const args = ['batch', 's.yaml', '--out', 'out', '--cache', 'cache'];
  const runs = await Promise.all([1, 2, 3].map(() => datumlight(args, { cwd: dir })));
  expect(runs.map(({ code }) => code)).toEqual([0, 0, 0]);
  await datumlight(['batch', 's.yaml', '--out', 'alone', '--no-cache'], { cwd: dir });
  expect(tree(join(dir, 'out'))).toEqual(tree(join(dir, 'alone')));
});

test.each([
  [['nothing-*.yaml', '--out', 'out'], /no file matches the pattern/],
  [['s.yaml', '--out', 'out', '--shard', '0/3'], /--shard.*2\/4/],
  [['s.yaml', '--out', 'out', '--jobs', 'many'], /--jobs.*whole number/],
  [['s.yaml', '--out', 'out', '--cache-size', 'much'], /--cache-size/],
  [['s.yaml', '--out', 's.yaml'], /is the input s.yaml/],
  [['.', '--out', 'out'], /is not a file/],
  [['--gather', 's.yaml', '--out', 'out'], /cannot be read/],
  [['s.yaml', '--out', 'out', '--markdown', 'x.md'], /add `--verify`/],
])('what cannot be used is told, exit 2: %j', async (args, message) => {
  const dir = folder();
  writeFileSync(join(dir, 's.yaml'), soundScenario());
  const { code, stderr } = await executable(['batch', ...args], {
    cwd: dir,
    env: { XDG_CACHE_HOME: join(dir, 'c') },
  });
  expect(code).toBe(2);
  expect(stderr).toMatch(message);
  expect(stderr).not.toMatch(/\n {4}at /);
});

test('the cache lies in the user’s cache folder unless told otherwise', async () => {
  const [dir, home] = [folder(), folder()];
  mkdirSync(join(home, 'cache'));
  const args = ['batch', scenarioFile(soundScenario()), '--out', join(dir, 'out')];
  await executable(args, { env: { XDG_CACHE_HOME: join(home, 'cache') } });
  expect(readdirSync(join(home, 'cache'))).toEqual(['datumlight']);
  await executable(args, { env: { XDG_CACHE_HOME: '', HOME: home } });
  expect(existsSync(join(home, '.cache', 'datumlight'))).toBe(true);
});

test('examples are found by a pattern that the shell left alone', async () => {
  const out = join(folder(), 'out');
  const pattern = example('*').replace('.yaml', '{balls,collimated}.yaml').replace('*{', '*-{');
  const { code, stdout } = await datumlight(['batch', pattern, '--out', out, '--no-cache']);
  expect(code).toBe(0);
  expect(stdout).toContain('2 fine');
});
