/** The tables that the program reads, each in a plain form, and what its reader makes of a text: its meaning, or findings. */
import { readCaseTable } from '../../../src/batch/case-table.ts';
import type { Finding } from '../../../src/finding/finding.ts';
import { readScenario } from '../../../src/reading/scenario/read-scenario.ts';
import { readCoefficientTable } from '../../../src/reading/tables/coefficient-table.ts';
import { NumericTable } from '../../../src/reading/tables/numeric-table.ts';
import { readTrackedPoints } from '../../../src/reading/tables/read-tracked-points.ts';
import { TableFaults } from '../../../src/reading/tables/table-faults.ts';
import type { SweptCase } from '../../../src/scenario/sweep.ts';

export interface TableKind {
  readonly name: string;
  /** Head and rows, field by field. All fields are free of separators and quotes. */
  readonly rows: readonly (readonly string[])[];
  /** Columns of lengths in mm; their numbers stay exact in µm. */
  readonly lengths: readonly number[];
  /** Columns where every cell must hold a number. */
  readonly numbers: readonly number[];
  /** A column where a decimal comma would be tempting. */
  readonly decimal: number;
  /** Other programs write it: more is read, and columns that are not asked for are left. */
  readonly isForeign?: boolean;
  /** Without places, so that it can be compared. */
  readonly read: (text: string) => { readonly meaning?: unknown; readonly findings: readonly Finding[] };
}

const SCENARIO = readScenario(
  `
format: datumlight/1
light: {wavelength: 632.8 nm}
interferometer: {focus: [0, 0, -500], fNumber: 3.2}
substrate: {outline: {circle: {diameter: 150}}}
references:
  - {id: north, kind: smr, diameter: 1.5 in, at: [0, 250, 800]}
  - {id: south, kind: smr, diameter: 1.5 in, at: [0, -250, 800]}
patches:
  - {id: n, reference: north, focus: line, centre: [60, 0], outline: {circle: {diameter: 10}}, lineAngle: 90 deg}
`,
  's.yaml',
).scenario!;

const FILE = 't.csv';

function readPoints(text: string): ReturnType<TableKind['read']> {
  const points: (readonly number[])[] = [];
  const table = new NumericTable(new TableFaults(FILE), {
    wanted: () => [
      { stem: 'x', holds: 'length' },
      { stem: 'y', holds: 'length' },
    ],
    rows: 'points',
    mostRows: 1000,
    take: ({ values }) => points.push(values),
  });
  table.push(text);
  const findings = table.end();
  return findings.length > 0 ? { findings } : { meaning: points, findings };
}

function readTracker(text: string): ReturnType<TableKind['read']> {
  const read = readTrackedPoints(text, FILE, SCENARIO);
  // Where a point's name stands differs from form to form.
  return 'findings' in read
    ? read
    : { meaning: read.points.map(({ place: _, ...point }) => point), findings: [] };
}

export const TABLES: readonly TableKind[] = [
  {
    name: 'points of phase',
    rows: [
      ['x_mm', 'y_mm'],
      ['60.5', '-1e0'],
      ['+.25', '2'],
    ],
    lengths: [0, 1],
    numbers: [0, 1],
    decimal: 0,
    read: readPoints,
  },
  {
    name: 'tracker points',
    isForeign: true,
    rows: [
      ['point', 'x_mm', 'y_mm', 'z_mm'],
      ['north', '1.5', '250', '800'],
      ['south@hologram', '-0.5', '-250', '8e2'],
    ],
    lengths: [1, 2, 3],
    numbers: [1, 2, 3],
    decimal: 1,
    read: readTracker,
  },
  {
    name: 'tracker points by range and angles',
    isForeign: true,
    rows: [
      [
        'point',
        'range_mm',
        'azimuth_deg',
        'elevation_deg',
        'srange_mm',
        'sazimuth_arcsec',
        'selevation_arcmin',
      ],
      ['north', '1500', '-30', '0.25', '0.01', '1', '.1'],
      ['south', '2e3', '90', '-1', '0.01', '1', '.1'],
    ],
    lengths: [1, 4],
    numbers: [1, 2, 3, 4, 5, 6],
    decimal: 2,
    read: readTracker,
  },
  {
    name: 'returned coefficients',
    rows: [
      ['patch', 'basis', 'i', 'j', 'coefficient_waves', 'unitRadius_mm', 'centreX_mm', 'centreY_mm'],
      ['n', 'xy', '0', '0', '1.25', '5.5', '60', '-0.5'],
      ['n', 'xy', '1', '0', '-2.5e-1', '5.5', '60', '-0.5'],
    ],
    lengths: [5, 6, 7],
    numbers: [4, 5, 6, 7],
    decimal: 4,
    read: (text) => {
      const { table, findings } = readCoefficientTable(text, FILE, 632.8e-6);
      if (table === undefined) return { findings };
      const meaning = table.blocks.map(({ place: _, ...block }) => block);
      return { meaning, findings };
    },
  },
  {
    name: 'cases of a sweep',
    rows: [
      ['case', 'gap', 'size'],
      ['cold', '2.5', '1'],
      ['hot', '3.5', '2'],
    ],
    lengths: [],
    numbers: [],
    decimal: 1,
    read: (text) => {
      const read = readCaseTable(text, FILE, ['gap', 'size']);
      return 'findings' in read ? read : { meaning: read.list.map(sorted), findings: [] };
    },
  },
];

/** The order of a case's values means nothing. */
const sorted = ({ name, values }: SweptCase) => ({
  name,
  values: values.toSorted(([a], [b]) => (a < b ? -1 : 1)),
});

/** Fields joined as they are. */
export const joined = (rows: readonly (readonly string[])[], separator = ',', end = '\n'): string =>
  rows.map((row) => `${row.join(separator)}${end}`).join('');
