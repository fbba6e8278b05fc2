/**
 * Text set on pages, by laws over random blocks: nothing runs over an edge, onto another text or off the paper of A4 or Letter, and every
 * letter is set, once, in order. Points; a letter is half as wide as it is high.
 */
import fc from 'fast-check';
import { expect, it } from 'vitest';
import type { Block } from '../../../src/writing/fabrication/blocks.ts';
import { type Mark, PAPER, TextPages } from '../../../src/writing/fabrication/text-pages.ts';

const measure = (text: string): number => [...text].length / 2;
/** Paper that is not printed on, at each side: 10 mm. Letter is 216 by 279 mm, printed from the top left corner. */
const BESIDE = (10 * 72) / 25.4;
const LOWEST = Math.min(PAPER.height, 11 * 72) - BESIDE;

type Text = Extract<Mark, { text: string }>;
const textsOf = (page: readonly Mark[]): Text[] => page.filter((mark): mark is Text => 'text' in mark);

const words = fc
  .array(
    fc.oneof(
      { weight: 9, arbitrary: fc.stringMatching(/^[a-z]{1,9}$/) },
      fc.stringMatching(/^[a-f0-9]{64,200}$/),
    ),
    {
      minLength: 1,
      maxLength: 30,
    },
  )
  .map((list) => list.join(' '));
const table = fc.integer({ min: 1, max: 7 }).chain((columns) => {
  const row = fc.array(words, { minLength: columns, maxLength: columns });
  return fc.record({
    is: fc.constant('table' as const),
    heads: row,
    rows: fc.array(row, { minLength: 1, maxLength: 12 }),
    numeric: fc.constant([columns - 1]),
  });
});
const block: fc.Arbitrary<Block> = fc.oneof(
  fc.record({
    is: fc.constantFrom('heading' as const, 'paragraph' as const, 'banner' as const),
    text: words,
  }),
  fc.record({ is: fc.constant('steps' as const), items: fc.array(words, { minLength: 1, maxLength: 5 }) }),
  fc.record({
    is: fc.constant('facts' as const),
    rows: fc.array(fc.tuple(words, words), { minLength: 1, maxLength: 8 }),
  }),
  table,
);

it('every text stands on the paper, clear of all others', () => {
  fc.assert(
    fc.property(fc.array(block, { minLength: 1, maxLength: 8 }), (blocks) => {
      const set = new TextPages(measure);
      for (const one of blocks) set.block(one);
      set.margins('head', 'foot');
      for (const page of set.pages) {
        const boxes = textsOf(page).map(({ text, x, y, size }) => ({
          left: x,
          right: x + measure(text) * size,
          top: y - size,
          bottom: y,
        }));
        for (const [k, box] of boxes.entries()) {
          expect(box.left).toBeGreaterThanOrEqual(BESIDE);
          expect(box.right).toBeLessThanOrEqual(PAPER.width - BESIDE);
          expect(box.top).toBeGreaterThanOrEqual(BESIDE - 8);
          expect(box.bottom).toBeLessThanOrEqual(LOWEST);
          const hit = boxes.find(
            (other, n) =>
              n < k &&
              Math.min(box.right, other.right) - Math.max(box.left, other.left) > 1e-6 &&
              Math.min(box.bottom, other.bottom) - Math.max(box.top, other.top) > 1e-6,
          );
          expect(hit).toBeUndefined();
        }
      }
    }),
    { numRuns: 40, seed: 3 },
  );
});

it('every letter of a text is set, in order', () => {
  fc.assert(
    fc.property(words, (text) => {
      const set = new TextPages(measure);
      set.block({ is: 'paragraph', text });
      const shown = set.pages.flatMap(textsOf).map((one) => one.text);
      expect(shown.join('').replaceAll(' ', '')).toBe(text.replaceAll(' ', ''));
    }),
    { numRuns: 100, seed: 3 },
  );
});

it('a row goes on over a page that it does not fit on, under the heads again', () => {
  const set = new TextPages(measure);
  const rows = Array.from({ length: 100 }, (_, k) => [`row${k}`, 'words']);
  set.block({ is: 'table', heads: ['A', 'B'], rows });
  expect(set.pages.length).toBeGreaterThan(1);
  for (const page of set.pages) expect(textsOf(page)[0]!.text).toBe('A');
  const names = set.pages.flatMap(textsOf).filter(({ text }) => text.startsWith('row'));
  expect(names.map(({ text }) => text)).toEqual(rows.map(([name]) => name));
});

it('a short table is not divided, and of a long one two rows at the least stand on each page', () => {
  const rows = (count: number): string[][] => Array.from({ length: count }, (_, k) => [`row${k}`, 'words']);
  fc.assert(
    fc.property(fc.integer({ min: 0, max: 60 }), fc.integer({ min: 2, max: 90 }), (before, count) => {
      const set = new TextPages(measure);
      for (let k = 0; k < before; k++) set.block({ is: 'paragraph', text: 'a' });
      set.block({ is: 'table', heads: ['A', 'B'], rows: rows(count) });
      const held = set.pages
        .map((page) => textsOf(page).filter(({ text }) => text.startsWith('row')).length)
        .filter((rowsHere) => rowsHere > 0);
      expect(Math.min(...held)).toBeGreaterThanOrEqual(2);
      if (count <= 10) expect(held).toEqual([count]);
    }),
    { numRuns: 60, seed: 3 },
  );
});

it('the lines of a step stand behind its number', () => {
  const set = new TextPages(measure);
  set.block({ is: 'steps', items: ['a '.repeat(300).trim(), 'b'] });
  const [first, ...lines] = textsOf(set.pages[0]!);
  expect(first!.text).toBe('1.');
  const steps = lines.filter(({ text }) => !/^\d/.test(text));
  expect(steps.length).toBeGreaterThan(2);
  expect(new Set(steps.map(({ x }) => x)).size).toBe(1);
  expect(steps[0]!.x).toBeGreaterThan(first!.x + first!.text.length * 4.5);
});
