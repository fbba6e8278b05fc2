/**
 * A tracker's points, CSV, to a list, or to findings with their places. Columns by their names, in any order:
 *
 *     point,x_mm,y_mm,z_mm                            and, all three or none, sx_mm,sy_mm,sz_mm
 *     point,range_mm,azimuth_deg,elevation_deg        and, all three or none, srange_mm,sazimuth_deg,selevation_deg
 *
 * or with other units of length and angle.
 *
 * A point is named after its reference. It is taken at its focus (`north@hologram`) or touching the part (`north@part`); a bare
 * id is the one that sits on datums if it touches some and no patch looks at it, and the one at its focus otherwise.
 */
import type { Finding } from '../../finding/finding.ts';
import { kindOf } from '../../kinds/kinds.ts';
import { RAD_PER_DEG } from '../../quantity/conversion.ts';
import { didYouMean } from '../../quantity/nearest-name.ts';
import type { Vec3 } from '../../scenario/placing.ts';
import type { Reference, Scenario } from '../../scenario/scenario.ts';
import type { Measured, TrackedPoint } from '../../scenario/tracked-point.ts';
import { readNumericTable, type WantedColumn } from './numeric-table.ts';
import { TableFaults } from './table-faults.ts';
import type { TableRow } from './table-rows.ts';

type ReadPoints = { readonly points: readonly TrackedPoint[] } | { readonly findings: readonly Finding[] };

const CARTESIAN = ['x', 'y', 'z'];
const CARTESIAN_SIGMAS = ['sx', 'sy', 'sz'];
const SPHERICAL = ['range', 'azimuth', 'elevation'];
const SPHERICAL_SIGMAS = ['srange', 'sazimuth', 'selevation'];
/** Points in one file; nobody puts up more targets. */
const MOST_POINTS = 10_000;

export function readTrackedPoints(text: string, file: string, scenario: Scenario): ReadPoints {
  const faults = new TableFaults(file);
  const table = readNumericTable(text, columnsOf, MOST_POINTS, faults);
  if (table === undefined) return { findings: faults.closed() };
  const { columns } = table;
  const stems = columns.columns.slice(1).map(({ stem }) => stem);
  const first = new Map<string, TableRow>();
  const points = table.rows.flatMap(({ row, values: all }): TrackedPoint[] => {
    const name = columns.text(row, 0);
    const fault = (rule: Finding['rule'], column: number, message: string, hint: string): void =>
      faults.say(rule, name, columns.placeOf(file, row, column), message, hint);
    const values = [...all.subarray(1)];
    const named = sideOf(name, scenario);
    if (named === undefined) {
      const known = scenario.references.filter(isTracked).map(({ id }) => id);
      const [id] = name.split('@');
      const hint =
        didYouMean(id, known) ??
        `name a point after its reference, with or without @hologram or @part; known references: ${known.slice(0, 12).join(', ')}`;
      fault('unknown-reference', 0, `the scenario has no retroreflector ${JSON.stringify(name)}`, hint);
    } else {
      const key = `${named.reference}@${named.side}`;
      const before = first.get(key);
      if (before !== undefined) {
        const message = `${key} appears twice: it is already on line ${before.line + 1}`;
        fault('duplicate-id', 0, message, 'keep one, or give their mean');
      }
      first.set(key, before ?? row);
    }
    for (const [k, value] of values.slice(3).entries()) {
      const message = `${columns.columns[4 + k]!.name} is ${columns.text(row, 4 + k)}`;
      if (!(value > 0)) fault('out-of-range', 4 + k, message, 'give a standard uncertainty above 0');
    }
    const measured = measuredFrom(stems, values);
    if (measured.kind === 'spherical' && !(measured.range > 0)) {
      const column = 1 + stems.indexOf('range');
      fault('out-of-range', column, `the range is ${measured.range} mm`, 'give a range above 0');
    }
    return named === undefined ? [] : [{ name, ...named, measured, place: columns.placeOf(file, row, 0) }];
  });
  return faults.count > 0 ? { findings: faults.closed() } : { points };
}

/** The columns that a head with these names is meant to have; what it lacks of them the table's reader says. */
function columnsOf(stems: readonly string[]): readonly WantedColumn[] {
  const has = (name: string): boolean => stems.includes(name);
  const lengths = (names: readonly string[]) => names.map((stem) => ({ stem, is: 'length' }) as const);
  const polar = ([range, ...angles]: readonly string[]) => [
    { stem: range!, is: 'length' } as const,
    ...angles.map((stem) => ({ stem, is: 'angle' }) as const),
  ];
  const point = { stem: 'point', is: 'text' } as const;
  if (SPHERICAL.some(has))
    return [point, ...polar(SPHERICAL), ...(SPHERICAL_SIGMAS.some(has) ? polar(SPHERICAL_SIGMAS) : [])];
  return [point, ...lengths(CARTESIAN), ...(CARTESIAN_SIGMAS.some(has) ? lengths(CARTESIAN_SIGMAS) : [])];
}

const isTracked = (reference: Reference): boolean => kindOf(reference).inScenario.tracked;

function sideOf(name: string, scenario: Scenario): Pick<TrackedPoint, 'reference' | 'side'> | undefined {
  const [id, said, ...rest] = name.split('@');
  const reference = scenario.references.find((each) => each.id === id && isTracked(each));
  if (reference === undefined || rest.length > 0) return undefined;
  if (said === 'hologram' || said === 'part') return { reference: id, side: said };
  if (said !== undefined) return undefined;
  const seen = scenario.patches.some((patch) => patch.reference === id);
  return { reference: id, side: reference.given === 'touches' && !seen ? 'part' : 'hologram' };
}

/** Lengths mm, angles degrees. */
function measuredFrom(stems: readonly string[], values: readonly number[]): Measured {
  const three = (from: number): Vec3 => [values[from]!, values[from + 1]!, values[from + 2]!];
  const hasSigmas = values.length > 3;
  if (stems[0] === CARTESIAN[0])
    return { kind: 'cartesian', at: three(0), sigma: hasSigmas ? three(3) : undefined };
  const [range, azimuth, elevation] = three(0);
  return {
    kind: 'spherical',
    range,
    azimuth: azimuth * RAD_PER_DEG,
    elevation: elevation * RAD_PER_DEG,
    sigma: hasSigmas ? [values[3]!, values[4]! * RAD_PER_DEG, values[5]! * RAD_PER_DEG] : undefined,
  };
}
