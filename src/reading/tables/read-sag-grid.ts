/**
 * Heights of a surface on a square grid, CSV, one node a row in any order: `x_mm,y_mm,z_mm`, or in other units such as `z_nm`. The nodes
 * fill a rectangle, each there once, `spacing` apart. Out come mm.
 */
import type { Finding } from '../../finding/finding.ts';
import { trimmed } from '../../quantity/format.ts';
import { LEAST_NODES, type SagGrid } from '../../scenario/datum.ts';
import { type NumericRow, NumericTable, type WantedColumn } from './numeric-table.ts';
import { TableFaults } from './table-faults.ts';

type ReadGrid =
  | { readonly grid: SagGrid }
  | { readonly findings: readonly Finding[] }
  /** Of the whole, in words that follow its name. */
  | { readonly fault: string; readonly hint: string };

const COLUMNS: readonly WantedColumn[] = ['x', 'y', 'z'].map((stem) => ({ stem, holds: 'length' }));
/** A thousand by a thousand. */
const MOST_NODES = 1_000_000;
/** Of a node's place, in spacings: what rounding of a printed place may come to. */
const OFF_GRID = 1e-3;

const mm = (value: number): string => `${trimmed(value, 6)} mm`;

export function readSagGrid(text: string, file: string, spacing: number): ReadGrid {
  const faults = new TableFaults(file);
  const nodes: NumericRow[] = [];
  const table = new NumericTable(faults, {
    wanted: () => COLUMNS,
    rows: 'nodes',
    mostRows: MOST_NODES,
    take: (row) => void nodes.push(row),
  });
  table.push(text);
  const findings = table.end();
  if (findings.length > 0) return { findings };
  const [x, y] = [0, 1].map((axis) =>
    nodes.reduce((least, { values }) => Math.min(least, values[axis]!), Number.POSITIVE_INFINITY),
  ) as [number, number];
  const start = [x, y];
  const steps = (row: NumericRow, axis: 0 | 1): number =>
    Math.round((row.values[axis]! - start[axis]!) / spacing);
  const side = (axis: 0 | 1): number => 1 + nodes.reduce((most, row) => Math.max(most, steps(row, axis)), 0);
  for (const row of nodes) {
    for (const axis of [0, 1] as const) {
      const off = row.values[axis]! - start[axis]! - steps(row, axis) * spacing;
      const name = table.names[axis];
      if (Math.abs(off) <= OFF_GRID * spacing) continue;
      const message = `${name} is ${row.fields[axis]!.text}: no whole number of spacings of ${mm(spacing)} from the least, ${mm(start[axis]!)}`;
      faults.add(
        row.fields[axis]!,
        message,
        'check `spacing` and the columns’ units; nodes lie on a square grid',
      );
    }
  }
  if (faults.count > 0) return { findings: faults.closed() };
  const [columns, rows] = [side(0), side(1)];
  if (Math.min(columns, rows) < LEAST_NODES)
    return {
      fault: `has ${columns} by ${rows} nodes`,
      hint: `a spline takes at least ${LEAST_NODES} along each side`,
    };
  if (columns * rows > MOST_NODES)
    return {
      fault: `spans ${columns} by ${rows} nodes, and holds ${nodes.length}`,
      hint: 'give the full rectangle; check `spacing` and the columns’ units',
    };
  const heights = new Float64Array(columns * rows).fill(Number.NaN);
  for (const row of nodes) {
    const at = steps(row, 1) * columns + steps(row, 0);
    if (Number.isNaN(heights[at]!)) heights[at] = row.values[2]!;
    else
      faults.add(
        row.fields[0]!,
        `the node at x ${mm(row.values[0]!)}, y ${mm(row.values[1]!)} appears twice`,
        'keep one of them',
      );
  }
  if (faults.count > 0) return { findings: faults.closed() };
  const lacking = heights.findIndex(Number.isNaN);
  if (lacking >= 0)
    return {
      fault: `has no height at x ${mm(x + (lacking % columns) * spacing)}, y ${mm(y + Math.floor(lacking / columns) * spacing)}`,
      hint: 'the nodes must fill a rectangle; continue the surface beyond a round part',
    };
  return { grid: { x, y, spacing, columns, rows, heights } };
}
