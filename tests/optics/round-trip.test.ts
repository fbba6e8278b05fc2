import { describe, expect, it } from 'vitest';
import { add, dot, scale, subtract, type Vec2, type Vec3 } from '../../src/geometry/vector.ts';
import { idealCube } from '../../src/optics/corner-cube.ts';
import {
  FATES,
  type RoundTripTrace,
  type TracedPatch,
  type TracedReference,
  traceRoundTrip,
} from '../../src/optics/round-trip.ts';
import { type Fringes, fringesOf } from '../../src/optics/round-trip-fringes.ts';
import { grid, type PatchCase, patchCase, WAVELENGTH } from './patch-for-tracing.ts';

const RADIUS = 6.35;
const cubeAt = (apex: Vec3): TracedReference => ({ kind: 'cube', ...idealCube(apex, [0, 60, 0]) });
const ballAt = (centre: Vec3): TracedReference => ({ kind: 'ball', centre, radius: RADIUS });
const referenceOf = (given: PatchCase) =>
  given.focus === 'line' ? cubeAt(given.target) : ballAt(given.target);

const SQUARE: PatchCase = { focus: 'line', target: [0, 60, 1000], centre: [0, 60], lineAngle: 0.4 };
const OBLIQUE: PatchCase = { focus: 'line', target: [30, -20, 1000], centre: [0, 60], lineAngle: 0.7 };
const BALL: PatchCase = { focus: 'point', target: [8, 40, 200], centre: [0, 60] };

function trace(
  given: PatchCase,
  displacement: Vec3 = [0, 0, 0],
  steps = 20,
): RoundTripTrace & { fringes: Fringes } {
  const { patch, ruler, centre, width } = patchCase(given);
  const { xs, ys } = grid(centre, width, steps);
  const traced = traceRoundTrip(patch, referenceOf(given), xs, ys, displacement);
  return { ...traced, fringes: fringesOf(traced, ruler) };
}

/**
 * The point near `near` whose ray meets the reference so that it comes back to where it left: the foot of the ray through the
 * apex. For a line focus it is one of a line of such points, over which a roof's ridge belongs.
 */
function selfReturningPoint(patch: TracedPatch, reference: TracedReference, near: Vec2): Vec2 {
  let [x, y] = near;
  for (let step = 0; step < 100; step++) {
    const { x: backX, y: backY } = traceRoundTrip(patch, reference, Float64Array.of(x), Float64Array.of(y));
    [x, y] = [(x + backX[0]) / 2, (y + backY[0]) / 2];
  }
  return [x, y];
}

describe('at the design place, without a bias', () => {
  const cases: PatchCase[] = [];
  for (const base of [SQUARE, OBLIQUE, BALL]) {
    for (const glass of ['before', 'after'] as const) {
      for (const order of [1, -1, 2]) cases.push({ ...base, glass, order });
    }
  }
  it.each(cases)('there is no fringe: $focus focus at $target, glass $glass, order $order', (given) => {
    const { waves, slopeX, slopeY, fate } = trace(given);
    expect(fate.every((value) => FATES[value] === 'returned')).toBe(true);
    // Path lengths of metres in double precision leave some 1e-9 of a wave.
    expect(Math.max(...waves.map(Math.abs))).toBeLessThan(1e-8);
    expect(Math.max(...slopeX.map(Math.abs), ...slopeY.map(Math.abs))).toBeLessThan(1e-12);
  });

  it('a cube returns each ray to its point inverted along the line, a ball to the point itself', () => {
    const { xs, ys } = grid([0, 60], 10, 4);
    const cube = patchCase(OBLIQUE);
    const byCube = traceRoundTrip(cube.patch, referenceOf(OBLIQUE), xs, ys);
    const byBall = traceRoundTrip(patchCase(BALL).patch, referenceOf(BALL), xs, ys);
    for (let i = 0; i < xs.length; i++) {
      const out = subtract([xs[i], ys[i], 0], OBLIQUE.target);
      const back = subtract([byCube.x[i], byCube.y[i], 0], OBLIQUE.target);
      const v = dot(out, cube.line);
      expect(dot(back, cube.line)).toBeCloseTo(-v, 9);
      // Unchanged but for the line's own slope to the pattern, which makes the way back longer or shorter than the way out.
      const stretch = (OBLIQUE.target[2] - v * cube.line[2]) / (OBLIQUE.target[2] + v * cube.line[2]);
      expect(dot(back, cube.sense)).toBeCloseTo(dot(out, cube.sense) * stretch, 9);
      expect(byBall.x[i]).toBeCloseTo(xs[i], 9);
      expect(byBall.y[i]).toBeCloseTo(ys[i], 9);
    }
  });
});

