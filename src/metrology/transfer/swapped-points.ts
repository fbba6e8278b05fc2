/**
 * Two tracked points whose names were exchanged, by trying every exchange of two measurements. mm.
 *
 * An exchange explains the points if both sides then agree with their designs and the part is near its place. The likely ones are found by
 * the closed form, without weights: by how well each side fits, and by how well all points fit as one body, which they are but for the part's
 * misalignment. That tells a symmetric set too, which fits as well turned over.
 */
import type { Finding, Place } from '../../finding/finding.ts';
import { length } from '../../geometry/vector.ts';
import type { Displacement } from '../steering/steering-part.ts';
import type { Registration } from './registration.ts';
import type { RegistrationPoint } from './registration-points.ts';
import { rigidStart } from './registration-start.ts';

export interface SidedPoint extends RegistrationPoint {
  readonly side: 'hologram' | 'part';
}

/** What points come to: each side's registration, and how far the part is off. */
export interface Judged {
  readonly registrations: readonly Registration[];
  readonly displacement: Displacement | undefined;
}

export interface Swap {
  readonly names: readonly [string, string];
  /** Of both sides together, once the two are exchanged. */
  readonly chiSquared: number;
}

/** A part turned by more than this, rad, is not misaligned but mistaken: some 6°. */
const TURNED_OVER = 0.1;
/** Of so many exchanges that the closed form ranks first, by either measure, the weighted fit is asked. */
const TRIED = 6;
/** Points put to exchanges times points fitted each time: all of 80, fewer of a longer table, those that fit worst. */
const MOST_WORK = 80 * 80 * 80;

/**
 * The exchanges that explain the points, the best first: none where the points need no explanation. `isFine` says whether registrations agree
 * with themselves, `judge` fits the points.
 */
export function swapsOf(
  points: readonly SidedPoint[],
  judge: (points: readonly SidedPoint[]) => Judged,
  isFine: (registration: Registration) => boolean,
): readonly Swap[] {
  const explains = (judged: Judged): boolean =>
    judged.registrations.every(isFine) && length(judged.displacement?.rotation ?? [0, 0, 0]) < TURNED_OVER;
  if (explains(judge(points))) return [];
  const pairs = pairsOf(worst(points));
  const trials = pairs.map(([i, j]) => {
    const swapped = exchanged(points, i, j);
    return { i, j, swapped, bySides: misfitBySides(swapped), asOne: misfit(swapped) };
  });
  const first = (of: (trial: (typeof trials)[number]) => number): typeof trials =>
    trials.toSorted((a, b) => of(a) - of(b)).slice(0, TRIED);
  return [...new Set([...first(({ bySides }) => bySides), ...first(({ asOne }) => asOne)])]
    .flatMap(({ i, j, swapped }): readonly Swap[] => {
      const judged = judge(swapped);
      if (!explains(judged)) return [];
      const chiSquared = judged.registrations.reduce((sum, each) => sum + each.chiSquared, 0);
      return [{ names: [points[i]!.name, points[j]!.name], chiSquared }];
    })
    .toSorted((a, b) => a.chiSquared - b.chiSquared);
}

/** The measurement of each under the other's name. */
function exchanged(points: readonly SidedPoint[], i: number, j: number): readonly SidedPoint[] {
  const measuredAs = (k: number, { measured, measuredCovariance }: SidedPoint): SidedPoint => ({
    ...points[k]!,
    measured,
    measuredCovariance,
  });
  return points.with(i, measuredAs(i, points[j]!)).with(j, measuredAs(j, points[i]!));
}

const pairsOf = (indices: readonly number[]): readonly (readonly [number, number])[] =>
  indices.flatMap((i, k) => indices.slice(k + 1).map((j) => [i, j] as const));

/** Indices of the points, where there are too many to try those farthest from the fit of all of them. */
function worst(points: readonly SidedPoint[]): readonly number[] {
  const all = [...points.keys()];
  const most = Math.floor(Math.sqrt(MOST_WORK / points.length));
  if (points.length <= most) return all;
  const { residuals } = fitted(points);
  return all.toSorted((a, b) => residuals[b]! - residuals[a]!).slice(0, most);
}

const fitted = (points: readonly SidedPoint[]) =>
  rigidStart(
    points.map(({ design }) => design),
    points.map(({ measured }) => measured),
  );

/** Sum of squares left by one rigid motion. */
const misfit = (points: readonly SidedPoint[]): number => fitted(points).rms ** 2 * points.length;

const misfitBySides = (points: readonly SidedPoint[]): number =>
  (['hologram', 'part'] as const)
    .map((side) => points.filter((point) => point.side === side))
    .filter(({ length: count }) => count > 0)
    .reduce((sum, each) => sum + misfit(each), 0);

/** The most exchanges that are named. */
const MOST_NAMED = 3;

/** A suggestion: nothing is exchanged. */
export function swapFinding(
  swaps: readonly Swap[],
  points: readonly { readonly name: string; readonly place?: Place }[],
): Finding {
  const [best, ...others] = swaps;
  const pair = ({ names }: Swap): string => names.join(' and ');
  const more = others.slice(0, MOST_NAMED - 1).map(pair);
  const { place } = points.find(({ name }) => name === best!.names[0])!;
  return {
    severity: 'error',
    rule: 'swapped-points',
    where: best!.names.join(', '),
    message:
      `the points do not fit as named; they all fit if the names of ${pair(best!)} are exchanged (χ² ${best!.chiSquared.toPrecision(3)})` +
      (more.length === 0 ? '' : `; the same holds for ${more.join(', or ')}`),
    hint: `look at the bench which is which; if ${others.length === 0 ? 'the two names are' : 'two names are'} wrong, exchange them in the table and run it again`,
    ...(place === undefined ? {} : { place }),
  };
}
