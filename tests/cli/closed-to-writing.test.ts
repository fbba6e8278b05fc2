/**
 * What its owner has closed to writing (chmod a-w) stays as it is, though the folder around it is open and a rename would ask for no more:
 * a named error, exit 2. For root too, whom rights do not bind.
 */
import { chmodSync, chownSync, readFileSync, statSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { expect, test } from 'vitest';
import { treeOf } from './support/kills-at-changes.ts';
import { NOBODY, noOtherUser, openForAll, withoutRights } from './support/rights-and-disks.ts';
import { datumlight, folder, openScenario, soundScenario } from './support/run.ts';

interface Closing {
  readonly text: string;
  readonly args: readonly string[];
  /** What is closed, and compared. */
  readonly closed: string;
}

const FRINGES = ['fringes', 's.yaml', '--out', 'out', '--patch', 'near-1', '--size', '16'];
const CASES: Readonly<Record<string, Closing>> = {
  'a package': { text: soundScenario(), args: ['make', 's.yaml', '--out', 'out'], closed: 'out' },
  'a folder of pictures': { text: soundScenario(), args: FRINGES, closed: 'out' },
  'the folder of a batch': {
    text: soundScenario(),
    args: ['batch', 's.yaml', '--out', 'out', '--no-cache'],
    closed: 'out',
  },
  'a package of a batch': {
    text: soundScenario(),
    args: ['batch', 's.yaml', '--out', 'out', '--no-cache'],
    closed: 'out/s',
  },
  'a planned scenario': {
    text: openScenario(),
    args: ['plan', 's.yaml', '--out', 'planned.yaml', '--quiet'],
    closed: 'planned.yaml',
  },
};

/** Files and their contents at a path, and its mode. */
function standing(path: string): unknown {
  const stats = statSync(path);
  return [stats.mode & 0o777, stats.isFile() ? readFileSync(path, 'utf8') : treeOf(path)];
}
const withoutWriting = (path: string): void => chmodSync(path, statSync(path).mode & 0o555);
const changed = (text: string): string => text.replace(/^title: .*$/m, 'title: Changed');

test.each(Object.entries(CASES))('%s', async (_, { text, args, closed }) => {
  const dir = folder();
  writeFileSync(join(dir, 's.yaml'), text);
  expect(await datumlight(args, { cwd: dir })).toMatchObject({ code: 0 });
  writeFileSync(join(dir, 's.yaml'), changed(text));
  withoutWriting(join(dir, closed));
  const before = standing(join(dir, closed));
  const { code, stderr } = await datumlight(args, { cwd: dir });
  expect(stderr).toMatch(/EACCES.*you may write to/s);
  expect({ code, after: standing(join(dir, closed)) }).toEqual({ code: 2, after: before });
  chmodSync(join(dir, closed), 0o755);
  expect(await datumlight(args, { cwd: dir })).toMatchObject({ code: 0 });
  expect(standing(join(dir, closed))).not.toEqual(before);
});

test('gathered parts', async () => {
  const dir = folder();
  writeFileSync(join(dir, 's.yaml'), soundScenario());
  const part = ['batch', 's.yaml', '--out', 'part', '--no-cache'];
  expect(await datumlight(part, { cwd: dir })).toMatchObject({ code: 0 });
  const gather = ['batch', '--gather', 'part', '--out', 'out'];
  expect(await datumlight(gather, { cwd: dir })).toMatchObject({ code: 0 });
  withoutWriting(join(dir, 'out'));
  const before = standing(join(dir, 'out'));
  const { code, stderr } = await datumlight(gather, { cwd: dir });
  expect(stderr).toMatch(/EACCES.*you may write to/s);
  expect({ code, after: standing(join(dir, 'out')) }).toEqual({ code: 2, after: before });
  chmodSync(join(dir, 'out'), 0o755);
});

test.skipIf(noOtherUser())(
  'an owner without rights beyond its own files is bound by the closing too',
  async () => {
    const dir = folder();
    const [scenario, out] = [join(dir, 's.yaml'), join(dir, 'out')];
    writeFileSync(scenario, soundScenario());
    openForAll(dir);
    chownSync(dir, NOBODY, NOBODY);
    expect(await withoutRights(['make', scenario, '--out', out])).toMatchObject({ code: 0 });
    withoutWriting(out);
    const before = standing(out);
    writeFileSync(scenario, changed(soundScenario()));
    const { code, stderr } = await withoutRights(['make', scenario, '--out', out]);
    expect(stderr).toMatch(/EACCES.*you may write to/s);
    expect({ code, after: standing(out) }).toEqual({ code: 2, after: before });
  },
);
