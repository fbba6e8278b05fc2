/** What a table that came back is found to mean: the same in many guises, each misreading by its own name, and combinations. */
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { TABLE_BOUND } from '../../src/readback/table-meaning.ts';
import { CARELESS, type CsvTable } from '../cli/support/coefficient-csv.ts';
import { answer, type Change } from './support/returned-table.ts';
import '../machine/patience.ts';

const C = 'coefficient_waves';
const stepsOf = (misread: readonly { readonly steps: readonly string[] }[]): string[][] =>
  misread.map(({ steps }) => [...steps].sort());
const each =
  (change: (row: CsvTable['rows'][number]) => void): Change =>
  ({ rows }) =>
    rows.forEach(change);
const rounded = (decimals: number): Change =>
  each((row) => {
    row[C] = Number(row[C]).toFixed(decimals);
  });
const without =
  (drop: (row: CsvTable['rows'][number]) => boolean): Change =>
  (table) => {
    table.rows = table.rows.filter((row) => !drop(row));
  };
const flipped = (id: string): Change =>
  each((row) => {
    if (row.patch === id) row[C] = String(-Number(row[C]));
  });

describe('the same meaning:', () => {
  const renamed = (table: CsvTable, from: string, to: string, by: number): void => {
    table.columns = table.columns.map((name) => (name === from ? to : name));
    for (const row of table.rows) row[to] = String(Number(row[from]) * by);
  };
  const cases: [string, Change][] = [
    ['as it was sent', () => undefined],
    [
      'without its head',
      (table) => {
        table.head = [];
      },
    ],
    [
      'rows and columns in reverse',
      (table) => {
        table.rows.reverse();
        table.columns.reverse();
      },
    ],
    ['rounded to a ten-thousandth', rounded(4)],
    [
      'in radians, the column says so',
      (table) => {
        CARELESS['radians-for-waves']!(table);
        renamed(table, C, 'coefficient_rad', 1);
      },
    ],
    [
      'in nanometres of path, the column says so',
      (table) => {
        for (const row of table.rows)
          if (row.basis !== 'roof' || row.index === '0') row[C] = String(Number(row[C]) * 632.8);
        renamed(table, C, 'coefficient_nm', 1);
      },
    ],
    [
      'lengths in inches, the columns say so',
      (table) => {
        for (const name of ['unitRadius', 'centreX', 'centreY'])
          renamed(table, `${name}_mm`, `${name}_in`, 1 / 25.4);
      },
    ],
    ['by diameters, the column says so', (table) => renamed(table, 'unitRadius_mm', 'unitDiameter_mm', 2)],
    [
      'the other sign, the head says so',
      (table) => {
        CARELESS['sign-flipped']!(table);
        table.head = table.head.map((line) => line.replace('E_in(P) + m', 'E_in(P) - m'));
      },
    ],
    [
      'times the order, the head says so',
      (table) => {
        CARELESS['order-ignored']!(table);
        table.head = table.head.map((line) => line.replace('waves at order 1', 'waves at order m'));
      },
    ],
    [
      'order and phase both negated: the same light',
      (table) => {
        CARELESS['sign-flipped']!(table);
        for (const row of table.rows) row.order = String(-Number(row.order));
      },
    ],
    [
      'x the other way, the head says so',
      (table) => {
        CARELESS['x-mirrored']!(table);
        for (const row of table.rows) row.centreX_mm = String(-Number(row.centreX_mm));
        table.head = table.head.map((line) => line.replace('x right and y up', 'x left and y up'));
      },
    ],
    [
      'from the other side, the head says so',
      (table) => {
        CARELESS['x-mirrored']!(table);
        for (const row of table.rows) row.centreX_mm = String(-Number(row.centreX_mm));
        table.head = table.head.map((line) => line.replace('the part side', 'the interferometer side'));
      },
    ],
    [
      'for another radius, its coefficients with it',
      each((row) => {
        if (row.basis !== 'xy') return;
        row.unitRadius_mm = String(Number(row.unitRadius_mm) * 1.25);
        row[C] = String(Number(row[C]) * 1.25 ** (Number(row.i) + Number(row.j)));
      }),
    ],
    ['without the Zernike terms', without(({ basis }) => basis === 'zernike')],
    [
      'without the columns index and order',
      (table) => {
        table.columns = table.columns.filter((name) => name !== 'index' && name !== 'order');
      },
    ],
  ];
  test.each(cases)('%s', (_, change) => {
    const { meaning, findings } = answer(change);
    expect(findings).toEqual([]);
    expect(meaning.same).toBe(true);
    for (const { blocks } of meaning.patches)
      for (const { worst } of blocks) expect(worst).toBeLessThanOrEqual(TABLE_BOUND);
  });

  test('semicolons between the fields', () => {
    expect(answer(() => undefined, TABLE_BOUND, ';').meaning.same).toBe(true);
  });
});

