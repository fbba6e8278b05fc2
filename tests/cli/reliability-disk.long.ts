/**
 * What a disk can say to each command that writes: it is full, only to be read, another's; the target is something else, or part of its
 * path is. Each is named, exit 2, and what stood there stands there still.
 */
import { execFileSync } from 'node:child_process';
import {
  chmodSync,
  existsSync,
  mkdirSync,
  readdirSync,
  readFileSync,
  statSync,
  symlinkSync,
  writeFileSync,
} from 'node:fs';
import { join } from 'node:path';
import process from 'node:process';
import { describe, expect, test } from 'vitest';
import { treeOf } from './support/kills-at-changes.ts';
import {
  isRoot,
  noOtherUser,
  noSmallDisks,
  openForAll,
  smallDisk,
  withoutRights,
} from './support/rights-and-disks.ts';
import { executable, folder, openScenario, scenarioFile, soundScenario } from './support/run.ts';

const withoutDisks = noSmallDisks();
const withoutOther = isRoot && noOtherUser();

const noTrace = (text: string): void => expect(text).not.toMatch(/\n {4}at |node:internal|internal error/);

interface Writer {
  /** The scenario's text. */
  readonly text: () => string;
  readonly args: (scenario: string, out: string) => readonly string[];
  readonly writes: 'folder' | 'file';
}

const WRITERS: Record<string, Writer> = {
  make: { text: soundScenario, args: (file, out) => ['make', file, '--out', out], writes: 'folder' },
  batch: {
    text: soundScenario,
    args: (file, out) => ['batch', file, '--out', out, '--no-cache'],
    writes: 'folder',
  },
  fringes: {
    text: soundScenario,
    args: (file, out) => ['fringes', file, '--out', out, '--patch', 'near-1', '--size', '32'],
    writes: 'folder',
  },
  plan: { text: openScenario, args: (file, out) => ['plan', file, '--out', out, '--quiet'], writes: 'file' },
  'plan --reach': {
    text: openScenario,
    args: (file, out) => ['plan', file, '--out', join(folder(), 'planned.yaml'), '--reach', out, '--quiet'],
    writes: 'file',
  },
  'batch --gather': {
    text: soundScenario,
    args: (file, out) => ['batch', '--gather', join(file, '..', 'part'), '--out', out],
    writes: 'folder',
  },
  'batch --verify --markdown': {
    text: soundScenario,
    args: (file, out) => [
      ...['batch', file, '--out', join(file, '..', 'part'), '--no-cache', '--verify', '--markdown', out],
    ],
    writes: 'file',
  },
};

/** The scenario, and the part of a batch that two of the commands need. */
async function scenarioOf({ text }: Writer, name: string): Promise<string> {
  const file = scenarioFile(text());
  if (name.startsWith('batch --')) {
    const part = await executable(['batch', file, '--out', join(file, '..', 'part'), '--no-cache']);
    expect(part.code).toBe(0);
  }
  return file;
}

describe.each(Object.entries(WRITERS))('%s', (name, writer) => {
  const isFolder = writer.writes === 'folder';

  test.skipIf(withoutDisks)('a full disk, then one that is only to be read', async () => {
    const disk = smallDisk('4m');
    try {
      const scenario = await scenarioOf(writer, name);
      const out = join(disk.path, 'out');
      expect((await executable(writer.args(scenario, out))).code).toBe(0);
      if (isFolder) writeFileSync(join(out, 'notes.txt'), 'mine');
      const left = Number(execFileSync('stat', ['-f', '-c', '%a', disk.path], { encoding: 'utf8' }));
      writeFileSync(join(disk.path, 'filler'), Buffer.alloc(left * 4096));
      const before = treeOf(disk.path);
      // Another title: a batch has to make it again.
      writeFileSync(scenario, readFileSync(scenario, 'utf8').replace(/^title: .*$/m, 'title: Changed'));
      if (name === 'batch --gather') {
        const again = ['batch', scenario, '--out', join(scenario, '..', 'part'), '--no-cache'];
        expect((await executable(again)).code).toBe(0);
      }
      for (const fault of ['ENOSPC', 'EROFS']) {
        if (fault === 'EROFS') disk.readOnly();
        const { code, stderr } = await executable(writer.args(scenario, out));
        // What --verify found is told beside: a difference is the larger exit code.
        expect({ fault, code, stderr }).toMatchObject({ fault, code: name.includes('--verify') ? 3 : 2 });
        expect(stderr).toContain(fault);
        expect(stderr).toMatch(/free some space on the disk|on a writable disk/);
        noTrace(stderr);
        expect(treeOf(disk.path)).toEqual(before);
      }
    } finally {
      disk.release();
    }
  });

  test.skipIf(withoutOther)('no right to write there', async () => {
    const scenario = await scenarioOf(writer, name);
    openForAll(join(scenario, '..'));
    const closed = join(folder(), 'closed');
    mkdirSync(closed);
    chmodSync(closed, 0o555);
    chmodSync(join(closed, '..'), 0o755);
    const { code, stderr } = await withoutRights(writer.args(scenario, join(closed, 'out')));
    expect({ code, stderr }).toMatchObject({ code: 2 });
    expect(stderr).toMatch(/EACCES.*name a folder that you may write to/s);
    noTrace(stderr);
    expect(readdirSync(closed)).toEqual([]);
  });

  test('the target is something else, or a part of its path is', async () => {
    const scenario = await scenarioOf(writer, name);
    const dir = folder();
    writeFileSync(join(dir, 'file'), 'mine');
    mkdirSync(join(dir, 'folder'));
    writeFileSync(join(dir, 'folder', 'notes.txt'), 'mine');
    const before = treeOf(dir);
    for (const out of [isFolder ? 'file' : 'folder', 'file/below', 'file/far/below']) {
      const { code, stderr } = await executable(writer.args(scenario, join(dir, out)));
      expect({ out, code, stderr }).toMatchObject({ out, code: 2 });
      expect(stderr).toMatch(/not-writable/);
      noTrace(stderr);
      expect(treeOf(dir)).toEqual(before);
    }
  });

  test('several runs at once: one whole result, no other trace', async () => {
    const scenario = await scenarioOf(writer, name);
    const dir = folder();
    const out = join(dir, 'out');
    const alone = join(folder(), 'alone');
    expect((await executable(writer.args(scenario, alone))).code).toBe(0);
    if (isFolder) {
      mkdirSync(out);
      writeFileSync(join(out, 'notes.txt'), 'mine');
      writeFileSync(join(alone, 'notes.txt'), 'mine');
    }
    const runs = await Promise.all([1, 2, 3].map(() => executable(writer.args(scenario, out))));
    for (const run of runs) expect(run).toMatchObject({ code: 0 });
    const [together, by] = [treeOf(dir), treeOf(join(alone, '..'))];
    expect(Object.keys(together)).toEqual(Object.keys(by).map((one) => one.replace(/^alone/, 'out')));
    expect(Object.values(together)).toEqual(Object.values(by));
  });
});

