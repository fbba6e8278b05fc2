/** Rows of a table: the same as another reader of RFC 4180 finds (csv-parse), in pieces of any length, each field where it stands. */
import { parse } from 'csv-parse/sync';
import fc from 'fast-check';
import { expect, test } from 'vitest';
import { TableFaults } from '../../src/reading/tables/table-faults.ts';
import { TableScanner, type TextField } from '../../src/reading/tables/table-scanner.ts';
import '../machine/patience.ts';

const FILE = 't.csv';

function scanned(pieces: readonly string[]) {
  const faults = new TableFaults(FILE);
  const rows: (readonly TextField[])[] = [];
  const scanner = new TableScanner(faults, { row: (fields) => rows.push(fields) });
  for (const piece of pieces) if (!scanner.push(piece)) break;
  scanner.end();
  return { rows, faults: faults.closed() };
}

const textsOf = (rows: readonly (readonly TextField[])[]): string[][] =>
  rows.map((fields) => fields.map(({ text }) => text));

/** Texts of no blanks at their ends, which readers trim or not. */
const cell = fc
  .string({ unit: fc.constantFrom('a', 'µ', '1', '.', '"', ',', ';', '\t', ' ', '\n'), maxLength: 6 })
  .map((text) => text.trim());

/** A table of 2 to 4 columns as text: names in the head, cells of any kind in quotes where they need them. */
const table = fc
  .record({
    columns: fc.integer({ min: 2, max: 4 }),
    cells: fc.array(cell, { minLength: 4, maxLength: 24 }),
    always: fc.boolean(),
    separator: fc.constantFrom(',', ';', '\t'),
    end: fc.constantFrom('\n', '\r\n', '\r'),
    ended: fc.boolean(),
  })
  .map(({ columns, cells, always, separator, end, ended }) => {
    const written = (text: string): string =>
      always || /[",;\t\r\n]/.test(text) ? `"${text.replaceAll('"', '""')}"` : text;
    const head = Array.from({ length: columns }, (_, k) => `name${k}`);
    const rows = [head];
    for (let k = 0; k + columns <= cells.length; k += columns)
      rows.push(['row', ...cells.slice(k + 1, k + columns)]);
    const lines = rows.map((row) => row.map(written).join(separator));
    return { text: lines.join(end) + (ended ? end : ''), separator, end, rows };
  });

test('the rows that were written, as csv-parse reads them too', () => {
  fc.assert(
    fc.property(table, ({ text, separator, end, rows }) => {
      const found = scanned([text]);
      expect(found.faults).toEqual([]);
      expect(textsOf(found.rows)).toEqual(rows);
      expect(textsOf(found.rows)).toEqual(parse(text, { delimiter: separator, record_delimiter: end }));
    }),
  );
});

/** Any text of the signs that matter to a reader of tables. */
const anything = fc.string({
  unit: fc.constantFrom('a', '1', '"', ',', ';', '\n', '\r', ' ', '#', '\uFEFF'),
  maxLength: 60,
});

/** A text cut at some places. */
const pieces = (text: fc.Arbitrary<string>) =>
  fc.tuple(text, fc.array(fc.nat(80), { maxLength: 8 })).map(([whole, cuts]) => {
    const at = [...new Set([0, ...cuts.filter((cut) => cut < whole.length), whole.length])].sort(
      (a, b) => a - b,
    );
    return { whole, parts: at.slice(1).map((to, k) => whole.slice(at[k], to)) };
  });

test('the same rows and the same faults, however the text is cut into pieces', () => {
  fc.assert(
    fc.property(
      pieces(
        fc.oneof(
          anything,
          table.map(({ text }) => text),
        ),
      ),
      ({ whole, parts }) => {
        expect(scanned(parts)).toEqual(scanned([whole]));
        expect(scanned([...whole])).toEqual(scanned([whole]));
      },
    ),
    { numRuns: 300 },
  );
});

test('a field stands at its line and column, and its line is the one of the text', () => {
  let fields = 0;
  fc.assert(
    fc.property(
      fc.oneof(
        anything,
        table.map(({ text }) => text),
      ),
      (text) => {
        const lines = text.replace(/^\uFEFF/, '').split(/\r\n|\n|\r/);
        for (const { line, at, width, lineText, text: held } of scanned([text]).rows.flat()) {
          fields++;
          expect(lineText).toBe(lines[line]);
          const stands = lineText.slice(at, at + width);
          if (!stands.startsWith('"')) expect(stands).toBe(held);
          else if (stands.length > 1) expect(stands.slice(1, -1).replaceAll('""', '"').trim()).toBe(held);
        }
      },
    ),
    { numRuns: 300 },
  );
  expect(fields).toBeGreaterThan(500);
});

test('nothing is held but the row that is being read', () => {
  const { rows, faults } = scanned(['a,b\n', '"', ...Array<string>(100).fill('x'.repeat(1000))]);
  expect(textsOf(rows)).toEqual([['a', 'b']]);
  expect(faults).toMatchObject([
    { message: expect.stringMatching(/longer than 65536 characters, or its quotes/) },
  ]);
});
