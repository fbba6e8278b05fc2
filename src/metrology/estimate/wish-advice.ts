/**
 * What would make a degree of the part meet its wish: the largest terms of its budget, what each must come down to, and what no
 * choice of patches can do anything about. mm and rad.
 *
 * With the estimate's weights kept, the variance is Σ vₖ over the causes (terms that one word of the scenario
 * governs are one). Those above a common level L come down to it, the others
 * stay: Σ min(vₖ, L) is the wish's square. The best estimate for the smaller errors has no larger variance than that one
 * (Gauss–Markov), so that this is enough.
 */
import type { Design } from '../../design/design.ts';
import { isReadBy } from '../../kinds/kinds.ts';
import { errorsBesidePatches } from '../budget/error-models.ts';
import type { Term } from '../budget/error-source.ts';
import { COMMON_PRACTICE } from '../budget/practice.ts';
import type { Reading } from '../budget/readings.ts';
import { AXES } from '../budget/reference-errors.ts';
import { type Cause, causeOf, remedyFor, varianceOfCause } from '../budget/remedies.ts';
import { variancesByTerm } from './pose.ts';
import { poseOf, varianceOf } from './pose-estimate.ts';

interface WishAdvice {
  readonly largest: Term;
  /** σ of that term, and what remains without it. */
  readonly sigma: number;
  readonly rest: number;
  /** What would meet the wish, all of it together, in words. */
  readonly remedies: readonly string[];
  /** Whether larger or more patches are among them. */
  readonly byPatches: boolean;
  /** σ that would remain with perfect readings in every direction at each reference that has a patch. */
  readonly besidePatches: number;
}

/** Of a degree (its number in DEGREES) that is observed and misses its wish. */
export function wishAdvice(design: Design, degree: number, wish: number): WishAdvice {
  const pose = poseOf(design);
  const terms: Cause = variancesByTerm(pose, degree);
  const total = varianceOfCause(terms);
  const [largest, most] = terms[0]!;
  const remedies = remediesFor(design, terms, wish * wish);
  return {
    largest,
    sigma: Math.sqrt(most),
    rest: Math.sqrt(Math.max(0, total - most)),
    remedies: remedies.map(({ words }) => words),
    byPatches: remedies.some(({ byPatches }) => byPatches),
    besidePatches: Math.sqrt(besidePatches(design)[degree]!),
  };
}

/** What brings a sum of variances by term down to what is allowed of it, all of it together; in any unit. */
export function remediesFor(design: Design, terms: Cause, allowed: number): ReturnType<typeof remedyFor>[] {
  const causes = [...new Set(terms.map(([term]) => causeOf(term, design)))]
    .map((cause) => terms.filter(([term]) => causeOf(term, design) === cause))
    .sort((a, b) => varianceOfCause(b) - varianceOfCause(a));
  const level = levelFor(causes.map(varianceOfCause), allowed);
  const { sources } = poseOf(design);
  return causes
    .filter((cause) => varianceOfCause(cause) > level)
    .map((cause) => remedyFor(cause, level, design, sources, COMMON_PRACTICE));
}

/** L with Σ min(v, L) equal to the allowed sum, which is less than that of the variances; these fall. */
export function levelFor(variances: readonly number[], allowed: number): number {
  for (const k of variances.keys()) {
    // Of those after it, summed anew: a difference of two large sums would not leave what a very small wish is compared with.
    const rest = variances.slice(k + 1).reduce((sum, variance) => sum + variance, 0);
    const level = (allowed - rest) / (k + 1);
    if (level > 0 && level >= (variances[k + 1] ?? 0)) return level;
  }
  return 0;
}

/** A reading without error to speak of, mm. */
const PERFECT = 1e-7;

/** Of each degree. Lengths measured otherwise stay what they are, as do the readings of a datum feature, with no error at all. */
function besidePatches(design: Design): Float64Array {
  const known = floors.get(design);
  if (known !== undefined) return known;
  const { readings } = poseOf(design);
  const seen = new Map(
    readings.flatMap(({ reference, from }) =>
      from !== undefined && isReadBy(reference, 'senses') ? [[reference, from] as const] : [],
    ),
  );
  const perfect = [...seen].flatMap(([reference, from]) =>
    AXES.map(({ name, along }): Reading => {
      return { name: `${reference.id} ${name}`, reference, direction: along, u: PERFECT, from };
    }),
  );
  const others = readings
    .filter(({ reference, from }) => from === undefined || !seen.has(reference))
    .map((reading) => (reading.from === undefined ? reading : { ...reading, u: PERFECT }));
  const all = [...perfect, ...others];
  const found = varianceOf(design, all, errorsBesidePatches(design, all, COMMON_PRACTICE));
  floors.set(design, found);
  return found;
}

const floors = new WeakMap<Design, Float64Array>();
