/**
 * A tracker's points, CSV, to a list, or to findings with their places. Columns by their names, in any order:
 *
 *     point,x_mm,y_mm,z_mm                            and, all three or none, sx_mm,sy_mm,sz_mm
 *     point,range_mm,azimuth_deg,elevation_deg        and srange_mm with sazimuth_deg,selevation_deg or sazimuth_arcsec,selevation_arcsec
 *
 * A point is named after its reference. It is taken at its focus (`north@hologram`) or touching the part (`north@part`); a bare
 * id is the one that sits on datums if it touches some and no patch looks at it, and the one at its focus otherwise.
 */
import { errorFinding, type Finding } from '../../finding/finding.ts';
import { kindOf } from '../../kinds/kinds.ts';
import { RAD_PER_DEG } from '../../quantity/conversion.ts';
import { didYouMean } from '../../quantity/nearest-name.ts';
import type { Vec3 } from '../../scenario/placing.ts';
import type { Reference, Scenario } from '../../scenario/scenario.ts';
import type { Measured, TrackedPoint } from '../../scenario/tracked-point.ts';
import { readNumericTable, tableHead } from './numeric-table.ts';

type ReadPoints = { readonly points: readonly TrackedPoint[] } | { readonly findings: readonly Finding[] };

const CARTESIAN = ['x_mm', 'y_mm', 'z_mm'];
const CARTESIAN_SIGMAS = ['sx_mm', 'sy_mm', 'sz_mm'];
const SPHERICAL = ['range_mm', 'azimuth_deg', 'elevation_deg'];
const SPHERICAL_SIGMAS = [
  ['srange_mm', 'sazimuth_deg', 'selevation_deg'],
  ['srange_mm', 'sazimuth_arcsec', 'selevation_arcsec'],
];
const RAD_PER_ARCSEC = RAD_PER_DEG / 3600;
/** Points in one file; nobody puts up more targets. */
const MOST_POINTS = 10_000;

export function readTrackedPoints(text: string, file: string, scenario: Scenario): ReadPoints {
  const head = tableHead(text);
  const columns = columnsOf(head);
  const table = readNumericTable(text, file, ['point', ...columns], ['point']);
  if ('findings' in table) return table;
  const { texts, placeOf } = table;
  const findings: Finding[] = [];
  const fault = (rule: Finding['rule'], row: number, column: number, message: string, hint: string): void => {
    findings.push(errorFinding(rule, texts[0][row], message, hint, placeOf(row, column)));
  };
  if (texts[0].length > MOST_POINTS)
    fault('too-many', MOST_POINTS, 0, `the table has ${texts[0].length} points`, `at most ${MOST_POINTS}`);
  const first = new Map<string, number>();
  const points = texts[0].flatMap((name, row): TrackedPoint[] => {
    const values = table.columns.slice(1).map((column) => column[row]);
    const named = sideOf(name, scenario);
    if (named === undefined) {
      const known = scenario.references.filter(isTracked).map(({ id }) => id);
      const [id] = name.split('@');
      const hint =
        didYouMean(id, known) ??
        `name a point after its reference, with or without @hologram or @part; known references: ${known.slice(0, 12).join(', ')}`;
      fault('unknown-reference', row, 0, `the scenario has no retroreflector ${JSON.stringify(name)}`, hint);
    } else {
      const key = `${named.reference}@${named.side}`;
      const before = first.get(key);
      if (before !== undefined) {
        const message = `${key} appears twice: it is already on line ${placeOf(before, 0).line}`;
        fault('duplicate-id', row, 0, message, 'keep one, or give their mean');
      }
      first.set(key, before ?? row);
    }
    for (const [k, value] of values.slice(3).entries()) {
      const message = `${columns[3 + k]} is ${value}`;
      if (!(value > 0)) fault('out-of-range', row, 4 + k, message, 'give a standard uncertainty above 0');
    }
    const measured = measuredFrom(columns, values);
    if (measured.kind === 'spherical' && !(measured.range > 0)) {
      const column = 1 + columns.indexOf('range_mm');
      fault('out-of-range', row, column, `the range is ${measured.range} mm`, 'give a range above 0');
    }
    return named === undefined ? [] : [{ name, ...named, measured, place: placeOf(row, 0) }];
  });
  return findings.length > 0 ? { findings } : { points };
}

/** The columns that a head with these names is meant to have; what it lacks of them the table's reader says. */
function columnsOf(head: readonly string[]): readonly string[] {
  const has = (name: string): boolean => head.includes(name);
  if (SPHERICAL.some(has)) {
    const sigmas =
      SPHERICAL_SIGMAS.toReversed().find((names) => names.slice(1).some(has)) ?? SPHERICAL_SIGMAS[0];
    return sigmas.some(has) ? [...SPHERICAL, ...sigmas] : SPHERICAL;
  }
  return CARTESIAN_SIGMAS.some(has) ? [...CARTESIAN, ...CARTESIAN_SIGMAS] : CARTESIAN;
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

function measuredFrom(columns: readonly string[], values: readonly number[]): Measured {
  const three = (from: number): Vec3 => [values[from], values[from + 1], values[from + 2]];
  const hasSigmas = values.length > 3;
  if (columns[0] === CARTESIAN[0])
    return { kind: 'cartesian', at: three(0), sigma: hasSigmas ? three(3) : undefined };
  const unit = columns[4] === SPHERICAL_SIGMAS[1][1] ? RAD_PER_ARCSEC : RAD_PER_DEG;
  const [range, azimuth, elevation] = three(0);
  return {
    kind: 'spherical',
    range,
    azimuth: azimuth * RAD_PER_DEG,
    elevation: elevation * RAD_PER_DEG,
    sigma: hasSigmas ? [values[3], values[4] * unit, values[5] * unit] : undefined,
  };
}
