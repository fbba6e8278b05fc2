/** `check --table` through the real executable: what still means the same, each misreading by its name, and each exit code. */
import { readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { beforeAll, describe, expect, test } from 'vitest';
import { CARELESS, type CsvTable, csvTable, csvText } from './support/coefficient-csv.ts';
import { RETURNED } from './support/returned-scenario.ts';
import { datumlight, folder, scenarioFile } from './support/run.ts';

const C = 'coefficient_waves';
let scenario: string;
let sent: string;

beforeAll(async () => {
  scenario = scenarioFile(RETURNED);
  const out = join(folder(), 'out');
  const { code, stderr } = await datumlight(['make', scenario, '--out', out, '--draft']);
  if (code !== 0 && code !== 1) throw new Error(stderr);
  sent = readFileSync(join(out, 'coefficients.csv'), 'utf8');
}, 60_000);

/** The answer to the table as changed. */
async function answer(change: (table: CsvTable) => void, args: string[] = []) {
  const table = csvTable(sent);
  change(table);
  const file = join(folder(), 'returned.csv');
  writeFileSync(file, csvText(table));
  return datumlight(['check', scenario, '--table', file, ...args]);
}

test('as it was sent, with its rows and columns in another order: the same meaning, exit 0', async () => {
  const { code, stdout, stderr } = await answer(({ rows, columns }) => {
    rows.reverse();
    columns.reverse();
  });
  expect({ code, stderr }).toEqual({ code: 0, stderr: '' });
  expect(stdout).toMatch(/returned\.csv: same: 3 patches, at most 0\.\d+ waves off; the limit is 0\.002\n$/);
});

test.each([
  ['sign-flipped', /sign flipped/],
  ['x-mirrored', /x mirrored/],
  ['radius-doubled', /diameter given as radius/],
  ['radius-halved', /radius taken as diameter/],
  ['radians-for-waves', /radians given as waves/],
])('%s: named, exit 1', async (step, words) => {
  const { code, stdout, stderr } = await answer(CARELESS[step]!);
  expect({ code, stderr }).toEqual({ code: 1, stderr: '' });
  expect(stdout).toMatch(/^\S*returned\.csv: the whole table has been misread: /);
  expect(stdout).toMatch(words);
  expect(stdout.match(/table-misread/g)).toHaveLength(1);
  for (const other of ['sign flipped', 'mirrored', 'diameter', 'radians'].filter(
    (name) => !words.source.includes(name),
  ))
    expect(stdout).not.toContain(other);
});

test('--json: one document, each explanation by its steps', async () => {
  const { code, stdout, stderr } = await answer(
    (table) => {
      CARELESS['sign-flipped']!(table);
      CARELESS['x-mirrored']!(table);
    },
    ['--json'],
  );
  const report = JSON.parse(stdout);
  expect({ code, stderr, ok: report.ok }).toEqual({ code: 1, stderr: '', ok: false });
  expect(report.misread.map(({ steps }: { steps: string[] }) => steps)).toEqual([
    ['sign-flipped', 'x-mirrored'],
  ]);
  expect(report.patches.map(({ id }: { id: string }) => id)).toEqual(['ridge', 'second', 'behind']);
  expect(report.findings).toHaveLength(1);
});

test('--json: whose rows stand under which name', async () => {
  const names: Record<string, string> = { ridge: 'behind', behind: 'ridge' };
  const { code, stdout } = await answer(
    ({ rows }) => {
      for (const row of rows) row.patch = names[row.patch!] ?? row.patch!;
    },
    ['--json'],
  );
  const { ok, misnamed, findings } = JSON.parse(stdout);
  expect({ code, ok }).toEqual({ code: 1, ok: false });
  expect(misnamed).toEqual([
    { name: 'behind', basis: 'xy', meant: 'ridge' },
    { name: 'behind', basis: 'roof', meant: 'ridge' },
    { name: 'ridge', basis: 'xy', meant: 'behind' },
  ]);
  expect(findings).toHaveLength(1);
});

test('--within sets the bound', async () => {
  const rounded = ({ rows }: CsvTable) => {
    for (const row of rows) row[C] = Number(row[C]).toFixed(2);
  };
  expect((await answer(rounded)).code).toBe(1);
  expect((await answer(rounded, ['--within', '0.2'])).code).toBe(0);
  expect((await answer(rounded, ['--within', 'wide'])).code).toBe(2);
});

describe('a table that cannot be read, exit 2, names file, line and column:', () => {
  const at = (text: string) => async () => {
    const file = join(folder(), 'returned.csv');
    writeFileSync(file, text);
    const { code, stdout, stderr } = await datumlight(['check', scenario, '--table', file]);
    expect({ code, stdout }).toEqual({ code: 2, stdout: '' });
    return [...stderr.matchAll(/returned\.csv:(\d+:\d+): /g)].map(([, place]) => place);
  };
  const HEAD = 'patch,basis,index,i,j,coefficient_waves,unitRadius_mm,centreX_mm,centreY_mm,order';

  test('each fault at its field', async () => {
    const places = await at(
      [
        '# a head',
        HEAD,
        'ridge,xy,0,0,0,one,6,0,0,1',
        'ridge,xy,1,1,0,1,6,0,0',
        'ridge,yx,2,0,1,1,6,0,0,1',
        'ridge,xy,2,-1,1,1,6,0,0,1',
        'ridge,zernike,2,2,1,1,6,0,0,1',
        'second,xy,0,0,0,1,6,0,0,1',
        'second,xy,0,0,0,1,6,0,0,1',
        'second,xy,0,1,0,1,7,0,0,1',
        'behind,roof,0,0,0,1,6,0,0,1',
      ].join('\n'),
    )();
    expect(places).toEqual(['3:16', '4:1', '5:7', '6:12', '7:17', '9:13', '10:19', '11:1']);
  });

  test('columns that are missing, doubled or without a unit', async () => {
    expect(await at(`${HEAD.replace('unitRadius_mm', 'unitRadius_parsec')}\n`)()).toEqual(['1:41']);
    expect(await at(`${HEAD},i\n`)()).toEqual(['1:83']);
    expect(await at(`${HEAD.replace(',basis', '')}\n`)()).toEqual(['1:1']);
    expect(await at('1,2,3\n')()).toEqual(['1:1']);
    expect(await at('')()).toEqual(['1:1']);
  });

  test('no such file, two scenarios, standard input twice', async () => {
    for (const args of [
      [scenario, '--table', 'no-such.csv'],
      [scenario, scenario, '--table', scenario],
      ['-', '--table', '-'],
      [scenario, '--within', '0.1'],
    ]) {
      const { code, stderr } = await datumlight(['check', ...args]);
      expect(code).toBe(2);
      expect(stderr).not.toMatch(/\n {4}at /);
    }
  });
});
