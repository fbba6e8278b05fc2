/** One law for every table: however it is dressed it means the same, and whatever could be misread is told with its line and column. */
import { describe, expect, test } from 'vitest';
import { joined, TABLES, type TableKind } from './support/tables.ts';

type Rows = readonly (readonly string[])[];

const quoted = (rows: Rows): Rows => rows.map((row) => row.map((field) => `"${field}"`));
const mapHead = (rows: Rows, change: (name: string, column: number) => string): Rows => [
  rows[0]!.map(change),
  ...rows.slice(1),
];
/** Columns from right to left. */
const turned = (rows: Rows): Rows => rows.map((row) => row.toReversed());

const DRESSES: readonly (readonly [string, (table: TableKind) => string])[] = [
  ['semicolons', ({ rows }) => joined(rows, ';')],
  ['tabs', ({ rows }) => joined(rows, '\t')],
  ['quotes around every field', ({ rows }) => joined(quoted(rows))],
  ['quotes and semicolons', ({ rows }) => joined(quoted(rows), ';')],
  ['a byte order mark', ({ rows }) => `\uFEFF${joined(rows)}`],
  ['a byte order mark before a quote', ({ rows }) => `\uFEFF${joined(quoted(rows))}`],
  ['CRLF', ({ rows }) => joined(rows, ',', '\r\n')],
  ['CR alone', ({ rows }) => joined(rows, ',', '\r')],
  ['CRLF and quotes', ({ rows }) => joined(quoted(rows), ',', '\r\n')],
  ['CR alone and quotes', ({ rows }) => joined(quoted(rows), '\t', '\r')],
  ['no end of the last line', ({ rows }) => joined(rows).trimEnd()],
  ['no end of the last line, and a quote there', ({ rows }) => joined(quoted(rows)).trimEnd()],
  ['blanks around the fields', ({ rows }) => joined(rows, ' , ', '  \n')],
  ['blanks around quotes', ({ rows }) => joined(quoted(rows), ' ; ')],
  [
    'a minus of print',
    ({ rows }) => joined(rows.map((row) => row.map((field) => field.replace(/^-/, '\u2212')))),
  ],
  ['units after a blank', ({ rows }) => joined(mapHead(rows, (name) => name.replace(/_mm$/, ' mm')))],
  ['blank lines', ({ rows }) => joined(rows, ',', '\n \n\n')],
  ['comments', ({ rows }) => `# "mine, and yours\n${joined(rows, ',', '\n  # a "remark;\n')}`],
  ['comments that a spreadsheet put in quotes', ({ rows }) => `"# a, b"\n${joined(rows)}`],
  ['columns in another order', ({ rows }) => joined(turned(rows))],
  ['a last column without a name or values', ({ rows }) => joined(rows, ',', ',\n')],
  ['units in square brackets', ({ rows }) => joined(mapHead(rows, (name) => name.replace(/_mm$/, ' [mm]')))],
  ['units in round brackets', ({ rows }) => joined(mapHead(rows, (name) => name.replace(/_mm$/, '(mm)')))],
  ['micrometres', (table) => joined(inMicrometres(table, (name) => name.replace(/_mm$/, '_um')))],
  ['µm in brackets', (table) => joined(inMicrometres(table, (name) => name.replace(/_mm$/, ' [µm]')))],
];

/** The same lengths in µm; exactly a thousand times as many. */
const inMicrometres = ({ rows, lengths }: TableKind, rename: (name: string) => string): Rows =>
  rows.map((row, r) =>
    row.map((field, k) => {
      if (!lengths.includes(k)) return field;
      const [mantissa, exponent = '0'] = field.split('e');
      return r === 0 ? rename(field) : `${mantissa}e${Number(exponent) + 3}`;
    }),
  );

/** Line and column, from 1, of the field `k` of the row `r` in a table whose fields are joined by one character. */
const placeOf = (rows: Rows, r: number, k: number): string =>
  `${r + 1}:${1 + rows[r]!.slice(0, k).reduce((sum, field) => sum + field.length + 1, 0)}`;

interface Spoilt {
  readonly text: string;
  readonly place: string;
}

/** The table with one field written otherwise, fields joined by `separator`. */
function withField({ rows }: TableKind, r: number, k: number, field: string, separator = ','): Spoilt {
  const spoilt = rows.map((row, at) => (at === r ? row.with(k, field) : row));
  return { text: joined(spoilt, separator), place: placeOf(rows, r, k) };
}