describe('a bias at the design place', () => {
  type Shown = Partial<Record<'tiltAlong' | 'tiltAcross' | 'roof', number>>;
  const roof = (fringes: number) => ({ shape: 'roof', fringes }) as const;
  const tilt = (fringes: number, direction?: number) =>
    ({ shape: 'tilt', fringes, ...(direction === undefined ? {} : { direction }) }) as const;
  const cases: [string, PatchCase, Shown, number, number][] = [
    ['a roof on a cube survives', { ...SQUARE, bias: roof(1) }, { roof: 1 }, 1e-6, 1e-5],
    ['obliquely too', { ...OBLIQUE, bias: roof(2) }, { roof: 2 }, 5e-5, 1e-6],
    ['in order −1', { ...OBLIQUE, order: -1, bias: roof(2) }, { roof: 2 }, 5e-5, 1e-6],
    [
      'in order 2, glass before',
      { ...OBLIQUE, order: 2, glass: 'before', bias: roof(1) },
      { roof: 1 },
      5e-5,
      1e-6,
    ],
    ['glass after, square on', { ...SQUARE, glass: 'after', bias: roof(1) }, { roof: 1 }, 1e-6, 1e-5],
    ['a plain tilt along the line cancels at a cube', { ...SQUARE, bias: tilt(3) }, {}, 1e-6, 1e-7],
    ['obliquely too', { ...OBLIQUE, bias: tilt(3), order: 2 }, {}, 5e-5, 1e-6],
    ['and through glass', { ...OBLIQUE, bias: tilt(3), glass: 'after' }, {}, 5e-5, 1e-6],
    ['a tilt on a ball survives', { ...BALL, bias: tilt(2, 0.3) }, { tiltAlong: 2 }, 2e-3, 1e-5],
    [
      'glass after, order −1',
      { ...BALL, bias: tilt(2, 0.3), glass: 'after', order: -1 },
      { tiltAlong: 2 },
      2e-3,
      1e-5,
    ],
    ['a roof on a ball survives', { ...BALL, bias: roof(2) }, { roof: 2 }, 2e-3, 1e-3],
    ['glass before, order 2', { ...BALL, bias: roof(2), glass: 'before', order: 2 }, { roof: 2 }, 2e-3, 1e-3],
  ];
  // The last two: fringes by which the fit may differ, and waves peak to valley that it may leave: the second order in the
  // ray's miss of its target.
  it.each(cases)('%s', (_, given, expected, tolerance, left) => {
    const { fringes } = trace(given);
    for (const shape of ['tiltAlong', 'tiltAcross', 'roof', 'powerAlong', 'powerAcross', 'twist'] as const) {
      const wanted = shape in expected ? expected[shape as keyof Shown]! : 0;
      expect(Math.abs(fringes[shape] - wanted), shape).toBeLessThan(tolerance);
    }
    expect(fringes.residual.pv).toBeLessThan(left);
  });

  it('a tilt across the line is a displaced line: it shows, as the move by −Nλs/(2D) of the reference would', () => {
    const { sense, line } = patchCase(SQUARE);
    const across = Math.atan2(sense[1], sense[0]);
    const biased = trace({ ...SQUARE, bias: { shape: 'tilt', fringes: 1, direction: across } }).fringes;
    const moved = trace(SQUARE, scale(sense, (WAVELENGTH * 1000) / (2 * 10))).fringes;
    expect(biased.tiltAlong).toBeCloseTo(1, 5);
    expect(moved.tiltAcross).toBeCloseTo(-1, 4);
    expect(dot(sense, line)).toBeCloseTo(0, 14);
  });

  it('shows a roof whose ridge the slab shifts off the self-returning point as less than asked', () => {
    const given: PatchCase = { ...OBLIQUE, glass: 'after', bias: { shape: 'roof', fringes: 2 } };
    expect(trace(given).fringes.roof).toBeLessThan(1.99);
    const { patch, line } = patchCase({ ...given, bias: undefined } as unknown as PatchCase);
    const [x, y] = selfReturningPoint(patch, referenceOf(given), given.centre);
    const shift = (x - given.centre[0]) * line[0] + (y - given.centre[1]) * line[1];
    // The slab's lateral shift of the chief ray, t(1 − 1/n) tan θ, along the line.
    const slope = [30 / 1000, -80 / 1000];
    const expected = 6.35 * (1 - 1 / 1.457) * (slope[0] * line[0] + slope[1] * line[1]);
    expect(shift / expected).toBeCloseTo(1, 1);
  });
});

