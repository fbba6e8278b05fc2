/**
 * What the disk, a kill or another run can do to the executable: named errors, exit codes, nothing lost, no package half written.
 * A few kills here; hundreds, every command that writes and every change on the disk in the long tests beside.
 */
import { execFileSync } from 'node:child_process';
import { chmodSync, existsSync, mkdirSync, readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { expect, test } from 'vitest';
import { packageKilledAtRandom } from './support/kills.ts';
import { killedAtEachChange, ready } from './support/kills-at-changes.ts';
import { isRoot, noOtherUser, noSmallDisks, smallDisk, withoutRights } from './support/rights-and-disks.ts';
import { executable, folder, openScenario, scenarioFile, soundScenario } from './support/run.ts';

const withoutDisks = noSmallDisks();
const withoutOther = noOtherUser();

const noTrace = (text: string): void => expect(text).not.toMatch(/\n {4}at |node:internal/);

test('killed at random moments: the old package or the new one, never a mixture', async () => {
  await packageKilledAtRandom('make', 3, 'a few');
});

test('killed while the old package is cleared up: the rest of it goes with the next run, none comes along', async () => {
  const job = {
    args: ['make', 's.yaml', '--out', 'out'],
    prepare: async (dir: string) => {
      writeFileSync(join(dir, 's.yaml'), soundScenario());
      expect((await executable(['make', 's.yaml', '--out', 'out'], { cwd: dir })).code).toBe(0);
      writeFileSync(join(dir, 's.yaml'), soundScenario().replace('Sound', 'Changed'));
    },
    always: (dir: string) => {
      expect(existsSync(join(dir, 'out', 'manifest.json'))).toBe(true);
    },
  };
  const made = await ready(job);
  // Each of the old package's files is a change, and its folder, and they come last.
  const last = made.changes - Object.keys(made.undisturbed).length;
  expect(last).toBeGreaterThan(10);
  await killedAtEachChange(made, { from: last + 3, step: 6 });
});

/** Each command that writes, into `below` a folder. */
const writers = (below: string): readonly (readonly string[])[] => {
  const [scenario, open] = [scenarioFile(soundScenario()), scenarioFile(openScenario())];
  return [
    ['make', scenario, '--out', join(below, 'far', 'made')],
    ['batch', scenario, '--out', join(below, 'batch'), '--no-cache'],
    ['fringes', scenario, '--out', join(below, 'pictures'), '--patch', 'near-1', '--size', '16'],
    ['plan', open, '--out', join(below, 'planned.yaml'), '--reach', join(below, 'far', 'reach.svg')],
  ];
};

test.skipIf(withoutDisks)('a full disk: named, exit 2, the old package stays', async () => {
  const disk = smallDisk('1200k');
  try {
    const out = join(disk.path, 'out');
    const scenario = scenarioFile(soundScenario());
    expect((await executable(['make', scenario, '--out', out])).code).toBe(0);
    const before = readFileSync(join(out, 'manifest.json'), 'utf8');
    const left = Number(execFileSync('stat', ['-f', '-c', '%a', disk.path], { encoding: 'utf8' }));
    writeFileSync(join(disk.path, 'filler'), Buffer.alloc(left * 4096));
    writeFileSync(scenario, soundScenario().replace('Sound', 'Changed'));
    for (const args of [['make', scenario, '--out', out], ...writers(disk.path)]) {
      const { code, stderr } = await executable(args);
      expect({ args, code }).toEqual({ args, code: 2 });
      expect(stderr).toMatch(/ENOSPC.*free some space on the disk/s);
      noTrace(stderr);
    }
    expect(readFileSync(join(out, 'manifest.json'), 'utf8')).toBe(before);
    // A batch leaves the folder that it has begun.
    expect(readdirSync(disk.path).filter((name) => name !== 'batch')).toEqual(['filler', 'out']);
  } finally {
    disk.release();
  }
});

test.skipIf(withoutDisks)('a cache on a full disk is told of, and stops nothing', async () => {
  const disk = smallDisk('16k');
  try {
    const args = ['batch', scenarioFile(soundScenario()), '--out', join(folder(), 'out')];
    const { code, stderr } = await executable([...args, '--cache', join(disk.path, 'cache')]);
    expect(code).toBe(0);
    expect(stderr).toMatch(/some results could not be stored in the cache/);
  } finally {
    disk.release();
  }
});

test.skipIf(withoutDisks)('a disk that is only to be read: named, exit 2', async () => {
  const disk = smallDisk('1m');
  try {
    disk.readOnly();
    for (const args of writers(disk.path)) {
      const { code, stderr } = await executable(args);
      expect({ args, code }).toEqual({ args, code: 2 });
      expect(stderr).toMatch(/EROFS.*name a folder on a writable disk/s);
      noTrace(stderr);
    }
  } finally {
    disk.release();
  }
});

test.skipIf(withoutDisks)(
  'a folder that is a disk of its own, as in a container, is written in place',
  async () => {
    const disk = smallDisk('4m');
    try {
      const scenario = scenarioFile(soundScenario());
      writeFileSync(join(disk.path, 'notes.txt'), 'mine');
      expect((await executable(['make', scenario, '--out', disk.path])).code).toBe(0);
      writeFileSync(scenario, soundScenario().replace('Sound', 'Changed'));
      expect((await executable(['make', scenario, '--out', disk.path])).code).toBe(0);
      expect(readFileSync(join(disk.path, 'layout.svg'), 'utf8')).toContain('Changed');
      expect(readFileSync(join(disk.path, 'notes.txt'), 'utf8')).toBe('mine');
      expect(readdirSync(disk.path).filter((name) => name.startsWith('.'))).toEqual([]);
    } finally {
      disk.release();
    }
  },
);

test.skipIf(isRoot && withoutOther)(
  'missing rights: to the folder, its parent, the scenario; named, exit 2',
  async () => {
    const dir = folder();
    chmodSync(dir, 0o755);
    const scenario = join(dir, 's.yaml');
    writeFileSync(scenario, soundScenario());
    chmodSync(scenario, 0o644);
    mkdirSync(join(dir, 'closed'));
    chmodSync(join(dir, 'closed'), 0o555);
    mkdirSync(join(dir, 'shut', 'in'), { recursive: true });
    writeFileSync(join(dir, 'shut', 'in', 's.yaml'), soundScenario());
    chmodSync(join(dir, 'shut'), 0o000);
    writeFileSync(join(dir, 'secret.yaml'), soundScenario(), { mode: 0o000 });
    for (const args of [
      ['make', scenario, '--out', join(dir, 'closed')],
      ['make', scenario, '--out', join(dir, 'closed', 'below')],
      ['batch', scenario, '--out', join(dir, 'closed')],
      ['check', join(dir, 'secret.yaml')],
      ['check', join(dir, 'shut', 'in', 's.yaml')],
      ['batch', join(dir, 'shut', 'in', 's.yaml'), '--out', join(dir, 'closed')],
      ['batch', scenario, '--out', join(dir, 'shut', 'in')],
      ['make', scenario, '--out', join(dir, 'shut', 'in')],
      ['batch', join(dir, 'secret.yaml'), '--out', join(dir, 'closed'), '--verify'],
    ]) {
      const { code, stderr } = await withoutRights(args);
      expect({ args, code }).toEqual({ args, code: 2 });
      expect(stderr).toMatch(/EACCES|EPERM|permission/);
      noTrace(stderr);
    }
    chmodSync(join(dir, 'shut'), 0o755);
    expect(readdirSync(join(dir, 'closed'))).toEqual([]);
    expect(readdirSync(join(dir, 'shut', 'in'))).toEqual(['s.yaml']);
  },
);

test.skipIf(withoutOther)('a folder in a closed one, itself open, is written in place', async () => {
  const dir = folder();
  const scenario = join(dir, 's.yaml');
  const out = join(dir, 'out');
  writeFileSync(scenario, soundScenario());
  chmodSync(scenario, 0o644);
  mkdirSync(out);
  chmodSync(out, 0o777);
  chmodSync(dir, 0o755);
  for (const title of ['Sound', 'Changed']) {
    writeFileSync(scenario, soundScenario().replace('Sound', title));
    expect(await withoutRights(['make', scenario, '--out', out])).toMatchObject({ code: 0 });
    expect(readFileSync(join(out, 'layout.svg'), 'utf8')).toContain(title);
  }
});

test('runs into one directory at once: one whole package stands, no other trace', async () => {
  const dir = folder();
  const out = join(dir, 'out');
  const titles = ['Alder', 'Birch', 'Cedar', 'Damson'];
  const scenarios = titles.map((title) => scenarioFile(soundScenario().replace('Sound', title)));
  mkdirSync(out);
  writeFileSync(join(out, 'notes.txt'), 'mine');
  for (let round = 0; round < 2; round++) {
    const runs = await Promise.all(scenarios.map((scenario) => executable(['make', scenario, '--out', out])));
    expect(runs.map(({ code }) => code)).toEqual([0, 0, 0, 0]);
    const named = ['layout.svg', 'sheet.html', 'report.json'].map((name) => {
      const text = readFileSync(join(out, name), 'utf8');
      return titles.filter((title) => text.includes(title)).join();
    });
    expect(new Set(named).size).toBe(1);
    expect(readFileSync(join(out, 'notes.txt'), 'utf8')).toBe('mine');
    expect(readdirSync(dir)).toEqual(['out']);
  }
  rmSync(out, { recursive: true });
  expect(existsSync(out)).toBe(false);
});

test('the folder that the shell stands in stays the same folder', async () => {
  const dir = folder();
  const scenario = scenarioFile(soundScenario());
  for (const title of ['Sound', 'Changed']) {
    writeFileSync(scenario, soundScenario().replace('Sound', title));
    const { code } = await executable(['make', scenario, '--out', '.'], { cwd: dir });
    expect(code).toBe(0);
    expect(readFileSync(join(dir, 'layout.svg'), 'utf8')).toContain(title);
  }
});
