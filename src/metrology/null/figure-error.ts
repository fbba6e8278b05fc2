/**
 * What misalignment is expected to leave in the measured figure of the surface under test. With C the covariance of the part's six degrees
 * against its null, and M = RᵀR the Gram matrix of what their motions leave, E[rms²] = tr(C M). C is the sum of what each cause does (JCGM
 * 100); 95 % is by Monte Carlo (JCGM 101), seeded. mm of surface height.
 *
 * The causes are those of the part's budget. One that changes the waves moves the null of the surface too, and leaves a rest in it that no
 * motion of the part takes up: both count. All of it is of first order in the motion, as an operator has it who sets the part's own null to few
 * fringes. A part that stays where the readings put it is tilted against its null; `secondOrder` is what that adds, and it may be most of the
 * figure: 3.4 nm rms at 0.3 mrad for a concave surface of R 800 mm and D 160 mm, 37 nm at 1 mrad.
 */
import { randomFrom } from '../../algebra/random.ts';
import { symmetricEigen } from '../../algebra/symmetric-eigen.ts';
import { foldRow } from '../../algebra/triangular-factors.ts';
import type { Design } from '../../design/design.ts';
import { DEGREES, type Degree } from '../../scenario/scenario.ts';
import type { ErrorSource, Term } from '../budget/error-source.ts';
import type { NullShare } from '../budget/null-share.ts';
import { freeMoves } from '../estimate/pose.ts';
import { type PoseEstimate, poseOf } from '../estimate/pose-estimate.ts';
import { termOf } from '../estimate/reference-estimate.ts';
import { RECTANGULAR_REACH, REPORT_TRIALS } from '../estimate/simulated-spread.ts';
import { SETTING } from '../estimate/unobserved.ts';
import { factorOf, leftBy, type MotionMaps, motionMaps, throughFactor } from './motion-maps.ts';
import { secondOrderOf } from './second-order.ts';

export interface FigureError {
  /** √E[rms²] and what 95 of 100 such alignments stay under; null where `unseen` holds what is most of it. */
  readonly expected: number | null;
  readonly p95: number | null;
  /** What comes to `expected`, as the root of the sum of squares, while the part is not set to its own null (second-order.ts); null as that. */
  readonly secondOrder: number | null;
  /** With what no reading sees set by eye. */
  readonly byEye: number;
  /** Share of E[rms²] by degree, Cᵢⱼ Mⱼᵢ summed over j: what is missing from 1 stays in the null itself; negative where a degree makes up for another. */
  readonly shares: Readonly<Record<Degree, number>>;
  /** The degree of the largest share; null where nothing is left. */
  readonly mostly: Degree | null;
  /** E[rms²] by term of the budget, the largest first, mm². */
  readonly terms: readonly (readonly [Term, number])[];
  /** Motions that no reading sees and that leave something, in words, with what setting by eye leaves of each, mm rms. */
  readonly unseen: readonly { readonly words: string; readonly left: number }[];
}

/** A hundredth of a nanometre is less than any evaluation tells, mm. */
const NOTHING = 1e-8;
/** There is no figure where more than this of it is what the eye sets: as of a degree (unobserved.ts). */
const MOSTLY = 0.5;

/** Undefined where the scenario names no surface under test. */
export function figureError(design: Design): FigureError | undefined {
  const maps = motionMaps(design);
  if (maps === undefined) return undefined;
  const known = found.get(design);
  if (known !== undefined) return known;
  const made = errorOf(design, poseOf(design), maps);
  found.set(design, made);
  return made;
}

/** The same of a part placed from other readings than all that the design has. */
export function figureErrorFrom(design: Design, pose: PoseEstimate): FigureError | undefined {
  const maps = motionMaps(design);
  return maps === undefined ? undefined : errorOf(design, pose, maps);
}

const found = new WeakMap<Design, FigureError>();

/** The whole is more by so much of itself where the second order counts. */
const COUNTS = 0.05;

/** Both orders together, mm, where the second makes 5 % or more of the figure; undefined where it does not, or there is no figure. */
export function withSecondOrder({
  expected,
  secondOrder,
}: Pick<FigureError, 'expected' | 'secondOrder'>): number | undefined {
  if (expected === null || secondOrder === null) return undefined;
  const whole = Math.hypot(expected, secondOrder);
  return whole > (1 + COUNTS) * expected ? whole : undefined;
}