describe('a displaced reference', () => {
  const moves: Vec3[] = [
    [0.01, 0, 0],
    [0, 0.02, 0],
    [0, 0, 0.05],
    [0.006, -0.01, 0.02],
  ];
  const cases = [SQUARE, OBLIQUE, BALL].flatMap((base) =>
    (['before', 'after'] as const).flatMap((glass) => moves.map((move) => ({ ...base, glass, move }))),
  );

  it.each(cases)('leaves E_out(A) − E_out(A + 2δ): $focus at $target, glass $glass, moved $move', (given) => {
    const traced = trace(given, given.move);
    const { leavingToward } = patchCase(given);
    const closed = new Float64Array(traced.count);
    const twice = add(given.target, scale(given.move, 2));
    leavingToward(given.target).accumulate(traced.x, traced.y, 1 / WAVELENGTH, closed, traced.count);
    leavingToward(twice).accumulate(traced.x, traced.y, -1 / WAVELENGTH, closed, traced.count);
    const mean = closed.reduce((sum, value) => sum + value, 0) / closed.length;
    const range = Math.max(...closed) - Math.min(...closed);
    const worst = Math.max(...traced.waves.map((value, i) => Math.abs(value - (closed[i] - mean))));
    // A cube inverts exactly; a ball to first order in the miss over its radius, here at most 0.05 / 6.35.
    if (given.focus === 'line') expect(worst).toBeLessThan(1e-8);
    else expect(worst).toBeLessThan(0.02 * range);
  });

  it('of a real ball differs from the point inversion by the square of the move', () => {
    const errorAt = (move: number): number => {
      const traced = trace(BALL, [move, 0, 0]);
      const closed = new Float64Array(traced.count);
      const { leavingToward } = patchCase(BALL);
      leavingToward(BALL.target).accumulate(traced.x, traced.y, 1 / WAVELENGTH, closed, traced.count);
      leavingToward(add(BALL.target, [2 * move, 0, 0])).accumulate(
        traced.x,
        traced.y,
        -1 / WAVELENGTH,
        closed,
        traced.count,
      );
      const mean = closed.reduce((sum, value) => sum + value, 0) / closed.length;
      return Math.max(...traced.waves.map((value, i) => Math.abs(value - (closed[i] - mean))));
    };
    expect(errorAt(0.02) / errorAt(0.01)).toBeCloseTo(4, 0);
  });

  it('gives, to first order, N = 2Dq/(λs) tilt fringes, and N = q(D/2s)²/λ of power', () => {
    const s = 200;
    const square: PatchCase = { focus: 'point', target: [0, 60, s], centre: [0, 60] };
    const q = 1e-4;
    const sideways = trace(square, [q, 0, 0]).fringes;
    expect(sideways.tiltAlong / ((-2 * 10 * q) / (WAVELENGTH * s))).toBeCloseTo(1, 2);
    const axial = trace(square, [0, 0, q]).fringes;
    // û·δ falls toward the edge, so the way gets shorter there: negative by this program’s sign.
    expect(axial.powerAlong / ((-q * (10 / (2 * s)) ** 2) / WAVELENGTH)).toBeCloseTo(1, 2);
    expect(axial.powerAcross / axial.powerAlong).toBeCloseTo(1, 2);
    const line = trace(SQUARE, scale(patchCase(SQUARE).sense, q)).fringes;
    expect(line.tiltAcross / ((-2 * 10 * q) / (WAVELENGTH * 1000))).toBeCloseTo(1, 4);
  });

  it('is 2û(P)·δ to first order', () => {
    const { patch, centre, width } = patchCase(OBLIQUE);
    const { xs, ys } = grid(centre, width, 6);
    const move: Vec3 = [1e-5, -2e-5, 3e-5];
    const traced = traceRoundTrip(patch, referenceOf(OBLIQUE), xs, ys, move);
    const { line } = patchCase(OBLIQUE);
    const linear = Float64Array.from(traced.x, (x, i) => {
      const toApex: Vec3 = [OBLIQUE.target[0] - x, OBLIQUE.target[1] - traced.y[i], OBLIQUE.target[2]];
      const square = add(toApex, scale(line, -dot(toApex, line)));
      return (2 * dot(square, move)) / Math.sqrt(dot(square, square)) / WAVELENGTH;
    });
    const mean = linear.reduce((sum, value) => sum + value, 0) / linear.length;
    traced.waves.forEach((value, i) => {
      expect(value).toBeCloseTo(linear[i] - mean, 8);
    });
  });

  it('along the line shows nothing, and along the chief ray only power of a cube', () => {
    const { line, chiefRay } = patchCase(OBLIQUE);
    const invisible = trace(OBLIQUE, scale(line, 0.5));
    expect(Math.max(...invisible.waves.map(Math.abs))).toBeLessThan(1e-8);
    const axial = trace(OBLIQUE, scale(chiefRay, 0.01)).fringes;
    expect(Math.abs(axial.tiltAcross)).toBeLessThan(1e-3);
    expect(axial.powerAcross).toBeCloseTo((-0.01 * (10 / 2000) ** 2) / WAVELENGTH, 4);
  });

  it('turns a roof’s straight fringes into a chevron: the halves’ slopes across stay the tilt’s', () => {
    const biased: PatchCase = { ...SQUARE, bias: { shape: 'roof', fringes: 1 } };
    const { sense } = patchCase(biased);
    const shown = trace(biased, scale(sense, 0.01)).fringes;
    expect(shown.roof).toBeCloseTo(1, 6);
    expect(shown.tiltAcross).toBeCloseTo((-2 * 10 * 0.01) / (WAVELENGTH * 1000), 4);
    expect(shown.twist).toBeCloseTo(0, 8);
  });
});