/** One more column, of the same text in each row but the head. */
const withColumn = ({ rows }: TableKind, name: string, field: string): Spoilt => ({
  text: joined(rows.map((row, r) => [...row, r === 0 ? name : field])),
  place: placeOf([[...rows[0]!, name]], 0, rows[0]!.length),
});

const inNumbers = (field: string, separator?: string) => (table: TableKind) =>
  table.numbers.length === 0 ? undefined : withField(table, 2, table.numbers.at(-1)!, field, separator);
const inLengthHead = (change: (name: string) => string) => (table: TableKind) => {
  const k = table.lengths.at(-1);
  return k === undefined ? undefined : withField(table, 0, k, change(table.rows[0]![k]!));
};
const noted = (text: string, place: string) => (): Spoilt => ({ text, place });

/** For tables in which a decimal comma and a unit in capitals are read; see foreign-tables.test.ts. */
const strict =
  (spoil: (table: TableKind) => Spoilt | undefined) =>
  (table: TableKind): Spoilt | undefined =>
    table.isForeign ? undefined : spoil(table);

/** `spoil` is undefined where the table has no such thing. */
type Fault = readonly [name: string, spoil: (table: TableKind) => Spoilt | undefined, words: RegExp];

const FAULTS: readonly Fault[] = [
  ['an empty file', noted('', '1:1'), /the table is empty/],
  ['blank lines and comments alone', noted('\uFEFF# a\r\n\r\n', '1:1'), /the table is empty/],
  ['a head alone', ({ rows }) => ({ text: joined(rows.slice(0, 1)), place: '1:1' }), /a header but no rows/],
  ['numbers without a head', noted('# mine\n1;2\n3;4\n', '2:1'), /numbers, not column names|no header/],
  [
    'two separators in the head',
    ({ rows }) => ({ text: joined(rows).replace(',', ',;'), place: '1:1' }),
    /"," and ";": it is not clear which separates the columns; use one/,
  ],
  [
    'a tab beside commas in the head',
    ({ rows }) => ({ text: joined(rows).replace(',', ',\t'), place: '1:1' }),
    /"," and tabs: it is not clear/,
  ],
  ['a column twice', (table) => withColumn(table, table.rows[0]!.at(-1)!, '1'), /twice|repeats/],
  [
    'a column again in another unit',
    (table) =>
      table.lengths.length === 0
        ? undefined
        : withColumn(table, table.rows[0]!.at(-1)!.replace('_mm', ' [in]'), '1'),
    /twice|repeats/,
  ],
  [
    'a column less',
    ({ rows, numbers }) =>
      numbers.length === 0 ? undefined : { text: joined(rows.map((row) => row.slice(0, -1))), place: '1:1' },
    /is missing|there is no column for/,
  ],
  ['a missing number', inNumbers(''), /the value of \S+ is missing; give a number/],
  ['blanks for a number', inNumbers('""'), /the value of \S+ is missing/],
  [
    'a row shorter than the head',
    ({ rows }) => ({ text: joined([...rows.slice(0, 2), rows[2]!.slice(0, -1)]), place: '3:1' }),
    /has \d fields but the header has \d columns; give one field per column$/,
  ],
  [
    'a row longer than the head',
    ({ rows }) => ({ text: joined([...rows.slice(0, 2), [...rows[2]!, '1']]), place: '3:1' }),
    /has \d fields but the header has \d columns; .*decimal points/,
  ],
  [
    'decimal commas between commas',
    (table) => ({ ...withField(table, 1, table.decimal, '1,5'), place: '2:1' }),
    /has \d fields but the header has \d columns; .*write decimal points, not commas/,
  ],
  [
    'a decimal comma between semicolons',
    strict((table) => withField(table, 1, table.decimal, '-1,5', ';')),
    /"-1,5" is not a valid .*; write a decimal point, not a comma/,
  ],
  [
    'a decimal comma in quotes',
    strict((table) => withField(table, 1, table.decimal, '"60,25"')),
    /"60,25" is not a valid .*; write a decimal point, not a comma/,
  ],
  [
    'thousands between tabs',
    (table) => withField(table, 1, table.decimal, '1,234.5', '\t'),
    /"1,234.5" is not a valid .*; write a decimal point, not a comma/,
  ],
  ['a quote that is never closed', (table) => withField(table, 1, 0, '"cold'), /a quote is never closed/],
  [
    'text after a closing quote',
    (table) => ({ ...withField(table, 1, 0, '"a"b'), place: '2:4' }),
    /text after the closing quote; put the whole field in double quotes/,
  ],
  [
    'a quote inside a field',
    (table) => ({ ...withField(table, 1, 0, '5"'), place: '2:2' }),
    /a quote inside a field/,
  ],
  [
    'a value in a column without a name',
    ({ rows }) => {
      const spoilt = rows.map((row, r) => [...row, r === 2 ? '9' : '']);
      return { text: joined(spoilt), place: placeOf(spoilt, 2, rows[0]!.length) };
    },
    /a value in a column without a name/,
  ],
  ...['NaN', 'Infinity', '1e999', '0x10', '1 2', '\uff11', '1.2.3', '--1', '1e', '.'].map(
    (text): Fault => [`${text} for a number`, inNumbers(text), /is not a valid number for/],
  ),
  ['no unit', inLengthHead((name) => name.replace('_mm', '')), /has no length unit; expected \w+_mm, _um/],
  ['an empty unit', inLengthHead((name) => name.replace('_mm', ' []')), /has no length unit/],
  [
    'an unknown unit',
    inLengthHead((name) => name.replace('_mm', ' [furlong]')),
    /"\w+ \[furlong\]" has no length unit/,
  ],
  [
    'a unit in other capitals',
    strict(inLengthHead((name) => name.replace('_mm', '_MM'))),
    /_MM" has no length unit/,
  ],
  ['a unit of another kind', inLengthHead((name) => name.replace('_mm', '_deg')), /_deg" has no length unit/],
  [
    'a row without an end',
    ({ rows }) => ({ text: `${joined(rows)}${'x'.repeat(70_000)}`, place: '4:1' }),
    /longer than/,
  ],
];

describe.each(TABLES)('$name', (table) => {
  const plain = table.read(joined(table.rows)).meaning;

  test('the plain table has a meaning', () => {
    expect(table.read(joined(table.rows)).findings).toEqual([]);
    expect(plain).toHaveLength(table.name === 'returned coefficients' ? 1 : 2);
  });

  test.each(DRESSES)('%s: the same meaning', (_, dress) => {
    const { meaning, findings } = table.read(dress(table));
    expect(findings).toEqual([]);
    expect(withoutDigits(meaning)).toEqual(withoutDigits(plain));
  });

  const faults = FAULTS.flatMap(([name, spoil, words]) => {
    const spoilt = spoil(table);
    return spoilt === undefined ? [] : [{ name, words, ...spoilt }];
  });
  test.each(faults)('$name: told at its place', ({ text, place, words }) => {
    for (const end of ['\n', '\r\n', '\r']) {
      const { meaning, findings } = table.read(text.replaceAll('\n', end));
      expect(meaning).toBeUndefined();
      const [first] = findings;
      expect(first).toMatchObject({ severity: 'error', rule: 'bad-table' });
      expect(`${first!.message}; ${first!.hint}`).toMatch(words);
      expect(`${first!.place?.line}:${first!.place?.column}`).toBe(place);
    }
  });
});

test('capitals in column names do not matter', () => {
  for (const table of TABLES.filter(({ lengths }) => lengths.length > 0)) {
    const capitals = mapHead(table.rows, (name) => name.replace(/^[^_]*/, (stem) => stem.toUpperCase()));
    expect(table.read(joined(capitals))).toEqual(table.read(joined(table.rows)));
  }
});

test("a unit in the name of a sweep's column is the unit of its numbers", () => {
  const { read } = TABLES.find(({ name }) => name === 'cases of a sweep')!;
  expect(read('case,gap [um],size_deg\na,50,1\n').meaning).toEqual([
    {
      name: 'a',
      values: [
        ['gap', '50 um'],
        ['size', '1 deg'],
      ],
    },
  ]);
  expect(read('gap [um]\n50 mm\n').findings[0]!.message).toBe('"50 mm" stands in a column in um');
  expect(read('gap [furlong]\n50\n').findings[0]!.message).toBe('column "gap [furlong]" has an unknown unit');
});

/** How many digits were written is another thing in another unit. */
const withoutDigits = (meaning: unknown): unknown =>
  JSON.parse(
    JSON.stringify(meaning, (key, value) => (key === 'digits' || key === 'lastDigit' ? undefined : value)),
  );
