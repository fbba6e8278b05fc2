/** Random patches and invented phases for laws that must hold whatever the pattern. */
import fc from 'fast-check';
import { boundsOf, largestDistanceFrom } from '../../src/geometry/extent.ts';
import type { Outline } from '../../src/geometry/outline.ts';
import type { Vec2 } from '../../src/geometry/vector.ts';
import { type PhasedOutline, phasedOutlineOf } from '../../src/pattern/regions.ts';
import { traceOutline } from '../../src/pattern/trace-pattern.ts';
import { arbitraryNumber, arbitraryOutline } from '../geometry/arbitrary-outline.ts';
import { agreement, type ExactPhase } from './point-agreement.ts';
import { QuadraticPhase, samplePatch } from './sample-patches.ts';
import '../machine/patience.ts';

/** Fringes across at the most, so that a case takes no longer than milliseconds. */
const MOST_WAVES = 60;

const middleOf = (outline: Outline): Vec2 => {
  const { minX, maxX, minY, maxY } = boundsOf(outline);
  return [(minX + maxX) / 2, (minY + maxY) / 2];
};

interface AnyPattern {
  /** What it was made from, for the report of a failure. */
  readonly given: object;
  readonly phased: PhasedOutline;
  readonly exact: ExactPhase;
}

/** Saddles, bowls and planes with their stationary point anywhere, up to MOST_WAVES across. */
const invented: fc.Arbitrary<AnyPattern> = fc
  .record({
    outline: arbitraryOutline(4),
    u: arbitraryNumber(-1.2, 1.2),
    v: arbitraryNumber(-1.2, 1.2),
    turn: arbitraryNumber(0, 3.2),
    first: fc.oneof(fc.constant(0), arbitraryNumber(-1, 1)),
    second: arbitraryNumber(-1, 1),
    waves: arbitraryNumber(1, MOST_WAVES),
    constant: fc.constantFrom(0, 0.25, 0.5, 0.1234),
  })
  .map((given): AnyPattern => {
    const { outline, u, v, turn, first, second, waves, constant } = given;
    const middle = middleOf(outline);
    const reach = largestDistanceFrom(outline, middle);
    const at: Vec2 = [middle[0] + u * reach, middle[1] + v * reach];
    const [c, s] = [Math.cos(turn), Math.sin(turn)];
    const scale = waves / (reach * reach * (1 + Math.hypot(u, v)));
    const phase = new QuadraticPhase(at, {
      xx: scale * (first * c * c + second * s * s),
      xy: scale * 2 * (first - second) * c * s,
      yy: scale * (first * s * s + second * c * c),
      constant,
    });
    return { given, phased: { outline, phase }, exact: new Evaluated(phase) };
  });

const designed: fc.Arbitrary<AnyPattern> = fc
  .record({
    outline: arbitraryOutline(20),
    shift: fc.tuple(arbitraryNumber(-0.02, 0.02), arbitraryNumber(-0.02, 0.02)),
    lineAngle: fc.option(arbitraryNumber(-2, 2), { nil: undefined }),
    order: fc.constantFrom(1, -1, 2),
    beam: fc.constantFrom(-500, 900, 2000),
    far: arbitraryNumber(0.9, 1.2),
    roof: fc.option(fc.record({ fringes: arbitraryNumber(1, 60), direction: arbitraryNumber(-2, 2) }), {
      nil: undefined,
    }),
  })
  .map((given): AnyPattern => {
    const { outline, shift, lineAngle, order, beam, far, roof } = given;
    const centre = middleOf(outline);
    // The target near where the undeflected light goes: few fringes, stationary points near by.
    const z = beam > 0 ? beam * far : 700 * far;
    const ahead = (distance: number): Vec2 => [
      centre[0] * (1 - distance / beam) + shift[0] * distance,
      centre[1] * (1 - distance / beam) + shift[1] * distance,
    ];
    const [x, y] = ahead(z);
    const patch = samplePatch({
      outline,
      centre,
      target: [x, y, z],
      order,
      beam,
      ...(lineAngle === undefined ? {} : { lineAngle }),
      ...(roof === undefined ? {} : { bias: { shape: 'roof' as const, ...roof } }),
    });
    return { given, phased: phasedOutlineOf(patch), exact: patch.phase };
  });

export const anyPattern = fc.oneof(invented, designed);

const POINTS = 400;
/** Coarse, so that a case has few vertices. */
const DISTANCE = 1e-3;

/** The same patterns in every run; another seed looks further. */
const SEED = Number(process.env.DATUMLIGHT_FUZZ_SEED ?? 1);

/**
 * How many patterns agreed with their phase; throws at the first that does not. Without shrinking, which would
 * trace a pattern a hundred times over: the report says what the pattern was made from.
 */
export function patternsThatAgree(runs: number): number {
  let agreed = 0;
  fc.assert(
    fc.property(anyPattern, arbitraryNumber(0.1, 0.9), ({ given, phased, exact }, dutyCycle) => {
      const made = JSON.stringify({ dutyCycle, given });
      try {
        const trace = traceOutline(phased, { dutyCycle, distance: DISTANCE, waves: 0.02 });
        const { wrong, points } = agreement(
          phased.outline,
          exact,
          trace.zones(),
          dutyCycle,
          trace.bound,
          POINTS,
        );
        if (wrong.length > 0)
          throw new Error(`${wrong.length} of ${points} points: ${JSON.stringify(wrong[0])}`);
        agreed++;
      } catch (cause) {
        throw new Error(`${(cause as Error).message}; ${made}`, { cause });
      }
    }),
    { numRuns: runs, seed: SEED, endOnFailure: true },
  );
  return agreed;
}

class Evaluated implements ExactPhase {
  readonly #phase: QuadraticPhase;
  constructor(phase: QuadraticPhase) {
    this.#phase = phase;
  }

  phases(xs: Float64Array, ys: Float64Array): Float64Array {
    return this.#all(xs, ys).phase;
  }

  gradients(xs: Float64Array, ys: Float64Array): { gx: Float64Array; gy: Float64Array } {
    return this.#all(xs, ys);
  }

  #all(xs: Float64Array, ys: Float64Array) {
    const [phase, gx, gy] = [
      new Float64Array(xs.length),
      new Float64Array(xs.length),
      new Float64Array(xs.length),
    ];
    this.#phase.evaluate(xs, ys, phase, gx, gy, xs.length);
    return { phase, gx, gy };
  }
}
