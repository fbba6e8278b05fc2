/**
 * A tracker's points as a table to a list, or to findings with their places. Columns by their names, in any order and in any unit that the
 * name gives (`x_in`, `azimuth [rad]`):
 *
 *     point,x_mm,y_mm,z_mm                            and, all three or none, sx_mm,sy_mm,sz_mm
 *     point,range_mm,azimuth_deg,elevation_deg        and, all three or none, srange_mm,sazimuth_arcsec,selevation_arcsec
 *
 * A zenith angle may stand for the elevation, 90° less it. Tables as other programs write them are taken too (foreign-columns.ts,
 * decimal-sign.ts, table-reader.ts). A point may be there several times. Names: tracked-names.ts.
 */
import type { Code } from '../../finding/codes.ts';
import { errorFinding, type Finding } from '../../finding/finding.ts';
import type { Vec3 } from '../../scenario/placing.ts';
import type { PointTable } from '../../scenario/point-table.ts';
import type { Scenario } from '../../scenario/scenario.ts';
import type { Measured, TrackedPoint } from '../../scenario/tracked-point.ts';
import { ForeignColumns, type SaidOfTable } from './foreign-columns.ts';
import { type NumericRow, NumericTable, type WantedColumn } from './numeric-table.ts';
import { placeAt, TableFaults } from './table-faults.ts';
import type { TextField } from './table-scanner.ts';
import { namedPoint } from './tracked-names.ts';

type ReadPoints =
  | { readonly points: readonly TrackedPoint[]; readonly table: PointTable }
  | { readonly findings: readonly Finding[] };

const NAME: WantedColumn = { stem: 'point', holds: 'name' };
const lengths = (...stems: string[]): WantedColumn[] => stems.map((stem) => ({ stem, holds: 'length' }));
const angles = (...stems: string[]): WantedColumn[] => stems.map((stem) => ({ stem, holds: 'angle' }));
const CARTESIAN = lengths('x', 'y', 'z');
const CARTESIAN_SIGMAS = lengths('sx', 'sy', 'sz');
const spherical = (vertical: 'elevation' | 'zenith') => [...lengths('range'), ...angles('azimuth', vertical)];
const sphericalSigmas = (vertical: 'elevation' | 'zenith') => [
  ...lengths('srange'),
  ...angles('sazimuth', `s${vertical}`),
];

/** What columns are called; general words of the trade, no program's own. */
const WORDS: Readonly<Record<string, readonly string[]>> = {
  point: ['name', 'id', 'target', 'label', 'point name', 'point id', 'point no', 'target name', 'target id'],
  ...Object.fromEntries(
    ['x', 'y', 'z'].flatMap((axis) => [
      [axis, []],
      [`s${axis}`, [`u${axis}`, `s ${axis}`, `u ${axis}`, `sigma ${axis}`, `${axis} sigma`]],
    ]),
  ),
  range: ['distance', 'dist', 'slope distance'],
  azimuth: ['az', 'hz', 'horizontal angle'],
  elevation: ['el', 'elev', 'elevation angle'],
  zenith: ['zenith angle', 'zenith distance', 'zen'],
  srange: ['urange', 's range', 'u range', 'sigma range', 'sigma distance'],
  sazimuth: ['uazimuth', 's azimuth', 'u azimuth', 'sigma azimuth', 'sigma hz'],
  selevation: ['uelevation', 's elevation', 'u elevation', 'sigma elevation'],
  szenith: ['uzenith', 's zenith', 'u zenith', 'sigma zenith'],
};

const VERTICAL = [
  'may be counted from the horizon or from the zenith',
  'call it elevation or zenith, in the header or with `--columns`',
] as const;
const UNCLEAR = { v: VERTICAL, vertical: VERTICAL, 'vertical angle': VERTICAL };

/** Rows in one file; nobody puts up more targets. */
const MOST_POINTS = 10_000;
/** A table with a decimal comma and a comma between columns has at least two of them for each coordinate, and a name. */
const COULD_BE_HALVES = 7;

const NOTHING_SAID: SaidOfTable = { units: {}, columns: undefined, decimal: undefined };