function errorOf(design: Design, pose: PoseEstimate, maps: MotionMaps): FigureError {
  const { factor, causes } = causesOf(pose, maps);
  const columns = Math.sqrt(factor.length);
  const shares = new Float64Array(6);
  const byTerm = new Map<Term, number>();
  for (const { term, effect, left } of causes) {
    byTerm.set(term, (byTerm.get(term) ?? 0) + squared(left));
    for (let degree = 0; degree < 6; degree++)
      for (let row = 0; row <= degree; row++)
        shares[degree]! += effect[degree]! * factor[row * columns + degree]! * left[row]!;
  }
  const terms = [...byTerm].filter(([, square]) => square > 0).sort(([, a], [, b]) => b - a);
  const square = terms.reduce((sum, [, part]) => sum + part, 0);
  const byEye = Math.sqrt(square);
  const eye = Math.sqrt(byTerm.get('setting by eye') ?? 0);
  const isUnseen = eye > NOTHING && eye > MOSTLY * byEye;
  const most = shares.indexOf(Math.max(...shares));
  let p95: number | undefined;
  let secondOrder: number | undefined;
  return {
    expected: isUnseen ? null : byEye,
    /** Simulated when it is first asked for: a design within its figure is checked without it. */
    get p95() {
      if (isUnseen) return null;
      p95 ??= ninetyFive(causes, columns);
      return p95;
    },
    get secondOrder() {
      if (isUnseen) return null;
      secondOrder ??= secondOrderOf(design, independentMotions(causes));
      return secondOrder;
    },
    byEye,
    shares: Object.fromEntries(
      DEGREES.map((degree, k) => [degree, square > 0 ? shares[k]! / square : 0]),
    ) as Record<Degree, number>,
    mostly: byEye > NOTHING ? DEGREES[most]! : null,
    terms,
    unseen: isUnseen ? unseenOf(pose, maps) : [],
  };
}

/** Six motions of the part against its null, independent and of one standard deviation each, that have the causes' covariance. */
function independentMotions(causes: readonly Cause[]): readonly Float64Array[] {
  const count = DEGREES.length;
  const factor = new Float64Array(count * count);
  for (const { effect } of causes) foldRow(factor, count, effect.slice(0, count));
  return DEGREES.map((_, row) => factor.subarray(row * count, (row + 1) * count));
}

interface Cause {
  readonly term: Term;
  readonly distribution: ErrorSource['distribution'];
  /** One standard deviation of it: the part against its null in the six degrees, mm and rad, then of the rests that it leaves in the null. */
  readonly effect: Float64Array;
  /** R·effect. */
  readonly left: Float64Array;
}

interface Causes {
  /** R of what the six degrees leave and of the rests, as in motion-maps.ts. */
  readonly factor: Float64Array;
  /** Independent of each other. */
  readonly causes: readonly Cause[];
}

function causesOf(pose: PoseEstimate, { maps, leftOf }: MotionMaps): Causes {
  const { readings, sources, full } = pose;
  const count = readings.length;
  // Several sources may change the wave in the same way.
  const shares = [...new Set(sources.flatMap(({ ofNull }) => ofNull ?? []))];
  const columnOf = new Map<NullShare, number>(shares.map((share, k) => [share, DEGREES.length + k]));
  const factor = factorOf([...maps.map(({ column }) => column), ...shares.map(({ rest }) => leftOf(rest))]);
  const cause = (
    term: Term,
    distribution: Cause['distribution'],
    fill: (effect: Float64Array) => void,
  ): Cause => {
    const effect = new Float64Array(DEGREES.length + shares.length);
    fill(effect);
    return { term, distribution, effect, left: throughFactor(factor, effect) };
  };
  const through = (effect: Float64Array, reading: number, by: number): void => {
    for (let degree = 0; degree < 6; degree++) effect[degree]! += full.gains[degree * count + reading]! * by;
  };
  const causes = [
    ...readings.map((reading, k) =>
      cause(termOf(reading), 'normal', (effect) => through(effect, k, reading.u)),
    ),
    ...sources.map(({ term, u, distribution, effects, inHologram, ofNull }) =>
      cause(term, distribution, (effect) => {
        // The part goes as far as the readings are seen to move, the null by its own way.
        const { at, by } = ofNull === undefined || inHologram === undefined ? effects : inHologram;
        at.forEach((reading, entry) => {
          through(effect, reading, by[entry]! * u);
        });
        if (ofNull === undefined) return;
        ofNull.move.forEach((part, degree) => {
          effect[degree]! -= part * u;
        });
        effect[columnOf.get(ofNull)!] = u;
      }),
    ),
    ...freeMoves(pose).map((move) =>
      cause('setting by eye', 'rectangular', (effect) => {
        move.forEach((part, degree) => {
          effect[degree] = part * SETTING;
        });
      }),
    ),
  ];
  return { factor, causes };
}

