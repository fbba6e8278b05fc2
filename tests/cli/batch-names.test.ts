/**
 * Names of scenario files that cannot name a package's folder, or not on every system: refused before anything is written, with what
 * to do. Reserved device names are those of Windows ("Naming Files, Paths, and Namespaces", from memory).
 */
import { existsSync, readdirSync, readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, test } from 'vitest';
import { folderNameFault, packageNameFaults } from '../../src/batch/package-names.ts';
import { datumlight, folder, soundScenario } from './support/run.ts';

const faultOf = (...files: string[]): string =>
  packageNameFaults(files, 'out', ['out/cache/datumlight', 'out/Moved.md', 'elsewhere', '-'])
    .map(({ where, message, hint }) => `${where}: ${message}; ${hint}`)
    .join('\n');

describe('a name that cannot be a folder on every system', () => {
  test.each([
    ['..yaml', /starts with a dot/],
    ['...yaml', /starts with a dot/],
    ['.yaml', /starts with a dot/],
    ['.datumlight-unfinished.yaml', /starts with a dot/],
    ['.north.new-host-1-0x1x1.yaml', /starts with a dot/],
    ['a..b.yaml', /contains `\.\.`/],
    ['summary.json.yaml', /another output/],
    ['Summary.CSV.yml', /another output/],
    ['overview.html.datumlight', /another output/],
    ['manifest.json.yaml', /another output/],
    ['cache.yaml', /another output/],
    ['moved.md.yaml', /another output/],
    ['CON.yaml', /reserved device name/],
    ['NUL.yml', /reserved device name/],
    ['com1.txt.yaml', /reserved device name/],
    ['LPT¹.yaml', /reserved device name/],
    ['conin$.yaml', /reserved device name/],
    ['a .yaml', /ends with a space or a dot/],
    ['a..yaml', /ends with a space or a dot/],
    [' a.yaml', /starts with a space/],
    ['-rf.yaml', /starts with `-`/],
    ['a\tb.yaml', /invisible or control/],
    ['a\nb.yaml', /invisible or control/],
    ['a\x1b[31mb.yaml', /invisible or control/],
    ['a\u202eb.yaml', /invisible or control/],
    ['a\u200bb.yaml', /invisible or control/],
    ['a\ufeff.yaml', /invisible or control/],
    ['a\ue000.yaml', /invisible or control/],
    ['a\u00a0b.yaml', /contains "\u00a0"/],
    ['a:b.yaml', /contains ":"/],
    ['a|b.yaml', /contains "\|"/],
    ['a"b.yaml', /contains "\\""/],
    [`${'x'.repeat(129)}.yaml`, /129 bytes; at most 128/],
    [`${'ü'.repeat(65)}.yaml`, /130 bytes; at most 128/],
  ])('%j', (name, said) => {
    expect(faultOf(`scenarios/${name}`)).toMatch(said);
    expect(faultOf(name)).toContain('; rename the file');
  });
});

test.each([
  'north.yaml',
  'North rim (v2).yml',
  'Prüfling 3.yaml',
  '鏡.yaml',
  'a.b.yaml',
  '=1+2.yaml',
  '@x.yaml',
  'console.yaml',
  `${'x'.repeat(128)}.yaml`,
])('a name that any system takes is taken: %s', (name) => expect(faultOf(name)).toBe(''));

test('names that one folder would serve are refused together: differing in case, in the folder around, or in composed accents', () => {
  for (const [a, b] of [
    ['north.yaml', 'North.yaml'],
    ['x/north.yaml', 'y/north.yml'],
    ['caf\u00e9.yaml', 'cafe\u0301.yaml'],
  ] as const) {
    const said = faultOf(a, 'other.yaml', b).split('\n');
    expect(said).toHaveLength(2);
    expect(said[0]).toContain(`${a}: its package would have the same folder`);
    expect(said[0]).toContain(`as that of ${b}; rename one of the files`);
  }
});

test('a case’s name may be that of an output, which lies a folder above', () => {
  expect(folderNameFault('summary.json', new Set())).toBeUndefined();
  expect(folderNameFault('summary.json')).toBeDefined();
});

test('the executable refuses all such names at once, exit 2, and writes nothing; the others are not begun', async () => {
  const dir = folder();
  const names = [
    '..yaml',
    'summary.json.yaml',
    'CON.yaml',
    'good.yaml',
    'esc\x1b[2Jape.yaml',
    'rtl\u202eb.yaml',
    'a.yaml',
    'A.yaml',
  ];
  for (const name of names) writeFileSync(join(dir, name), soundScenario());
  for (const mode of [[], ['--verify'], ['--json']]) {
    const { code, stdout, stderr } = await datumlight(
      ['batch', ...names, '--out', 'out', '--no-cache', ...mode],
      { cwd: dir },
    );
    const said = mode[0] === '--json' ? stdout : stderr;
    expect(code).toBe(2);
    for (const word of ['hidden files', 'another output', 'device name', 'invisible', 'same folder'])
      expect(said).toContain(word);
    for (const raw of ['\x1b[2J', '\u202e']) expect(stderr + stdout).not.toContain(raw);
    expect(existsSync(join(dir, 'out'))).toBe(false);
  }
  expect(readdirSync(dir).sort()).toEqual([...names].sort());
});

test('a case named like a device in a table of cases is refused', async () => {
  const dir = folder();
  writeFileSync(
    join(dir, 's.yaml'),
    soundScenario(
      (text) =>
        `${text.replace('light:', 'parameters: {away: 2800 mm}\nlight:').replace('250, 2800', '250, away')}sweep: {cases: t.csv}\n`,
    ),
  );
  writeFileSync(join(dir, 't.csv'), 'case,away\nNUL,2700\ngood,2800\n');
  const { code, stderr } = await datumlight(['batch', 's.yaml', '--out', 'out', '--no-cache'], { cwd: dir });
  expect(code).toBe(2);
  expect(stderr).toMatch(/the case `NUL` is a reserved device name/);
  expect(JSON.parse(readFileSync(join(dir, 'out', 'summary.json'), 'utf8')).rows).toHaveLength(1);
});
