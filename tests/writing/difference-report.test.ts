/** How a difference between two packages reads, in a terminal and in a pull request: signs, units, counts at their limits, nothing empty. */
import { describe, expect, test } from 'vitest';
import type { Change } from '../../src/writing/difference/difference.ts';
import {
  differenceLines,
  differencesMarkdown,
  type PackageDifference,
} from '../../src/writing/difference/difference-report.ts';
import { isSlight } from '../../src/writing/difference/slight-change.ts';

const BARE: PackageDifference = {
  ...{ name: 's', state: 'changed', files: [], editedSince: [], changes: [] },
  ...{ slight: 0, reasons: [] },
};
const lines = (changes: readonly Change[]) => differenceLines({ ...BARE, changes });
const markdown = (difference: Partial<PackageDifference>) =>
  differencesMarkdown(3, [{ ...BARE, ...difference }]).split('\n');

describe('one change: in the terminal, and the cells of a table', () => {
  test.each<[string, Change, string, string]>([
    [
      'a length that grew has a plus',
      { about: 'parameter', id: 'rim', what: 'value', before: 120, after: 120.5, by: 0.5, unit: 'mm' },
      'parameter rim value: 120 mm -> 120.5 mm (+0.5 mm)',
      '| parameter rim | value | 120 mm | 120.5 mm | +0.5 mm |',
    ],
    [
      'one that shrank has a minus, and micrometres a µ',
      { about: 'patch', id: 'p', what: 'smallest period', before: 4, after: 3.75, by: -0.25, unit: 'um' },
      'patch p smallest period: 4 µm -> 3.75 µm (-0.25 µm)',
      '| patch p | smallest period | 4 µm | 3.75 µm | -0.25 µm |',
    ],
    [
      'microradians have a µ too',
      { about: 'part', id: '', what: 'rx', before: 1, after: 2, by: 1, unit: 'urad' },
      'part rx: 1 µrad -> 2 µrad (+1 µrad)',
      '| part | rx | 1 µrad | 2 µrad | +1 µrad |',
    ],
    [
      'a place moves by a distance without a sign',
      { about: 'patch', id: 'p', what: 'centre', before: '(1, 2)', after: '(4, 6)', by: 5000, unit: 'um' },
      'patch p centre: moved 5000 µm, (1, 2) -> (4, 6)',
      '| patch p | centre | (1, 2) | (4, 6) | 5000 µm |',
    ],
    [
      'a phase changes by up to an amount and has no values',
      { about: 'patch', id: 'p', what: 'phase', before: null, after: null, by: 0.125, unit: 'waves' },
      'patch p phase: changed by up to 0.125 waves',
      '| patch p | phase |  |  | 0.125 waves |',
    ],
    [
      'a word is replaced',
      { about: 'input', id: 'process', what: 'kind', before: 'etched', after: 'chrome' },
      'process kind: etched -> chrome',
      '| process | kind | etched | chrome |  |',
    ],
    [
      'what was not there is none',
      { about: 'reference', id: 'r', what: 'sigma x', before: null, after: 3, unit: 'um' },
      'reference r sigma x: none -> 3 µm',
      '| reference r | sigma x | none | 3 µm |  |',
    ],
    [
      'a finding appears as what it says',
      { about: 'finding', id: 'blocked', what: 'appeared', before: null, after: 'error at p' },
      'finding blocked appeared: error at p',
      '| finding blocked | appeared | none | error at p |  |',
    ],
    [
      'seven digits are shown',
      { about: 'datum', id: 'A', what: 'd', before: 1 / 3, after: 2 / 3, by: 1 / 3, unit: 'mm' },
      'datum A d: 0.3333333 mm -> 0.6666667 mm (+0.3333333 mm)',
      '| datum A | d | 0.3333333 mm | 0.6666667 mm | +0.3333333 mm |',
    ],
  ])('%s', (_, change, line, row) => {
    expect(lines([change]).slice(1)).toEqual([`  ${line}`]);
    expect(markdown({ changes: [change] })).toContain(row);
  });
});

const many = (count: number): readonly Change[] =>
  Array.from({ length: count }, (_, k) => ({
    about: 'patch',
    id: `p${k}`,
    what: 'order',
    before: 1,
    after: 2,
    by: 1,
  }));

test.each([
  [59, 59, undefined],
  [60, 60, undefined],
  [61, 60, 1],
  [100, 60, 40],
])('of %i changes %i are told, the others counted', (count, told, more) => {
  const inTerminal = lines(many(count));
  expect(inTerminal.filter((line) => line.startsWith('  patch'))).toHaveLength(told);
  expect(inTerminal.filter((line) => /and .* more changes/.test(line))).toEqual(
    more === undefined ? [] : [`  and ${more} more changes`],
  );
  const inMarkdown = markdown({ changes: many(count) });
  expect(inMarkdown.filter((line) => line.startsWith('| patch'))).toHaveLength(told);
  expect(inMarkdown.filter((line) => /^And/.test(line))).toEqual(
    more === undefined ? [] : [`And ${more} more changes.`],
  );
});

