/**
 * All files of one command take their places or none does, through the real executable: `plan` writes the scenario and the reach map over
 * its own earlier ones while the disk says no at one change after the other, both renames among them.
 */
import { readdirSync, readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { expect, test } from 'vitest';
import { ready, refusedAtEachChange } from './support/kills-at-changes.ts';
import { executable, folder, openScenario } from './support/run.ts';

const ARGS = ['plan', 'open.yaml', '--out', 'planned.yaml', '--reach', 'maps/reach.svg', '--quiet'];
/** Two files written aside, given the old modes and renamed; a second name for the first, and its end. */
const LEAST_CHANGES = 8;

test('plan: the disk fails at any one of the last changes, and both files are the old ones or both are the new ones', async () => {
  const seen = new Set<string>();
  const titleOf = (dir: string, name: string, title: RegExp): string =>
    title.exec(readFileSync(join(dir, name), 'utf8'))![1]!;
  const made = await ready({
    args: ARGS,
    prepare: async (dir) => {
      writeFileSync(join(dir, 'open.yaml'), openScenario());
      expect(await executable(ARGS, { cwd: dir })).toMatchObject({ code: 0 });
      writeFileSync(join(dir, 'open.yaml'), openScenario().replace('Open', 'Changed'));
    },
    always: (dir) => {
      const planned = titleOf(dir, 'planned.yaml', /^title: (\w+)$/m);
      expect(titleOf(dir, 'maps/reach.svg', /Reach map: (\w+)</)).toBe(planned);
      seen.add(planned);
    },
  });
  expect(made.changes).toBeGreaterThanOrEqual(LEAST_CHANGES);
  // From the second name on, whose end counts as two changes (rmSync calls unlinkSync): only the two renames cannot be gone without.
  const { refused } = await refusedAtEachChange(made, 'EIO', { from: made.changes - 4 });
  expect(refused).toBe(2);
  expect([...seen].sort()).toEqual(['Changed', 'Open']);
});

test('plan: where the second cannot be written nothing of the first is left, nor the folder made for it', async () => {
  const dir = folder();
  writeFileSync(join(dir, 'open.yaml'), openScenario());
  writeFileSync(join(dir, 'file'), 'mine');
  const args = [
    'plan',
    'open.yaml',
    '--out',
    'far/below/planned.yaml',
    '--reach',
    'file/reach.svg',
    '--quiet',
  ];
  const { code, stderr } = await executable(args, { cwd: dir });
  expect({ code, stderr }).toMatchObject({ code: 2 });
  expect(stderr).toMatch(/file\/reach\.svg cannot be written.*not-writable/);
  expect(readdirSync(dir).sort()).toEqual(['file', 'open.yaml']);
});

test('plan: several runs into the same files at once: whole files, no other trace', async () => {
  const dir = folder();
  writeFileSync(join(dir, 'open.yaml'), openScenario());
  const alone = await executable(ARGS, { cwd: dir });
  expect(alone).toMatchObject({ code: 0 });
  const before = ['planned.yaml', 'maps/reach.svg'].map((name) => readFileSync(join(dir, name), 'utf8'));
  const runs = await Promise.all([1, 2, 3].map(() => executable(ARGS, { cwd: dir })));
  expect(runs.map(({ code }) => code)).toEqual([0, 0, 0]);
  expect(['planned.yaml', 'maps/reach.svg'].map((name) => readFileSync(join(dir, name), 'utf8'))).toEqual(
    before,
  );
  expect(readdirSync(dir, { recursive: true }).sort()).toEqual([
    'maps',
    'maps/reach.svg',
    'open.yaml',
    'planned.yaml',
  ]);
});
