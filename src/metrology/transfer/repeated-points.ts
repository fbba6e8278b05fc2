/**
 * Points measured several times, each to the mean of its measurements: mm, tracker frame. The scatter gives the type A part of the mean's
 * uncertainty, the sample covariance over the count (JCGM 100:2008, 4.2.3); what the file or common practice states for one measurement is
 * taken as common to all of them, and is not divided: the tracker's own errors do not average out.
 */

import { chiSquaredTail } from '../../algebra/distributions.ts';
import { choleskyFactor } from '../../algebra/triangular-factors.ts';
import { errorFinding, type Finding } from '../../finding/finding.ts';
import { dot, subtract, type Vec3 } from '../../geometry/vector.ts';
import { fixed } from '../../quantity/format.ts';
import type { TrackedPoint } from '../../scenario/tracked-point.ts';
import { CONTRADICTION } from '../estimate/consistency.ts';
import { measuredCovariance, placeOf } from './measured-place.ts';
import { meanOf } from './registration-start.ts';

/** A point of the table, once. */
export interface MeanPoint extends Pick<TrackedPoint, 'name' | 'reference' | 'side' | 'place'> {
  /** mm, tracker frame; the covariance 3 × 3 row-major, mm². */
  readonly at: Vec3;
  readonly covariance: Float64Array;
  /** Undefined where it was measured once. */
  readonly repeats: Repeats | undefined;
}

interface Repeats {
  readonly count: number;
  /** Standard deviation of one measurement along the tracker's x, y, z, mm. */
  readonly scatter: Vec3;
  /** Of a scatter this large or larger by what is stated for one measurement. */
  readonly probability: number;
}

/** Two measurements of one name this far apart, mm, are of two places: a tracker's repeats differ by hundredths. Common practice, no source. */
const TWO_PLACES = 1;

/** The points in the order in which they first appear, and what is wrong with repeats: errors where two places have one name. */
export function meanPoints(tracked: readonly TrackedPoint[]): {
  readonly points: readonly MeanPoint[];
  readonly findings: readonly Finding[];
} {
  const groups = new Map<string, TrackedPoint[]>();
  for (const point of tracked) {
    const key = `${point.reference}@${point.side}`;
    const group = groups.get(key);
    if (group === undefined) groups.set(key, [point]);
    else group.push(point);
  }
  const findings: Finding[] = [];
  const points = [...groups.values()].map((group) => {
    const point = meanPoint(group);
    findings.push(...repeatFindings(group, point));
    return point;
  });
  return { points, findings };
}

function meanPoint(group: readonly TrackedPoint[]): MeanPoint {
  const [{ name, reference, side, place }] = group as readonly [TrackedPoint];
  const places = group.map(({ measured }) => placeOf(measured));
  const count = group.length;
  const at = meanOf(places);
  const stated = meanCovariance(group);
  const point = { name, reference, side, at, ...(place === undefined ? {} : { place }) };
  if (count === 1) return { ...point, covariance: stated, repeats: undefined };
  const off = places.map((each) => subtract(each, at));
  const sample = Float64Array.from({ length: 9 }, (_, k) =>
    off.reduce((sum, d) => sum + (d[Math.floor(k / 3)]! * d[k % 3]!) / (count - 1), 0),
  );
  const probability = chiSquaredTail(
    off.reduce((sum, d) => sum + squareBy(stated, d), 0),
    3 * (count - 1),
  );
  return {
    ...point,
    covariance: stated.map((value, k) => value + sample[k]! / count),
    repeats: {
      count,
      scatter: [Math.sqrt(sample[0]!), Math.sqrt(sample[4]!), Math.sqrt(sample[8]!)],
      probability,
    },
  };
}

function meanCovariance(group: readonly TrackedPoint[]): Float64Array {
  const sum = new Float64Array(9);
  for (const { measured } of group)
    measuredCovariance(measured).forEach((value, k) => {
      sum[k]! += value / group.length;
    });
  return sum;
}

/** dᵀ C⁻¹ d */
function squareBy(covariance: Float64Array, d: Vec3): number {
  const l = choleskyFactor(covariance, 3);
  const a = d[0] / l[0]!;
  const b = (d[1] - l[3]! * a) / l[4]!;
  const c = (d[2] - l[6]! * a - l[7]! * b) / l[8]!;
  return a * a + b * b + c * c;
}

function repeatFindings(group: readonly TrackedPoint[], { name, repeats }: MeanPoint): readonly Finding[] {
  if (repeats === undefined) return [];
  const [first, ...later] = group.map(({ measured, place }) => ({ at: placeOf(measured), place }));
  const apart = later.map(({ at, place }) => {
    const d = subtract(at, first!.at);
    return { place, distance: Math.sqrt(dot(d, d)) };
  });
  const far = apart.filter(({ distance }) => distance > TWO_PLACES);
  if (far.length > 0)
    return far.map(({ place, distance }) => {
      const line = first!.place === undefined ? '' : ` on line ${first!.place.line}`;
      const message = `${name} is ${distance.toPrecision(3)} mm from where it was first measured${line}: two places have one name`;
      return errorFinding(
        'duplicate-id',
        name,
        message,
        'correct the name, or remove the wrong measurement',
        place,
      );
    });
  if (repeats.probability >= CONTRADICTION) return [];
  const { count, scatter, probability } = repeats;
  const message =
    `the ${count} measurements of ${name} scatter by (${scatter.map((s) => fixed(s, 4)).join(', ')}) mm, which by ` +
    `the stated uncertainty of one has probability ${probability.toPrecision(1)}; the scatter counts in the mean’s uncertainty`;
  const { place } = first!;
  const hint = 'let the tracker settle, check the seat, and measure it again';
  return [
    {
      severity: 'warning',
      rule: 'scattered-repeats',
      where: name,
      message,
      hint,
      ...(place === undefined ? {} : { place }),
    },
  ];
}
