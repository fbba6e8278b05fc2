/**
 * The null of the surface under test as readings of the part's place, beside those of the patches: what they add to them, and what they
 * cannot see. mm of surface height; sigma in mm and rad.
 *
 * They serve the bench. The standing budget and the rules on `wanted` and `figure` count the references alone: the null is what is to be
 * measured, and read as a place it carries the surface's own unknown tilt, power and coma (`test.ownFigure`). Besides these and its own
 * noise a term shows every change of the leaving wave (beam, wedge, glass, wavelength, placement of the main pattern) as far as no motion of
 * the part takes it up.
 */
import { symmetricEigen } from '../../algebra/symmetric-eigen.ts';
import type { Design } from '../../design/design.ts';
import type { MainPattern } from '../../design/main-pattern.ts';
import { featureOf } from '../../kinds/datum-feature.ts';
import { DEGREES, type Degree, MAIN } from '../../scenario/scenario.ts';
import type { ErrorSource } from '../budget/error-source.ts';
import { ownFigure } from '../budget/null-errors.ts';
import type { PatternChange } from '../budget/null-share.ts';
import { COMMON_PRACTICE } from '../budget/practice.ts';
import type { Reading } from '../budget/readings.ts';
import { type FreeMotions, freeMotionsOf } from '../estimate/free-motion.ts';
import { estimatePose, type PoseEstimate, poseOf } from '../estimate/pose-estimate.ts';
import { SETTING, throughSetting } from '../estimate/unobserved.ts';
import { EYE_SETTING } from '../sensing/sensitivity.ts';
import { heightOf, leverOf, type NullTerm, nullRays } from './null-terms.ts';

const PARTS: Readonly<Record<NullTerm['term'], readonly string[]>> = {
  tilt: ['x', 'y'],
  power: [''],
  astigmatism: ['0°', '45°'],
  coma: ['x', 'y'],
  spherical: [''],
};

export const nullTermName = ({ term, part }: NullTerm): string => `${term} ${PARTS[term][part]!}`.trim();

/** A term as a reading, known to `u`, mm of height. */
export function nullReading(design: Design, main: MainPattern, of: NullTerm, u: number): Reading {
  const { origin } = design.scenario.part.frame;
  const { force, moment } = leverOf(main, of, origin);
  return {
    name: `${MAIN} ${nullTermName(of)}`,
    reference: featureOf(MAIN, main.test.surface, origin),
    ...{ direction: force, moment, u, from: undefined },
    nullTerm: { term: of.term, shown: (change) => heightOf(main, of, changesOf(main, change)) },
  };
}

/** A change of the wave at each ray, worked out once for all terms. */
function changesOf(main: MainPattern, change: PatternChange): (ray: number) => number {
  const values = changes.get(change) ?? evaluated(main, change);
  changes.set(change, values);
  return (ray) => values[ray]!;
}

const changes = new WeakMap<PatternChange, Float64Array>();

const evaluated = (main: MainPattern, change: PatternChange): Float64Array => {
  const { xs, ys } = nullRays(main);
  return xs.map((x, k) => change(x, ys[k]!, main));
};

/** What an operator can tell of an unaligned null without knowing the figure. */
const READ: readonly NullTerm[] = [
  { term: 'tilt', part: 0 },
  { term: 'tilt', part: 1 },
  { term: 'power', part: 0 },
  { term: 'coma', part: 0 },
  { term: 'coma', part: 1 },
];

type Sigma = Readonly<Record<Degree, number | null>>;

export interface NullSight {
  /** Combined standard uncertainty of the part by patches, lengths and null together; null where it is no better than setting by eye. */
  readonly sigma: Sigma;
  /** By the null alone. */
  readonly alone: Sigma;
  /** What the null alone tells no better than setting by eye does, in words. */
  readonly unobservedAlone: readonly string[];
}

/** Undefined where the scenario names no surface under test. */
export function nullSight(design: Design): NullSight | undefined {
  const { main } = design;
  if (main === undefined) return undefined;
  const sight = sights.get(design) ?? sightOf(design, main);
  sights.set(design, sight);
  return sight;
}

const sights = new WeakMap<Design, NullSight>();

function sightOf(design: Design, main: MainPattern): NullSight {
  const u = (COMMON_PRACTICE.nullTerm * design.light.wavelength) / 2;
  const readings = READ.map((term) => nullReading(design, main, term, u));
  const pose = poseOf(design);
  const byPatches = pose.readings;
  const estimated = (before: readonly Reading[], sources: readonly ErrorSource[]) => {
    const all = [...before, ...readings];
    const own = ownFigure(design, all, COMMON_PRACTICE);
    const known = [...withNull(main, sources, READ, before.length), ...own];
    return sigmaOf(estimatePose(design, COMMON_PRACTICE, all, known));
  };
  const unread = pose.sources.map((source) => ({ ...source, effects: { at: [], by: [] } }));
  const alone = estimated([], unread);
  return {
    sigma: estimated(byPatches, pose.sources).sigma,
    alone: alone.sigma,
    unobservedAlone: alone.unseen.motions.map(({ words }) => words),
  };
}

/**
 * Each source with what the null shows of it, as readings from `first` on: its waves' rest, which is what no motion of the part takes up,
 * worked out for the figure already (null-share.ts). The same as the error models say of these readings, at a tenth of the work.
 */
function withNull(
  main: MainPattern,
  sources: readonly ErrorSource[],
  terms: readonly NullTerm[],
  first: number,
): readonly ErrorSource[] {
  return sources.map((source) => {
    const { ofNull, effects } = source;
    if (ofNull === undefined) return source;
    const shown = terms.map((term) => heightOf(main, term, (ray) => -ofNull.rest[ray]!));
    const at = [...effects.at, ...shown.map((_, k) => first + k)];
    return { ...source, effects: { at, by: [...effects.by, ...shown] } };
  });
}

/** With what is seen no better than by eye counted as not seen. */
function sigmaOf({ full, free, size }: PoseEstimate): {
  readonly sigma: Sigma;
  readonly unseen: FreeMotions;
} {
  const lever = (degree: number): number => (degree < 3 ? 1 : size);
  const covariance = full.covariance.map((entry, at) => entry * lever(Math.floor(at / 6)) * lever(at % 6));
  const { values, vectors } = symmetricEigen(covariance, 6);
  const poor = vectors.filter((_, k) => values[k]! > EYE_SETTING.poor ** 2);
  const unseen = freeMotionsOf([...free.basis, ...poor], size);
  const seen = vectors.filter((_, k) => !(values[k]! > EYE_SETTING.poor ** 2));
  const variance = (degree: number): number =>
    seen.reduce((sum, v, k) => sum + Math.max(0, values[k + poor.length]!) * v[degree]! ** 2, 0) /
      lever(degree) ** 2 +
    (SETTING ** 2 * throughSetting(unseen.basis, degree, degree)) / lever(degree) ** 2;
  const sigma = DEGREES.map(
    (degree, k) => [degree, unseen.observed[k] ? Math.sqrt(variance(k)) : null] as const,
  );
  return { sigma: Object.fromEntries(sigma) as Sigma, unseen };
}