it('gives directions that are the slope of W', () => {
  const { patch, centre, width } = patchCase(BALL);
  const { xs, ys } = grid(centre, width, 5);
  const step = 1e-4;
  const move: Vec3 = [0.02, -0.01, 0.03];
  const waves = (dx: number, dy: number): RoundTripTrace =>
    traceRoundTrip(
      patch,
      referenceOf(BALL),
      xs.map((x) => x + dx),
      ys.map((y) => y + dy),
      move,
    );
  const here = waves(0, 0);
  for (const [dx, dy] of [
    [step, 0],
    [0, step],
  ]) {
    const [ahead, behind] = [waves(dx, dy), waves(-dx, -dy)];
    for (let i = 0; i < xs.length; i++) {
      const rise = (ahead.waves[i] + ahead.piston - behind.waves[i] - behind.piston) * WAVELENGTH;
      const slope = here.slopeX[i] * (ahead.x[i] - behind.x[i]) + here.slopeY[i] * (ahead.y[i] - behind.y[i]);
      expect(rise / slope).toBeCloseTo(1, 3);
    }
  }
});

describe('what does not come back', () => {
  const { patch, centre, width } = patchCase(SQUARE);
  const { xs, ys } = grid(centre, width, 20);
  const share = (trace: RoundTripTrace, fate: (typeof FATES)[number]) =>
    trace.fate.filter((value) => FATES[value] === fate).length / trace.count;

  it('a cube shorter than the patch cuts its length down', () => {
    const lossy: TracedReference = { kind: 'cube', ...idealCube(SQUARE.target, [0, 60, 0]), clearRadius: 3 };
    expect(share(traceRoundTrip(patch, lossy, xs, ys), 'outside aperture')).toBeCloseTo(0.4, 1);
  });

  it('the edges and the apex of a cube', () => {
    const lossy: TracedReference = { kind: 'cube', ...idealCube(SQUARE.target, [0, 60, 0]), apexZone: 1 };
    // Each ray meets the line at its own v: a strip 2 mm wide over the square, which the line crosses at 0.4 rad.
    const fine = grid(centre, width, 100);
    expect(share(traceRoundTrip(patch, lossy, fine.xs, fine.ys), 'dead zone')).toBeCloseTo(
      0.2 / Math.cos(0.4),
      2,
    );
  });

  it('light that comes back beside the patch', () => {
    const half = { ...patch, contains: (x: number) => x > 0 };
    const traced = traceRoundTrip(half, cubeAt(SQUARE.target), xs, ys);
    expect(share(traced, 'beside patch')).toBeGreaterThan(0.4);
    expect(share(traced, 'returned')).toBeCloseTo(1 - share(traced, 'beside patch'), 12);
  });

  it('light that misses a ball far out of place', () => {
    const ball = patchCase(BALL);
    const traced = traceRoundTrip(ball.patch, referenceOf(BALL), xs, ys, [10, 0, 0]);
    expect(share(traced, 'missed')).toBe(1);
    expect(traced.piston).toBeNaN();
    expect(() => fringesOf(traced, ball.ruler)).toThrow('0 of 400 rays came back');
  });

  it('an order too steep to exist', () => {
    const steep = { ...patch, order: 40000 };
    expect(share(traceRoundTrip(steep, cubeAt(SQUARE.target), xs, ys), 'evanescent')).toBeGreaterThan(0.9);
  });
});