describe('a misreading is named:', () => {
  test.each(Object.keys(CARELESS))('%s, and nothing else', (step) => {
    const { meaning, findings } = answer(CARELESS[step]!);
    expect(meaning.same).toBe(false);
    expect(stepsOf(meaning.misread)).toEqual([[step]]);
    expect(findings.map(({ rule }) => rule)).toEqual(['table-misread']);
  });

  test('any two or three of them together, by their own names', () => {
    // a mirrored, turned or stretched table keeps its piston; each of these groups is one choice
    const groups = [
      ['sign-flipped'],
      ['x-mirrored'],
      ['y-mirrored'],
      ['x-y-swapped'],
      ['radius-doubled', 'radius-halved'],
      ['radians-for-waves', 'waves-for-radians'],
      ['order-ignored', 'order-applied-twice'],
      ['piston-lost'],
    ];
    const choice = fc
      .subarray(groups, { minLength: 2, maxLength: 3 })
      .chain((chosen) => fc.tuple(...chosen.map((group) => fc.constantFrom(...group))));
    fc.assert(
      fc.property(choice, (steps) => {
        const { meaning } = answer((table) => {
          for (const step of steps) CARELESS[step]!(table);
        });
        const named = stepsOf(meaning.misread).map((own) => own.join());
        // swapping after one mirror is the other mirror after swapping: both are true of the same table
        expect(named.length).toBeGreaterThan(0);
        expect(named.length).toBeLessThanOrEqual(2);
        const turned = steps.includes('x-y-swapped') && steps.some((step) => step.endsWith('-mirrored'));
        const twin = steps.map((step) =>
          turned && step === 'x-mirrored'
            ? 'y-mirrored'
            : turned && step === 'y-mirrored'
              ? 'x-mirrored'
              : step,
        );
        expect([[...steps].sort().join(), [...twin].sort().join()]).toContain(named[0]);
      }),
      { numRuns: 40, seed: 5 },
    );
  });

  test('mirrored with the centres of its patches', () => {
    const { meaning } = answer((table) => {
      CARELESS['x-mirrored']!(table);
      for (const row of table.rows) row.centreX_mm = String(-Number(row.centreX_mm));
    });
    expect(stepsOf(meaning.misread)).toEqual([['x-mirrored']]);
  });

  test('the whole column converted, the plain numbers of a roof with it', () => {
    const { meaning } = answer(
      each((row) => {
        row[C] = String(Number(row[C]) * 2 * Math.PI);
      }),
    );
    expect(stepsOf(meaning.misread)).toEqual([['radians-for-waves']]);
  });

  test('a factor without a name is given as a number', () => {
    const { said } = answer(
      each((row) => {
        if (row.basis !== 'roof' || row.index === '0') row[C] = String(Number(row[C]) * 1.3);
      }),
    );
    expect(said).toMatch(/scaled by the same factor, 1\.3;/);
  });

  test('one patch alone: the others are said to be right', () => {
    const { meaning, said } = answer(flipped('second'));
    expect(meaning.misread).toEqual([]);
    expect(meaning.patches.map(({ same }) => same)).toEqual([true, false, true]);
    expect(stepsOf(meaning.patches[1]!.misread)).toEqual([['sign-flipped']]);
    expect(said).toMatch(/^table-misread: patch second: sign flipped/);
  });

  test('where two names come to the same, both are given', () => {
    // in order -1 alone, a flipped sign is the same as an order applied once too often or too seldom
    const { meaning } = answer(flipped('behind'));
    expect(stepsOf(meaning.patches[2]!.misread).flat().sort()).toEqual([
      'order-applied-twice',
      'order-ignored',
      'sign-flipped',
    ]);
  });

  test('one basis alone', () => {
    const { said } = answer(
      each((row) => {
        if (row.basis === 'zernike') row[C] = String(-Number(row[C]));
      }),
    );
    expect(said).toMatch(/^table-misread: patch second, Zernike terms: sign flipped/);
  });
});