test('files that datumlight did not write are never replaced: named, exit 2, nothing written', async () => {
  for (const [name, foreign] of [
    ['make', 'layout.dxf'],
    ['make', 'manifest.json'],
    ['fringes', 'fringes.html'],
    ['batch', 'summary.csv'],
    ['batch', 'summary.json'],
    ['batch', 'overview.html'],
    ['batch --gather', 'summary.csv'],
  ] as const) {
    const writer = WRITERS[name]!;
    const scenario = await scenarioOf(writer, name);
    const out = folder();
    writeFileSync(join(out, foreign), 'index of what is mine');
    const { code, stderr } = await executable(writer.args(scenario, out));
    expect({ name, foreign, code }).toEqual({ name, foreign, code: 2 });
    expect(stderr).toContain(`${foreign} already exists and was not written by datumlight`);
    expect(treeOf(out)).toEqual({ [foreign]: 'index of what is mine' });
  }
});

test('a batch stands beside what is the user’s, in its folder and in those of its packages', async () => {
  const dir = folder();
  const [out, scenario] = [join(dir, 'out'), join(dir, 's.yaml')];
  mkdirSync(join(out, 's'), { recursive: true });
  for (const place of [out, join(out, 's')]) writeFileSync(join(place, 'notes.txt'), 'mine');
  for (const title of ['Sound', 'Changed']) {
    writeFileSync(scenario, soundScenario().replace('Sound', title));
    expect((await executable(['batch', scenario, '--out', out, '--no-cache'])).code).toBe(0);
    for (const place of [out, join(out, 's')])
      expect(readFileSync(join(place, 'notes.txt'), 'utf8')).toBe('mine');
  }
});

test('a plan goes where a link leads, keeps the mode of the file there, and never replaces a device', async () => {
  const dir = folder();
  const [open, real, link] = ['open.yaml', 'real.yaml', 'link.yaml'].map((name) => join(dir, name)) as [
    string,
    string,
    string,
  ];
  writeFileSync(open, openScenario());
  writeFileSync(real, '', { mode: 0o600 });
  symlinkSync('real.yaml', link);
  expect((await executable(['plan', open, '--out', link, '--quiet'])).code).toBe(0);
  expect(readFileSync(real, 'utf8')).toContain('# plan: centre');
  expect(statSync(real).mode & 0o777).toBe(0o600);
  expect(readdirSync(dir).sort()).toEqual(['link.yaml', 'open.yaml', 'real.yaml']);
  expect((await executable(['plan', open, '--out', '/dev/null', '--quiet'])).code).toBe(0);
  expect(statSync('/dev/null').isCharacterDevice()).toBe(true);
});

test.skipIf(!existsSync('/dev/full'))('standard output on a full disk: named, exit 2', () => {
  const [sound, open] = [scenarioFile(soundScenario()), scenarioFile(openScenario())];
  for (const command of [
    `check ${sound} --json`,
    `check ${sound}`,
    `plan ${open} --out - --quiet`,
    'completion bash',
  ]) {
    const shell = `"${process.execPath}" bin/datumlight.js ${command} 2>&1 >/dev/full; echo "exit $?"`;
    const said = execFileSync('sh', ['-c', shell], { encoding: 'utf8' });
    expect(said).toMatch(/standard output cannot be written: ENOSPC.*\nexit 2\n$/s);
    noTrace(said);
  }
});
