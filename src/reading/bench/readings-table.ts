/**
 * Readings as a table, one row each, to the entries of a readings file and to where each stands:
 *
 *     patch,fringes,fringes_2,power
 *     north-near,2 1/2
 *     ball-1,+0.4,-1.2,0.3
 *
 * Columns in any order; an empty field, or `~`, is not read. Separated by commas, semicolons or tabs; a header's name is that of the key in
 * the YAML, and `fringes_2` and `coma_2` are the second of two.
 */
import type { Finding, Path, Place } from '../../finding/finding.ts';
import { didYouMean } from '../../quantity/nearest-name.ts';
import { placeAt, type Spot, TableFaults } from '../tables/table-faults.ts';
import { TableScanner, type TextField } from '../tables/table-scanner.ts';

interface TableEntries {
  readonly entries: readonly Readonly<Record<string, unknown>>[];
  readonly findings: readonly Finding[];
  /** Of ['readings', row, key, …]; of a row, its whole line. */
  readonly place: (path: Path) => Place | undefined;
}

const COLUMNS = [
  ...['patch', 'measurement', 'fringes', 'fringes_2', 'power', 'coma', 'coma_2', 'toward'],
  ...['counted', 'sign', 'uncertainty', 'deviation_um'],
];
/** The second of two, with its first. */
const SECOND: Readonly<Record<string, string>> = { fringes_2: 'fringes', coma_2: 'coma' };
const HEADER = /^\s*"?(patch|measurement|fringes)"?\s*[,;\t]/im;

/** A table, by its header: the first line that is neither blank nor a comment. */
export const isReadingsTable = (text: string): boolean =>
  HEADER.test(
    text
      .replace(/^\ufeff/, '')
      .split(/\r\n?|\n/)
      .find((line) => !/^\s*("?#.*)?$/.test(line)) ?? '',
  );

export function readingsTable(text: string, file: string): TableEntries {
  const faults = new TableFaults(file);
  const entries: Record<string, unknown>[] = [];
  const spots: { readonly whole: Spot; readonly fields: ReadonlyMap<string, Spot> }[] = [];
  let header: readonly string[] | undefined;
  let head: Spot | undefined;
  const scanner = new TableScanner(faults, {
    row(fields, whole) {
      if (header === undefined) {
        header = headerOf(fields, faults);
        head = whole;
        return;
      }
      // A spreadsheet may close a row with empty fields.
      const spare = fields.slice(header.length).find(({ text: held }) => held !== '');
      if (spare !== undefined)
        faults.add(
          spare,
          `the row has ${fields.length} fields; the header has ${header.length}`,
          'remove the others, or name their columns',
        );
      const own = new Map(
        header.flatMap((name, k) => (fields[k] === undefined ? [] : [[name, fields[k]]])) as [
          string,
          TextField,
        ][],
      );
      entries.push(entryFrom(own));
      spots.push({ whole, fields: own });
    },
  });
  scanner.push(text);
  scanner.end();
  return {
    entries,
    findings: faults.closed(),
    place: ([, row, key, second]) => {
      const at = typeof row === 'number' ? spots[row] : undefined;
      const field = at?.fields.get(second === 1 ? `${key}_2` : String(key ?? ''));
      const spot = field ?? at?.whole ?? head;
      return spot && placeAt(file, spot);
    },
  };
}

function headerOf(fields: readonly TextField[], faults: TableFaults): readonly string[] {
  const names = fields.map(({ text }) => text.toLowerCase());
  for (const [k, field] of fields.entries()) {
    const name = names[k]!;
    if (!COLUMNS.includes(name))
      faults.add(
        field,
        `${JSON.stringify(field.text)} is not a column of readings`,
        didYouMean(name, COLUMNS) ?? `known: ${COLUMNS.join(', ')}`,
      );
    else if (names.indexOf(name) < k) faults.add(field, `column ${name} is there twice`, 'keep one of them');
  }
  return names;
}

function entryFrom(fields: ReadonlyMap<string, TextField>): Record<string, unknown> {
  const entry: Record<string, unknown> = {};
  const given = (name: string): string | undefined => {
    const text = fields.get(name)?.text;
    return text === undefined || text === '' || text === '~' ? undefined : text;
  };
  for (const name of fields.keys()) {
    if (name in SECOND) continue;
    const [first, second] = [given(name), given(`${name}_2`)];
    if (second !== undefined) entry[name] = [first ?? null, second];
    else if (first !== undefined) entry[name] = first;
  }
  return entry;
}