describe('other differences:', () => {
  test('rounded too coarsely: by how much and where, and no misreading', () => {
    const { findings } = answer(rounded(1));
    expect(new Set(findings.map(({ rule }) => rule))).toEqual(new Set(['table-rounded']));
    expect(findings[0]!.message).toMatch(
      /rounded too coarsely: up to 0\.\d+ waves off at x = [-\d.]+ mm, y = [-\d.]+ mm/,
    );
  });

  test('a misreading of a table rounded too coarsely: both are said', () => {
    const { said } = answer((table) => {
      CARELESS['sign-flipped']!(table);
      rounded(1)({ ...table, rows: table.rows.filter(({ basis }) => basis !== 'roof') });
    });
    expect(said).toMatch(/sign flipped, and rounded too coarsely: 0\.\d+ waves remain after correction/);
  });

  test('one coefficient wrong: no misreading is named, the term is, and the row that is not there with it', () => {
    const { said } = answer((table) => {
      const isOf = (i: string, j: string) => (row: CsvTable['rows'][number]) =>
        row.patch === 'behind' && row.basis === 'xy' && row.i === i && row.j === j;
      const one = table.rows.find(isOf('1', '1'))!;
      one[C] = String(Number(one[C]) + 0.5);
      table.rows = table.rows.filter((row) => !isOf('0', '2')(row));
    });
    expect(said).toMatch(/^table-differs: patch behind, polynomial: .*no known misreading explains it/);
    expect(said).toMatch(/the term u\^1 v\^1 is/);
    expect(said).toMatch(/the term u\^0 v\^2 of .* waves is missing/);
  });

  test.each<[string, Change, RegExp]>([
    ['a patch', without(({ patch }) => patch === 'second'), /table-incomplete: patch second is missing/],
    [
      'a roof',
      without(({ basis }) => basis === 'roof'),
      /table-incomplete: the roof of patch ridge is missing/,
    ],
    [
      'the polynomial',
      without(({ patch, basis }) => patch === 'ridge' && basis !== 'roof'),
      /patch ridge has neither a polynomial nor Zernike terms/,
    ],
  ])('%s missing', (_, change, words) => {
    const { meaning, findings, said } = answer(change);
    expect(meaning.same).toBe(false);
    expect(findings).toHaveLength(1);
    expect(said).toMatch(words);
  });

  test('a roof where there is none', () => {
    const { said } = answer((table) => {
      const roof = table.rows
        .filter(({ basis }) => basis === 'roof')
        .map((row) => ({ ...row, patch: 'second', order: '2' }));
      table.rows.push(...roof);
    });
    expect(said).toMatch(/patch second has a roof of [\d.]+ waves where the design has none/);
  });

  test('another order, or a patch of another name', () => {
    const order = answer(
      each((row) => {
        if (row.patch === 'second') row.order = '3';
      }),
    );
    expect(order.said).toMatch(/patch second is for order \+3; the design’s working order is \+2/);
    const name = answer(
      each((row) => {
        if (row.patch === 'ridge') row.patch = 'rigde';
      }),
    );
    expect(name.said).toMatch(/the design has no patch "rigde"/);
    expect(name.findings[0]!.hint).toBe('did you mean ridge?');
  });

  test('the bound decides', () => {
    expect(answer(rounded(2)).meaning.same).toBe(false);
    expect(answer(rounded(2), 0.2).meaning.same).toBe(true);
  });
});