export function readTrackedPoints(
  text: string,
  file: string,
  scenario: Scenario,
  said: SaidOfTable = NOTHING_SAID,
): ReadPoints {
  const faults = new TableFaults(file);
  const points: TrackedPoint[] = [];
  const renamed = new Map<string, string>();
  let coordinates = 'cartesian' as 'cartesian' | 'spherical';
  let vertical = 'elevation' as 'elevation' | 'zenith';
  let both = false;
  let firstWhole: TextField | undefined;
  let isAllWhole = true;
  const fault = (code: Code, row: NumericRow, field: TextField, message: string, hint: string): void =>
    faults.add(field, message, hint, code, row.fields[0]!.text);
  const take = (row: NumericRow): void => {
    const before = faults.count;
    const { fields, values } = row;
    const [{ text: written }] = fields as readonly [TextField];
    const named = namedPoint(written, scenario);
    if ('message' in named) fault('unknown-reference', row, fields[0]!, named.message, named.hint);
    for (let k = 4; k < values.length; k++) {
      const message = `${table.names[k]} is ${fields[k]!.text}`;
      if (!(values[k]! > 0))
        fault('out-of-range', row, fields[k]!, message, 'give a standard uncertainty above 0');
    }
    if (coordinates === 'spherical' && !(values[1]! > 0))
      fault('out-of-range', row, fields[1]!, `the range is ${values[1]} mm`, 'give a range above 0');
    firstWhole ??= fields[1]!;
    isAllWhole &&= fields.slice(1).every((field) => /^[+-]?\d+$/.test(field.text));
    if ('message' in named || faults.count > before) return;
    if (named.name !== written) renamed.set(written, named.name);
    const { name, reference, side } = named;
    const measured = measuredFrom(coordinates === 'spherical' ? vertical : undefined, values);
    points.push({ name, reference, side, measured, place: placeAt(file, fields[0]!) });
  };
  const wanted = (stems: ReadonlySet<string>): readonly WantedColumn[] => {
    const has = ({ stem }: WantedColumn): boolean => stems.has(stem);
    vertical = stems.has('zenith') && !stems.has('elevation') ? 'zenith' : 'elevation';
    const round = spherical(vertical);
    both = CARTESIAN.every(has) && round.every(has);
    coordinates = round.some(has) && !CARTESIAN.every(has) ? 'spherical' : 'cartesian';
    const [three, sigmas] =
      coordinates === 'spherical' ? [round, sphericalSigmas(vertical)] : [CARTESIAN, CARTESIAN_SIGMAS];
    return [NAME, ...three, ...(sigmas.some(has) ? sigmas : [])];
  };
  const foreign = new ForeignColumns(faults, said, WORDS, UNCLEAR);
  const table = new NumericTable(faults, { wanted, rows: 'points', mostRows: MOST_POINTS, take, foreign });
  table.push(text);
  let findings = table.end();
  if (findings.length === 0 && both) {
    const message = 'the table has x, y, z and range, azimuth, vertical angle: it is not said which to take';
    const hint = 'name the columns in order with `--columns`, `-` for those to leave out';
    findings = [errorFinding('bad-table', file, message, hint, points[0]?.place)];
  }
  if (findings.length > 0) return { findings };
  const { separator, decimal, columns } = table.form;
  const width = columns.length + foreign.left.length;
  if (separator === 'comma' && said.decimal === undefined && isAllWhole && width >= COULD_BE_HALVES) {
    const message = 'all numbers are whole: decimal commas may have been taken for separators of columns';
    const hint =
      'separate the columns by semicolons or tabs; if the numbers are whole, say `--decimal point`';
    faults.add(firstWhole!, message, hint);
    return { findings: faults.closed() };
  }
  return {
    points,
    table: {
      ...{ separator, decimal, coordinates, columns },
      verticalAnglesFrom: coordinates === 'cartesian' ? null : vertical === 'zenith' ? 'zenith' : 'horizon',
      left: foreign.left,
      linesPassedOver: foreign.linesPassedOver,
      renamed: [...renamed].map(([written, point]) => ({ written, point })),
    },
  };
}

/** `values` are those of a row: the point's name, three coordinates, perhaps their three standard uncertainties. */
function measuredFrom(vertical: 'elevation' | 'zenith' | undefined, values: readonly number[]): Measured {
  const three = (from: number): Vec3 => [values[from]!, values[from + 1]!, values[from + 2]!];
  const sigma = values.length > 4 ? three(4) : undefined;
  if (vertical === undefined) return { kind: 'cartesian', at: three(1), sigma };
  const [range, azimuth, angle] = three(1);
  const elevation = vertical === 'zenith' ? Math.PI / 2 - angle : angle;
  return { kind: 'spherical', range, azimuth, elevation, sigma };
}
