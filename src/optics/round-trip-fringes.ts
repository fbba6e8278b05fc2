/**
 * What a traced return shows on the camera, in fringes: tilt, roof, power, and what is left.
 *
 * W(P*) is fitted by least squares with 1, w, c, |w|, w², wc, c², and sign w where asked, where w and c are the runs (mm) from the patch's
 * centre along the ruler's two directions. Counted as the bench counts: a tilt from edge to edge, a roof from its ridge to its edge in each
 * half, power from the middle to the edge; a longer way at the positive end (for roof and power: at the edge) is positive.
 * The residual is what none of these explains: the aberration of the return, of second order in the ray's miss of its target.
 */
import { solveLeastSquares } from '../algebra/least-squares.ts';
import type { Vec2 } from '../geometry/vector.ts';
import { FATES, type RoundTripTrace } from './round-trip.ts';

export interface RulerAxis {
  /** In the pattern plane; need not be a unit vector (a line's direction seen in the plane is shorter). */
  readonly direction: Vec2;
  /** The patch's extent from edge to edge, measured as w is. */
  readonly width: number;
  /** The largest |w| in the patch. */
  readonly reach: number;
}

/** How the fringes of a patch are counted: along a direction (that of its bias, if any) and across it. */
export interface FringeRuler {
  readonly centre: Vec2;
  readonly along: RulerAxis;
  readonly across: RulerAxis;
  /** Whether W may have a ridge at w = 0, as a roof gives it. Without one, rays all on one side still tell the tilt. Default true. */
  readonly ridge?: boolean;
  /** Whether the ridge may part the halves by a step, as a cube off along its line makes it. Default false. */
  readonly step?: boolean;
}

export interface Fringes {
  readonly tiltAlong: number;
  readonly tiltAcross: number;
  /** Of a roof whose ridge is w = 0. */
  readonly roof: number;
  readonly powerAlong: number;
  readonly powerAcross: number;
  /** Of wc: at the corner w = reach, c = reach. */
  readonly twist: number;
  readonly residual: { readonly pv: number; readonly rms: number };
  /** Of the rays, how many the fit had: those that returned. */
  readonly rays: number;
}

/**
 * Fringes of a traced return, in waves of the round trip. Throws a RangeError where fewer rays came back than the fit has terms;
 * a term that the returned rays do not tell from the others (no extent that way) comes out as 0.
 */
export function fringesOf(trace: RoundTripTrace, ruler: FringeRuler): Fringes {
  const kept: number[] = [];
  for (let i = 0; i < trace.count; i++) if (trace.fate[i] === RETURNED) kept.push(i);
  if (kept.length < TERMS) {
    throw new RangeError(
      `${kept.length} of ${trace.count} rays came back; the fringes need ${TERMS} at least`,
    );
  }
  const w = runs(trace, kept, ruler.centre, ruler.along);
  const c = runs(trace, kept, ruler.centre, ruler.across);
  // Runs in units of their reach, so that the coefficients are fringes at the edge and the columns of like size.
  const rows = new Float64Array(kept.length * TERMS);
  const ridge = ruler.ridge === false ? 0 : 1;
  const step = ruler.step === true ? 1 : 0;
  kept.forEach((_, i) => {
    const bent = [ridge * Math.abs(w[i]), w[i] * w[i], w[i] * c[i], c[i] * c[i]];
    rows.set([1, w[i], c[i], ...bent, step * Math.sign(w[i])], i * TERMS);
  });
  const waves = Float64Array.from(kept, (index) => trace.waves[index]);
  const { solution, residuals } = solveLeastSquares(rows, TERMS, waves, {
    scaleColumns: false,
    rankTolerance: DEPENDENT,
  });
  const [, slopeAlong, slopeAcross, roof, powerAlong, twist, powerAcross] = solution;
  return {
    tiltAlong: (slopeAlong * ruler.along.width) / ruler.along.reach,
    tiltAcross: (slopeAcross * ruler.across.width) / ruler.across.reach,
    roof,
    powerAlong,
    powerAcross,
    twist,
    residual: spread(residuals),
    rays: kept.length,
  };
}

const RETURNED = FATES.indexOf('returned');
const TERMS = 8;
/** A term that lies in the span of the others to this part of the largest is not told from them: rounding makes 1e-15. */
const DEPENDENT = 1e-9;

function runs(trace: RoundTripTrace, kept: readonly number[], centre: Vec2, axis: RulerAxis): Float64Array {
  const [dx, dy] = axis.direction;
  return Float64Array.from(
    kept,
    (i) => ((trace.x[i] - centre[0]) * dx + (trace.y[i] - centre[1]) * dy) / axis.reach,
  );
}

function spread(values: Float64Array): { pv: number; rms: number } {
  let [least, most, squares] = [Infinity, -Infinity, 0];
  for (const value of values) {
    least = Math.min(least, value);
    most = Math.max(most, value);
    squares += value * value;
  }
  return { pv: most - least, rms: Math.sqrt(squares / values.length) };
}