const squared = (values: Float64Array): number => values.reduce((sum, value) => sum + value * value, 0);

/** What no cause reaches by more than this, against the furthest reach, adds nothing to a sum of squares. */
const ROUNDING = 1e-8;

/** The normal causes' joint effect is normal itself: drawn as one deviate for each row of a factor of its covariance. */
function ninetyFive(causes: readonly Cause[], columns: number): number {
  const axes = mainAxes(
    causes.map(({ left }) => left),
    columns,
  );
  const alongAxes = (left: Float64Array): Float64Array =>
    Float64Array.from(axes, (axis) => axis.reduce((sum, part, k) => sum + part * left[k]!, 0));
  const factor = new Float64Array(axes.length * axes.length);
  const rectangular: Float64Array[] = [];
  for (const { distribution, left } of causes) {
    if (distribution === 'normal') foldRow(factor, axes.length, alongAxes(left));
    else rectangular.push(alongAxes(left));
  }
  // One array and a small function for each cause: what V8 optimises soonest.
  const uniforms = rectangular.length;
  const lefts = uniforms + axes.length;
  const steps = new Float64Array(lefts * axes.length);
  rectangular.forEach((left, row) => {
    steps.set(left, row * axes.length);
  });
  steps.set(factor, uniforms * axes.length);
  const random = randomFrom('figure');
  const sum = new Float64Array(axes.length);
  const add = (row: number, deviate: number): void => {
    const size = sum.length;
    for (let k = 0, at = row * size; k < size; k++, at++) sum[k]! += steps[at]! * deviate;
  };
  const outcome = (): number => {
    sum.fill(0);
    for (let row = 0; row < uniforms; row++) add(row, RECTANGULAR_REACH * (2 * random.uniform() - 1));
    for (let row = uniforms; row < lefts; row++) add(row, random.normal());
    let square = 0;
    for (let k = 0; k < sum.length; k++) square += sum[k]! * sum[k]!;
    return Math.sqrt(square);
  };
  const outcomes = new Float64Array(REPORT_TRIALS);
  for (let trial = 0; trial < REPORT_TRIALS; trial++) outcomes[trial] = outcome();
  outcomes.sort();
  return outcomes[Math.ceil(0.95 * REPORT_TRIALS) - 1]!;
}

/** Orthonormal directions of what the causes leave, those that hold none of it left out. */
function mainAxes(lefts: readonly Float64Array[], columns: number): readonly Float64Array[] {
  const gram = new Float64Array(columns * columns);
  for (const left of lefts)
    for (let i = 0; i < columns; i++)
      for (let j = 0; j < columns; j++) gram[i * columns + j]! += left[i]! * left[j]!;
  const { values, vectors } = symmetricEigen(gram, columns);
  return vectors.filter((_, k) => values[k]! > ROUNDING * values[0]!);
}

/** Those that leave a tenth of the worst, or more. */
function unseenOf({ free, size }: PoseEstimate, maps: MotionMaps): FigureError['unseen'] {
  const found = free.motions.map(({ words, translation, rotation }) => {
    const six = [...translation, ...rotation];
    const lever = Math.sqrt(six.reduce((sum, part, k) => sum + (k < 3 ? part : part * size) ** 2, 0));
    return { words, left: (SETTING / lever) * Math.sqrt(squared(leftBy(maps, six))) };
  });
  const worst = Math.max(...found.map(({ left }) => left));
  return found.filter(({ left }) => left > WORTH_NAMING * worst).sort((a, b) => b.left - a.left);
}

const WORTH_NAMING = 0.1;
