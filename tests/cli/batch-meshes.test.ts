/** `batch` of scenarios that name a mesh, through the real executable: found beside the scenario, known to cache and `--verify`. */
import { createHash } from 'node:crypto';
import { mkdirSync, readdirSync, readFileSync, rmSync, statSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { expect, test, vi } from 'vitest';
import { datumlight, folder, soundScenario } from './support/run.ts';

// Many runs of the executable in each test.
vi.setConfig({ testTimeout: 120_000 });

const MESH = "part: {envelope: [{mesh: {file: 'parts/cell.stl'}}]}\n";
const meshed = soundScenario((text) => text.replace('references:', `${MESH}references:`));
const swept = (cases: number): string =>
  `${meshed.replace('light:', 'parameters: {away: 2800 mm}\nlight:').replace('250, 2800', '250, away')}` +
  `sweep:\n  values: {away: {from: 2700 mm, to: 2900 mm, count: ${cases}}}\n`;

/** One triangle across the way from the patch north-1 to its reference, moved by `aside` mm along x. */
const stl = (aside: number): string =>
  `solid s\nfacet normal 0 0 1\nouter loop\nvertex ${aside - 60} 80 1400\nvertex ${aside + 60} 80 1400\n` +
  `vertex ${aside} 300 1400\nendloop\nendfacet\nendsolid s\n`;

function bench(text: string): string {
  const dir = folder();
  mkdirSync(join(dir, 'parts'));
  writeFileSync(join(dir, 's.yaml'), text);
  writeFileSync(join(dir, 'parts', 'cell.stl'), stl(1000));
  return dir;
}

const run = (dir: string, ...args: string[]) => datumlight(['batch', ...args], { cwd: dir });

/** The summary of `batch … --json`. */
async function summary(dir: string, ...args: string[]) {
  const { code, stdout } = await run(dir, 's.yaml', '--out', 'out', '--cache', 'cache', '--json', ...args);
  const { made, cached, rows } = JSON.parse(stdout);
  return { code, made, cached, rules: rows[0].rules, outcome: rows[0].outcome };
}

function tree(root: string): Record<string, string> {
  const names = readdirSync(root, { recursive: true, encoding: 'utf8' }).sort();
  return Object.fromEntries(
    names
      .filter((name) => statSync(join(root, name)).isFile())
      .map((name) => [name, readFileSync(join(root, name), 'utf8')]),
  );
}

test('the package is what `make` makes; a changed mesh is made anew, a known one comes from the cache', async () => {
  const dir = bench(meshed);
  const mesh = join(dir, 'parts', 'cell.stl');
  expect(await summary(dir)).toMatchObject({ code: 0, made: 1, outcome: 'fine' });
  await datumlight(['make', 's.yaml', '--out', 'alone'], { cwd: dir });
  expect(tree(join(dir, 'out', 's'))).toEqual(tree(join(dir, 'alone')));
  const hash = (): string => createHash('sha256').update(readFileSync(mesh)).digest('hex');
  const recorded = () =>
    JSON.parse(readFileSync(join(dir, 'out/s/manifest.json'), 'utf8')).scenario.files['parts/cell.stl']
      .sha256;
  expect(recorded()).toBe(hash());
  expect(await summary(dir)).toMatchObject({ made: 0, cached: 1 });

  writeFileSync(mesh, stl(1100));
  expect(await summary(dir)).toMatchObject({ code: 0, made: 1, outcome: 'fine' });
  expect(recorded()).toBe(hash());
  writeFileSync(mesh, stl(0));
  expect(await summary(dir)).toMatchObject({
    code: 1,
    made: 1,
    outcome: 'broken',
    rules: ['blocked', 'not-observed'],
  });
  writeFileSync(mesh, stl(1000));
  expect(await summary(dir)).toMatchObject({ code: 0, made: 0, cached: 1, outcome: 'fine' });
  expect(recorded()).toBe(hash());
});

test('a missing mesh is a finding of that scenario alone, the same in any folder, and forgotten once it is there', async () => {
  const dir = bench(meshed);
  writeFileSync(join(dir, 'other.yaml'), soundScenario());
  rmSync(join(dir, 'parts', 'cell.stl'));
  const first = await run(dir, '*.yaml', '--out', 'out', '--cache', 'cache');
  expect(first.code).toBe(2);
  expect(first.stdout).toContain('1 fine, 1 unusable');
  expect(first.stderr).toMatch(
    /s: unusable\n.*s\.yaml:9:\d+: the mesh `parts\/cell\.stl` cannot be read: no such file/,
  );
  expect(readFileSync(join(dir, 'out', 'summary.json'), 'utf8')).not.toContain(dir);
  writeFileSync(join(dir, 'parts', 'cell.stl'), stl(1000));
  const second = await run(dir, '*.yaml', '--out', 'out', '--cache', 'cache');
  expect([second.code, second.stdout]).toEqual([0, 'out: 2 fine; 1 made, 1 from the cache\n']);
});

test('a sweep on two workers, in parts and gathered, is one run; parts with different meshes are not joined', async () => {
  const dir = bench(swept(6));
  const whole = await run(dir, 's.yaml', '--out', 'whole', '--no-cache', '--jobs', '2');
  expect([whole.code, whole.stdout]).toEqual([0, 'whole: 6 fine; 6 made, 0 from the cache\n']);
  const part = (k: number) =>
    run(dir, 's.yaml', '--out', `p${k}`, '--shard', `${k}/2`, '--no-cache', '--jobs', '2');
  await part(1);
  await part(2);
  expect((await run(dir, '--gather', 'p1', 'p2', '--out', 'joined')).code).toBe(0);
  expect(tree(join(dir, 'joined'))).toEqual(tree(join(dir, 'whole')));
  writeFileSync(join(dir, 'parts', 'cell.stl'), stl(1100));
  await part(2);
  const refused = await run(dir, '--gather', 'p1', 'p2', '--out', 'other');
  expect(refused.code).toBe(2);
  expect(refused.stderr).toContain('does not belong to the same batch as');
});

test('`--verify` knows the mesh: 0 while it stands, 3 when its bytes are others though no figure moved', async () => {
  const dir = bench(meshed);
  await run(dir, 's.yaml', '--out', 'out', '--no-cache');
  const verify = () => run(dir, 's.yaml', '--out', 'out', '--verify');
  expect((await verify()).code).toBe(0);
  writeFileSync(join(dir, 'parts', 'cell.stl'), stl(1100));
  const moved = await verify();
  expect(moved.code).toBe(3);
  expect(moved.stdout).toMatch(/ file parts\/cell\.stl\.sha256: [0-9a-f]{64} -> [0-9a-f]{64}/);
  rmSync(join(dir, 'parts', 'cell.stl'));
  const gone = await verify();
  expect(gone.code).toBe(3);
  expect(gone.stdout).toContain('exists, but its scenario no longer gives one');
});

test('names by escapes, aliases and twice over: each file once in the manifest', async () => {
  const dir = bench(
    soundScenario((text) =>
      text.replace(
        'references:',
        'part: {envelope: [{"\\x6desh": &m {file: parts/cell.stl}}, {mesh: *m}, {mesh: {file: other.stl, scale: 2}}]}\nreferences:',
      ),
    ),
  );
  writeFileSync(join(dir, 'other.stl'), stl(2000));
  expect(await summary(dir)).toMatchObject({ code: 0, made: 1, outcome: 'fine' });
  const { scenario } = JSON.parse(readFileSync(join(dir, 'out/s/manifest.json'), 'utf8'));
  expect(Object.keys(scenario.files)).toEqual(['other.stl', 'parts/cell.stl']);
});
