/** A CSV of cases (RFC 4180): its first line names parameters, each line after it gives their values as a scenario writes them. */
import { CsvError, parse } from 'csv-parse/sync';
import { errorFinding, type Finding } from '../finding/finding.ts';
import { didYouMean } from '../quantity/nearest-name.ts';
import { CASE_NAME } from '../reading/scenario/build-sweep.ts';
import { DEVICE_NAME, fileNameFault } from '../reading/yaml/identifiers.ts';
import { MOST_CASES, type SweptCase } from '../scenario/sweep.ts';

/** `file` is only quoted; `parameters` are those that the scenario has. */
export function readCaseTable(
  text: string,
  file: string,
  parameters: readonly string[],
): { readonly list: readonly SweptCase[] } | { readonly findings: readonly Finding[] } {
  const findings: Finding[] = [];
  const fault = (line: number, message: string, hint: string): void => {
    const place = { file, line, column: 1, endLine: line, endColumn: 2 };
    findings.push(errorFinding('bad-table', file, message, hint, place));
  };
  let rows: { record: string[]; info: { lines: number } }[];
  try {
    rows = parse(text, {
      bom: true,
      comment: '#',
      comment_no_infix: true,
      skip_empty_lines: true,
      trim: true,
      info: true,
      relax_column_count: true,
    }) as unknown as typeof rows;
  } catch (error) {
    if (!(error instanceof CsvError)) throw error;
    const hint = 'quote fields that contain a comma or a quote';
    fault(Number(error.lines ?? 1), `is not valid CSV: ${error.message}`, hint);
    return { findings };
  }
  const [head, ...body] = rows;
  if (head === undefined || body.length === 0) {
    fault(1, 'the table has no cases', 'the header names parameters; each further line is a case');
    return { findings };
  }
  const columns = head.record;
  columns.forEach((name, k) => {
    if (columns.indexOf(name) !== k)
      fault(head.info.lines, `the column \`${name}\` appears twice`, 'remove one');
    else if (name !== CASE_NAME && !parameters.includes(name)) {
      const listed = `known: ${parameters.slice(0, 20).join(', ')}`;
      const hint = didYouMean(name, [CASE_NAME, ...parameters]) ?? listed;
      fault(head.info.lines, `there is no parameter \`${name.slice(0, 64)}\``, hint);
    }
  });
  if (body.length > MOST_CASES)
    fault(1, `the table has ${body.length} cases`, `the limit is ${MOST_CASES}; split the table`);
  if (findings.length > 0) return { findings };
  const taken = new Set<string>();
  const list = body.map(({ record, info }): SweptCase => {
    if (record.length !== columns.length) {
      const message = `has ${record.length} values but the header has ${columns.length} columns`;
      fault(info.lines, message, 'give one value per column; quote a value that contains a comma');
    }
    const name = columns.includes(CASE_NAME) ? (record[columns.indexOf(CASE_NAME)] ?? '') : undefined;
    const nameFault = name === undefined ? undefined : fileNameFault(name);
    if (nameFault !== undefined) {
      const why = nameFault === 'device' ? DEVICE_NAME : 'cannot be used as a folder name';
      fault(info.lines, `the case \`${name!.slice(0, 64)}\` ${why}`, 'use letters, digits, `.`, `_`, `-`');
    } else if (name !== undefined && taken.has(name.toLowerCase())) {
      fault(info.lines, `the case \`${name}\` appears twice`, 'rename one of the two');
    }
    if (name !== undefined) taken.add(name.toLowerCase());
    // An empty field leaves the parameter as the scenario has it.
    const values = columns.flatMap((column, k) =>
      column === CASE_NAME || (record[k] ?? '') === '' ? [] : [[column, record[k]!] as const],
    );
    return { name, values };
  });
  return findings.length > 0 ? { findings: findings.slice(0, MOST_FAULTS) } : { list };
}

/** Faults of a table that are told. */
const MOST_FAULTS = 100;
