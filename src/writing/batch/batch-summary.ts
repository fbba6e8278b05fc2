/** `summary.csv` and `summary.json`: one row a scenario or case, in the batch's order. Units as columns and keys say. */
import { DEGREES } from '../../scenario/scenario.ts';
import { csvField } from '../csv.ts';
import { jsonText } from '../json.ts';
import { type BatchRow, figureText } from './batch-row.ts';

export const SUMMARY_FORMAT = 'datumlight-batch/1';

interface SummaryHead {
  readonly version: string;
  /** SHA-256 over every scenario and case of the whole batch: its shards share it. */
  readonly batch: string;
  /** Scenarios and cases in the whole batch. */
  readonly total: number;
  /** `2/4` of a shard; undefined for a whole batch. */
  readonly shard?: string;
}

export const summaryJson = (head: SummaryHead, rows: readonly BatchRow[]): string =>
  jsonText({
    format: SUMMARY_FORMAT,
    ...head,
    ok: rows.every(({ outcome }) => outcome === 'fine'),
    rows: rows.map((row) => ({ ...row })),
  });

const FIGURES = [
  'patches',
  'references',
  'minPeriod_um',
  'worstResolution_um',
  'worstSigma_um',
  'partTranslation_um',
  'partRotation_urad',
] as const;

/** Of each degree, what is reached and what is wanted. */
const WISHES = DEGREES.flatMap((degree) => {
  const unit = degree.startsWith('r') ? 'urad' : 'um';
  return (['reached', 'wanted'] as const).map((of) => ({ degree, of, column: `${degree}_${of}_${unit}` }));
});

/** Parameters get a column each by name and unit, such as `rim_mm`. */
export function summaryCsv(rows: readonly BatchRow[]): string {
  const columnOf = ({ name, unit }: BatchRow['parameters'][number]): string =>
    unit === '' ? name : `${name}_${unit.replaceAll(/[^A-Za-z0-9]+/g, '')}`;
  const columns = [...new Set(rows.flatMap((row) => row.parameters.map(columnOf)))];
  const head = [
    'index',
    'name',
    'file',
    'case',
    ...columns,
    'outcome',
    'written',
    'errors',
    'warnings',
    ...FIGURES,
    ...WISHES.map(({ column }) => column),
  ];
  const lines = rows.map((row) => {
    const values = new Map(
      row.parameters.map((parameter) => [columnOf(parameter), figureText(parameter.value)]),
    );
    return [
      row.index,
      row.name,
      row.file,
      row.case ?? '',
      ...columns.map((column) => values.get(column) ?? ''),
      row.outcome,
      row.written ? 'yes' : 'no',
      row.errors,
      row.warnings,
      ...[
        ...FIGURES.map((figure) => row[figure]),
        ...WISHES.map(({ degree, of }) => row[of]?.[degree] ?? null),
      ].map((value) => (value === null ? '' : figureText(value))),
      row.unobserved.join(' '),
      row.rules.join(' '),
    ];
  });
  return [[...head, 'unobserved', 'findings'], ...lines]
    .map((fields) => `${fields.map((field) => csvField(String(field))).join(',')}\n`)
    .join('');
}
