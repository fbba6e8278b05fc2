/**
 * A table of cases: its first line names parameters, each line after it gives their values as a scenario writes them. A column may
 * give the unit of its numbers: under `gap [um]`, 50 is 50 um.
 */
import type { Finding } from '../finding/finding.ts';
import { didYouMean } from '../quantity/nearest-name.ts';
import { commonUnit } from '../quantity/unit.ts';
import { CASE_NAME } from '../reading/scenario/build-sweep.ts';
import { columnName } from '../reading/tables/column-name.ts';
import { COMMA_HINT, hasDecimalComma, isNumber } from '../reading/tables/number-field.ts';
import { TableFaults } from '../reading/tables/table-faults.ts';
import { TableReader } from '../reading/tables/table-reader.ts';
import type { TextField } from '../reading/tables/table-scanner.ts';
import { DEVICE_NAME, fileNameFault } from '../reading/yaml/identifiers.ts';
import { MOST_CASES, type SweptCase } from '../scenario/sweep.ts';

/** A column of values: undefined is one without a name, which holds none. */
type CaseColumn = { readonly name: string; readonly unit: string | undefined } | undefined;

/** `file` is only quoted; `parameters` are those that the scenario has. */
export function readCaseTable(
  text: string,
  file: string,
  parameters: readonly string[],
): { readonly list: readonly SweptCase[] } | { readonly findings: readonly Finding[] } {
  const faults = new TableFaults(file);
  const list: SweptCase[] = [];
  const taken = new Set<string>();
  let columns: readonly CaseColumn[] = [];
  const row = (fields: readonly TextField[]): void => {
    const at = columns.findIndex((column) => column?.name === CASE_NAME);
    const named = fields[at];
    if (named !== undefined) sayName(named, taken, faults);
    // An empty field leaves the parameter as the scenario has it.
    const values = fields.flatMap((field, k) => {
      const column = columns[k];
      if (column === undefined || k === at || field.text === '') return [];
      return [[column.name, caseValue(field, column, faults)] as const];
    });
    list.push({ name: named?.text, values });
  };
  const reader = new TableReader(faults, {
    asHead: () => 'the header names parameters; each further line is a case',
    rows: 'cases',
    mostRows: MOST_CASES,
    head: (fields) => {
      columns = columnsOf(fields, parameters, faults);
    },
    row,
  });
  reader.push(text);
  reader.end();
  return faults.count > 0 ? { findings: faults.closed() } : { list };
}

function columnsOf(
  fields: readonly TextField[],
  parameters: readonly string[],
  faults: TableFaults,
): readonly CaseColumn[] {
  const known = [CASE_NAME, ...parameters];
  const seen = new Set<string>();
  return fields.map((field): CaseColumn => {
    if (field.text === '') return undefined;
    const column = columnOf(field.text, known);
    if (column === undefined) {
      const hint = didYouMean(field.text, known) ?? `known: ${parameters.slice(0, 20).join(', ')}`;
      faults.add(field, `there is no parameter \`${field.text.slice(0, 64)}\``, hint);
      return undefined;
    }
    if (seen.has(column.name)) faults.add(field, `the column \`${column.name}\` appears twice`, 'remove one');
    seen.add(column.name);
    if (column.unit !== undefined && commonUnit(column.unit) === undefined) {
      const message = `column ${JSON.stringify(field.text)} has an unknown unit`;
      faults.add(field, message, `name the parameter alone, or with a unit such as \`${column.name} [mm]\``);
    }
    return column;
  });
}

/** A name that is a parameter's whole name has no unit, whatever it ends with. */
function columnOf(text: string, known: readonly string[]): CaseColumn {
  if (known.includes(text)) return { name: text, unit: undefined };
  const { stem, unit } = columnName(text);
  const name = known.find((each) => each !== CASE_NAME && each.toLowerCase() === stem);
  return name === undefined || unit === undefined || !text.startsWith(name) ? undefined : { name, unit };
}

function caseValue(field: TextField, { name, unit }: NonNullable<CaseColumn>, faults: TableFaults): string {
  const { text } = field;
  if (hasDecimalComma(text.split(/[^\d.,+-]/, 1)[0]!)) {
    faults.add(field, `${JSON.stringify(text)} is not a valid value for ${name}`, COMMA_HINT);
    return text;
  }
  if (unit === undefined) return text;
  if (!isNumber(text)) {
    const hint = 'write numbers without units in it, or name the parameter alone';
    faults.add(field, `${JSON.stringify(text)} stands in a column in ${unit}`, hint);
  }
  return `${text} ${unit}`;
}

function sayName(field: TextField, taken: Set<string>, faults: TableFaults): void {
  const { text } = field;
  const fault = fileNameFault(text);
  if (fault !== undefined) {
    const why = fault === 'device' ? DEVICE_NAME : 'cannot be used as a folder name';
    faults.add(field, `the case \`${text.slice(0, 64)}\` ${why}`, 'use letters, digits, `.`, `_`, `-`');
  } else if (taken.has(text.toLowerCase())) {
    faults.add(field, `the case \`${text}\` appears twice`, 'rename one of the two');
  }
  taken.add(text.toLowerCase());
}
