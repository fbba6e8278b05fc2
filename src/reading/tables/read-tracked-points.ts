/**
 * A tracker's points, CSV, to a list, or to findings with their places. Columns by their names, in any order and in any unit that the
 * name gives (`x_in`, `azimuth [rad]`):
 *
 *     point,x_mm,y_mm,z_mm                            and, all three or none, sx_mm,sy_mm,sz_mm
 *     point,range_mm,azimuth_deg,elevation_deg        and, all three or none, srange_mm,sazimuth_arcsec,selevation_arcsec
 *
 * A point is named after its reference. It is taken at its focus (`north@hologram`) or touching the part (`north@part`); a bare
 * id is the one that sits on datums if it touches some and no patch looks at it, and the one at its focus otherwise.
 */
import type { Code } from '../../finding/codes.ts';
import type { Finding } from '../../finding/finding.ts';
import { kindOf } from '../../kinds/kinds.ts';
import { didYouMean } from '../../quantity/nearest-name.ts';
import type { Vec3 } from '../../scenario/placing.ts';
import type { Reference, Scenario } from '../../scenario/scenario.ts';
import type { Measured, TrackedPoint } from '../../scenario/tracked-point.ts';
import { type NumericRow, NumericTable, type WantedColumn } from './numeric-table.ts';
import { placeAt, TableFaults } from './table-faults.ts';
import type { TextField } from './table-scanner.ts';

type ReadPoints = { readonly points: readonly TrackedPoint[] } | { readonly findings: readonly Finding[] };

const NAME: WantedColumn = { stem: 'point', holds: 'name' };
const lengths = (...stems: string[]): WantedColumn[] => stems.map((stem) => ({ stem, holds: 'length' }));
const angles = (...stems: string[]): WantedColumn[] => stems.map((stem) => ({ stem, holds: 'angle' }));
const CARTESIAN = lengths('x', 'y', 'z');
const CARTESIAN_SIGMAS = lengths('sx', 'sy', 'sz');
const SPHERICAL = [...lengths('range'), ...angles('azimuth', 'elevation')];
const SPHERICAL_SIGMAS = [...lengths('srange'), ...angles('sazimuth', 'selevation')];
/** Points in one file; nobody puts up more targets. */
const MOST_POINTS = 10_000;

export function readTrackedPoints(text: string, file: string, scenario: Scenario): ReadPoints {
  const faults = new TableFaults(file);
  const points: TrackedPoint[] = [];
  const lines = new Map<string, number>();
  let isSpherical = false;
  const fault = (code: Code, row: NumericRow, field: TextField, message: string, hint: string): void =>
    faults.add(field, message, hint, code, row.fields[0]!.text);
  const take = (row: NumericRow): void => {
    const before = faults.count;
    const { fields, values } = row;
    const [{ text: name, line }] = fields as readonly [TextField];
    const named = sideOf(name, scenario);
    if (named === undefined) {
      const message = `the scenario has no retroreflector ${JSON.stringify(name)}`;
      fault('unknown-reference', row, fields[0]!, message, knownNames(name, scenario));
    } else {
      const key = `${named.reference}@${named.side}`;
      const earlier = lines.get(key);
      if (earlier === undefined) lines.set(key, line);
      else {
        const message = `${key} appears twice: it is already on line ${earlier + 1}`;
        fault('duplicate-id', row, fields[0]!, message, 'keep one, or give their mean');
      }
    }
    for (let k = 4; k < values.length; k++) {
      const message = `${table.names[k]} is ${fields[k]!.text}`;
      if (!(values[k]! > 0))
        fault('out-of-range', row, fields[k]!, message, 'give a standard uncertainty above 0');
    }
    if (isSpherical && !(values[1]! > 0))
      fault('out-of-range', row, fields[1]!, `the range is ${values[1]} mm`, 'give a range above 0');
    if (named !== undefined && faults.count === before)
      points.push({
        name,
        ...named,
        measured: measuredFrom(isSpherical, values),
        place: placeAt(file, fields[0]!),
      });
  };
  const wanted = (stems: ReadonlySet<string>): readonly WantedColumn[] => {
    const has = ({ stem }: WantedColumn): boolean => stems.has(stem);
    isSpherical = SPHERICAL.some(has);
    const [three, sigmas] = isSpherical ? [SPHERICAL, SPHERICAL_SIGMAS] : [CARTESIAN, CARTESIAN_SIGMAS];
    return [NAME, ...three, ...(sigmas.some(has) ? sigmas : [])];
  };
  const table = new NumericTable(faults, { wanted, rows: 'points', mostRows: MOST_POINTS, take });
  table.push(text);
  const findings = table.end();
  return findings.length > 0 ? { findings } : { points };
}

function knownNames(name: string, scenario: Scenario): string {
  const known = scenario.references.filter(isTracked).map(({ id }) => id);
  const [id] = name.split('@');
  return (
    didYouMean(id!, known) ??
    `name a point after its reference, with or without @hologram or @part; known references: ${known.slice(0, 12).join(', ')}`
  );
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

/** `values` are those of a row: the point's name, three coordinates, perhaps their three standard uncertainties. */
function measuredFrom(isSpherical: boolean, values: readonly number[]): Measured {
  const three = (from: number): Vec3 => [values[from]!, values[from + 1]!, values[from + 2]!];
  const sigma = values.length > 4 ? three(4) : undefined;
  if (!isSpherical) return { kind: 'cartesian', at: three(1), sigma };
  const [range, azimuth, elevation] = three(1);
  return { kind: 'spherical', range, azimuth, elevation, sigma };
}
