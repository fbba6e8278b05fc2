/** A table as it was sent out and as it came back: the answer to any change of its rows. */
import type { Design } from '../../../src/design/design.ts';
import { designScenario } from '../../../src/design/design-scenario.ts';
import { tableFindings } from '../../../src/readback/table-findings.ts';
import { TABLE_BOUND, tableMeaning } from '../../../src/readback/table-meaning.ts';
import { readScenario } from '../../../src/reading/scenario/read-scenario.ts';
import { readCoefficientTable } from '../../../src/reading/tables/coefficient-table.ts';
import { coefficientsCsv, patchTables } from '../../../src/writing/coefficients/coefficients.ts';
import { type CsvTable, csvTable, csvText } from '../../cli/support/coefficient-csv.ts';
import { RETURNED } from '../../cli/support/returned-scenario.ts';

export type Row = CsvTable['rows'][number];
export type Change = (table: CsvTable) => unknown;

function designed(text: string): Design {
  const { scenario } = readScenario(text, 'returned.yaml');
  const made = designScenario(scenario!);
  if ('findings' in made) throw new Error('the scenario of this test cannot be designed');
  return made.design;
}

export const sentBy = (design: Design): string =>
  coefficientsCsv(design, patchTables(design), { draft: false });
/** The table of another scenario. */
export const tableOf = (text: string): CsvTable => csvTable(sentBy(designed(text)));

const design = designed(RETURNED);
const sent = sentBy(design);

/** What the reader and then the comparison say of a text against a design. */
export function readback(of: Design, text: string, bound = TABLE_BOUND) {
  const { table, findings: faults } = readCoefficientTable(text, 'returned.csv', of.light.wavelength);
  const meaning = table && tableMeaning(of, table, bound);
  const findings = [...faults, ...(meaning ? tableFindings(meaning, 'returned.csv') : [])];
  return { meaning, findings, said: findings.map(({ rule, message }) => `${rule}: ${message}`).join('\n') };
}

/** The answer to the table of RETURNED as changed. */
export function answer(change: Change, bound = TABLE_BOUND, separator = ',') {
  const table = csvTable(sent);
  change(table);
  const read = readback(design, csvText(table, separator), bound);
  if (read.meaning === undefined) throw new Error(read.said);
  return { ...read, meaning: read.meaning };
}

/** The same where the table may not be readable. */
export function said(change: Change): readonly string[] {
  const table = csvTable(sent);
  change(table);
  return readback(design, csvText(table)).findings.map(({ rule, message }) => `${rule}: ${message}`);
}