test('files and edits are named where there are any, and only there', () => {
  const named = { files: ['a.svg', 'b.csv'], editedSince: ['b.csv'], changes: many(1) };
  expect(differenceLines({ ...BARE, ...named })).toEqual([
    's differs from what its scenario gives: 1 figure',
    '  patch p0 order: 1 -> 2 (+1)',
    '  changed since it was written: b.csv',
    '  files: a.svg, b.csv',
  ]);
  expect(markdown(named)).toEqual(
    expect.arrayContaining(['Changed since it was written: b.csv.', 'Files: a.svg, b.csv']),
  );
  expect(lines(many(1)).join('\n')).not.toMatch(/files|since/);
  expect(markdown({ changes: many(1) }).join('\n')).not.toMatch(/Files|since/);
});

test('where bytes alone changed, that is said, of a changed package only', () => {
  expect(lines([])).toEqual([
    's differs from what its scenario gives: no figure changed by more than rounding',
  ]);
  expect(markdown({})).toContain(
    'The package differs from what its scenario gives: no figure changed by more than rounding.',
  );
  expect(differenceLines({ ...BARE, state: 'orphaned' })).toEqual(['s exists, but no scenario gives it']);
  expect(markdown({ state: 'missing' }).join('\n')).toMatch(/The package is missing\.\n$/);
});

test.each([
  [0, /^All 20 packages match their scenarios\.$/m, 0],
  [1, /^1 of 20 packages differs from what the scenarios give\.$/m, 0],
  [2, /^2 of 20 packages differ from what the scenarios give\.$/m, 0],
  [12, /^12 of 20 packages differ/m, 0],
  [14, /^14 of 20 packages differ/m, 2],
])('%i packages that differ are counted, those past a dozen named', (count, head, rest) => {
  const differing = Array.from({ length: count }, (_, k) => ({ ...BARE, name: `case-${k + 1}` }));
  const text = differencesMarkdown(20, differing);
  expect(text).toMatch(head);
  expect(text.match(/^### /gm) ?? []).toHaveLength(count - rest);
  const named = /^Also different: (.*)$/m.exec(text)?.[1];
  expect(named).toBe(rest === 0 ? undefined : 'case-13, case-14');
});

describe('one verdict a package', () => {
  const moved: Change = {
    about: 'patch',
    id: 'p',
    what: 'centre',
    before: '(1, 2)',
    after: '(4, 6)',
    by: 5,
    unit: 'um',
  };
  test('counts what changed by its kind', () => {
    const parameter: Change = {
      about: 'parameter',
      id: 'rim',
      what: 'value',
      before: 1,
      after: 2,
      by: 1,
      unit: 'mm',
    };
    const removed: Change = { about: 'patch', id: 'q', what: 'removed', before: 'there', after: null };
    expect(lines([parameter, moved, moved, removed])[0]).toBe(
      's differs from what its scenario gives: 1 input, 2 places, 1 patch or reference',
    );
  });

  test('says why a scenario no longer gives a package, in the terminal and in Markdown', () => {
    const refused = {
      ...BARE,
      state: 'refused',
      reasons: ['s.yaml:3:5: the patch is dark [unlit]'],
    } as const;
    expect(differenceLines(refused)).toEqual([
      's exists, but its scenario no longer gives one',
      '  s.yaml:3:5: the patch is dark [unlit]',
    ]);
    expect(markdown(refused)).toContain('- s.yaml:3:5: the patch is dark \\[unlit\\]');
  });

  test('counts smaller changes without listing them', () => {
    expect(differenceLines({ ...BARE, slight: 2 })[1]).toMatch(
      /2 smaller changes: figures by less than 0.01 %/,
    );
  });
});

describe('a change is slight', () => {
  test.each<[string, Partial<Change>, boolean]>([
    ['a figure by 0.009 %', { before: 1, after: 1.00009, by: 0.00009 }, true],
    ['a figure by 0.011 %', { before: 1, after: 1.00011, by: 0.00011 }, false],
    ['a place by 0.9 nm', { what: 'centre', before: '(1)', after: '(1)', by: 0.0009, unit: 'um' }, true],
    ['a place by 1.1 nm', { what: 'centre', before: '(1)', after: '(1)', by: 0.0011, unit: 'um' }, false],
    ['a phase by 0.00009 waves', { before: null, after: null, by: 0.00009, unit: 'waves' }, true],
    ['a phase by 0.00011 waves', { before: null, after: null, by: 0.00011, unit: 'waves' }, false],
    ['an input by any amount', { about: 'input', before: 1, after: 1.00000001, by: 1e-8 }, false],
    ['a figure that vanished', { before: 1, after: null }, false],
  ])('%s: %s is %s', (_, change, slight) => {
    expect(
      isSlight({ about: 'patch', id: 'p', what: 'one reading', before: null, after: null, ...change }),
    ).toBe(slight);
  });
});
