import { describe, expect, test } from 'vitest';
import { areaOf } from '../../src/geometry/extent.ts';
import type { Outline } from '../../src/geometry/outline.ts';
import { type TraceOptions, traceOutline, tracePattern } from '../../src/pattern/trace-pattern.ts';
import { areaOfZones, polygonArea } from './point-agreement.ts';
import { QuadraticPhase, rectangle, samplePatch, WAVELENGTH } from './sample-patches.ts';

const HALF: TraceOptions = { dutyCycle: 0.5 };

interface Copied {
  readonly order: number;
  readonly xy: Float64Array;
}
const copied = (trace: ReturnType<typeof tracePattern>): Copied[] => [
  ...(function* () {
    for (const { order, xy, count } of trace.zones()) yield { order, xy: xy.slice(0, 2 * count) };
  })(),
];

/** Off both axes, each by its own amount, so that x is told from y. */
const CENTRE = [0.7, -0.4] as const;

const zonePlate = (radius: number, options: TraceOptions) => {
  const patch = samplePatch({
    outline: { shape: 'circle', centre: CENTRE, radius },
    centre: CENTRE,
    target: [...CENTRE, 100],
    beam: 'collimated',
    glass: 'none',
  });
  return tracePattern(patch, options);
};

describe('a zone plate, f 100 mm at 632.8 nm', () => {
  const radiusOf = (m: number): number => Math.sqrt(m * WAVELENGTH * 100 + ((m * WAVELENGTH) / 2) ** 2);
  const trace = zonePlate(2.6, HALF);
  const zones = copied(trace);

  // r_m² = mλf + (mλ/2)²; values recomputed for this project by an independent program.
  test.each([
    [1, 0.251555362],
    [100, 2.515750602],
  ])('edge %i has the radius %f mm', (m, radius) => {
    expect(radiusOf(m)).toBeCloseTo(radius, 9);
    const order = -Math.ceil(m / 2);
    const radii = zones.filter((zone) => zone.order === order).flatMap(({ xy }) => radiiOf(xy));
    const ours = radii.filter((r) => r > 0.9 * radius && r < 1.05 * radius);
    const near = ours.filter((r) => Math.abs(r - radius) <= trace.bound);
    expect(near.length).toBeGreaterThan(100);
    // Each zone has an inner and an outer edge and straight cuts between: nothing else comes near.
    expect(
      ours.filter((r) => Math.abs(r - radius) > trace.bound && Math.abs(r - radius) < 3 * trace.bound),
    ).toEqual([]);
  });

  test('each ring has the area between its radii, within the bound', () => {
    for (let order = -1; order >= -52; order--) {
      const [inner, outer] = [radiusOf(-2 * order - 1), radiusOf(-2 * order)];
      const area = zones
        .filter((zone) => zone.order === order)
        .reduce((sum, { xy }) => sum + polygonArea(xy, xy.length / 2), 0);
      const exact = Math.PI * (outer * outer - inner * inner);
      expect(Math.abs(area - exact)).toBeLessThan(2 * Math.PI * (inner + outer) * trace.bound);
      expect(zones.filter((zone) => zone.order === order).length).toBe(2);
    }
  });

  test('an edge shift moves every edge outward by itself', () => {
    const edgeShift = 2e-4;
    const wide = zonePlate(2.6, { ...HALF, edgeShift });
    const zone = copied(wide).filter(({ order }) => order === -20);
    const radii = zone.flatMap(({ xy }) => radiiOf(xy));
    expect(Math.min(...radii)).toBeGreaterThan(radiusOf(39) - edgeShift - wide.bound);
    expect(Math.min(...radii)).toBeLessThan(radiusOf(39) - edgeShift + wide.bound);
    expect(Math.max(...radii)).toBeLessThan(radiusOf(40) + edgeShift + wide.bound);
    expect(Math.max(...radii)).toBeGreaterThan(radiusOf(40) + edgeShift - wide.bound);
  });
});

describe('a linear phase on a rectangle', () => {
  const outline = rectangle([1, 2], 10);
  // 100 whole periods of 0.1 mm.
  const phase = new QuadraticPhase([-4, 0], { xx: 0, xy: 0, yy: 0, x: 10 });

  test.each([0.5, 0.2, 0.77])('is written to duty × area at a duty of %f', (dutyCycle) => {
    const { area, count, vertices } = areaOfZones(traceOutline({ outline, phase }, { dutyCycle }).zones());
    expect(area).toBeCloseTo(dutyCycle * 100, 8);
    expect(count).toBe(100);
    expect(vertices).toBe(400);
  });

  test.each([0.01, -0.01, -0.03])('an edge shift of %f mm moves each edge by itself', (edgeShift) => {
    const trace = traceOutline({ outline, phase }, { dutyCycle: 0.4, edgeShift });
    const widths = copied(trace).map(
      ({ xy }) =>
        Math.max(...xy.filter((_, k) => k % 2 === 0)) - Math.min(...xy.filter((_, k) => k % 2 === 0)),
    );
    // The outermost may be cut by the patch's edge, which stays.
    const inner = widths.slice(1, -1);
    const expected = 0.04 + 2 * edgeShift;
    if (expected <= 0) expect(inner).toEqual([]);
    for (const width of inner) expect(width).toBeCloseTo(expected, 9);
    if (expected > 0) expect(inner.length).toBeGreaterThan(90);
  });
});

describe('a roof', () => {
  const given = {
    outline: rectangle([0, 60], 4),
    centre: [0, 60] as const,
    target: [0, 150, 900] as const,
    lineAngle: Math.PI / 2,
  };
  const patch = samplePatch({ ...given, bias: { shape: 'roof', fringes: 40, direction: undefined } });
  const zones = copied(tracePattern(patch, HALF));
  /** Over the ridge, y = 60; rounding counts as on it. */
  const heightOf = (y: number): number => (Math.abs(y - 60) < 1e-9 ? 0 : y - 60);

  test('zones cross the ridge at vertices that stand on it', () => {
    let [onRidge, across] = [0, 0];
    for (const { xy } of zones) {
      const heights = [...xy.filter((_, k) => k % 2 === 1)].map(heightOf);
      for (const [k, height] of heights.entries())
        expect(height * heights[(k + 1) % heights.length]!).toBeGreaterThanOrEqual(0);
      onRidge += heights.filter((height) => height === 0).length;
      if (Math.min(...heights) < 0 && Math.max(...heights) > 0) across++;
    }
    expect(across).toBeGreaterThan(2);
    expect(onRidge).toBeGreaterThanOrEqual(2 * across);
  });
});

test('every third zone is the same as among all', () => {
  const patch = samplePatch({ outline: rectangle([30, 40], 2), centre: [30, 40], target: [100, 0, 400] });
  const all = copied(tracePattern(patch, HALF)).filter(({ order }) => order % 3 === 0);
  const thinned = copied(tracePattern(patch, { ...HALF, every: 3 }));
  expect(thinned.map(({ order }) => order)).toEqual(all.map(({ order }) => order));
  const [a, b] = [all, thinned].map((zones) =>
    zones.reduce((sum, { xy }) => sum + polygonArea(xy, xy.length / 2), 0),
  );
  expect(a! / b!).toBeCloseTo(1, 6);
});

test('orders +1 and −1 of a lens write the same edges, its dark and its clear zones exchanged', () => {
  const given = {
    outline: rectangle([0.4, 0.3], 2.4),
    centre: [0, 0] as const,
    target: [0, 0, 100] as const,
    beam: 'collimated' as const,
    glass: 'none' as const,
  };
  const plus = areaOfZones(tracePattern(samplePatch(given), { dutyCycle: 0.3 }).zones());
  const minus = areaOfZones(tracePattern(samplePatch({ ...given, order: -1 }), { dutyCycle: 0.7 }).zones());
  expect(plus.area + minus.area).toBeCloseTo(areaOf(given.outline), 4);
});

describe('special regions', () => {
  const bowl = new QuadraticPhase([0, 0], { xx: 3, xy: 0, yy: 3 });
  const circle: Outline = { shape: 'circle', centre: [0, 0], radius: 2 };

  test('the edge of the patch may be a fringe: rings of a bowl end exactly there', () => {
    // Φ = 3r² is 12 on the edge.
    const { area, count } = areaOfZones(traceOutline({ outline: circle, phase: bowl }, HALF).zones());
    expect(area).toBeCloseTo((Math.PI * 4) / 2, 4);
    expect(count).toBe(24);
  });

  test('a patch within one zone is written whole, within one gap not at all', () => {
    const low = new QuadraticPhase([0, 0], { xx: 0.01, xy: 0, yy: 0.01, constant: 0.1 });
    const high = new QuadraticPhase([0, 0], { xx: 0.01, xy: 0, yy: 0.01, constant: 0.6 });
    expect(
      areaOfZones(traceOutline({ outline: rectangle([0, 0], 2), phase: low }, HALF).zones()).area,
    ).toBeCloseTo(4, 9);
    expect([...traceOutline({ outline: rectangle([0, 0], 2), phase: high }, HALF).zones()]).toEqual([]);
  });

  test('a phase that is stationary along a curve is refused', () => {
    const ridgeRing = {
      evaluate(
        xs: Float64Array,
        ys: Float64Array,
        out: Float64Array,
        gx: Float64Array,
        gy: Float64Array,
        count: number,
      ) {
        for (let k = 0; k < count; k++) {
          const square = xs[k]! ** 2 + ys[k]! ** 2 - 1;
          out[k] = 5 * square * square;
          gx[k] = 20 * square * xs[k]!;
          gy[k] = 20 * square * ys[k]!;
        }
      },
      curvatureBound: () => 300,
    };
    expect(() => traceOutline({ outline: rectangle([0, 0], 3), phase: ridgeRing }, HALF)).toThrow(
      /stationary along a curve/,
    );
  });
});

test.each([
  [{ dutyCycle: 0 }, /duty cycle is 0; expected/],
  [{ dutyCycle: 1 }, /duty cycle is 1; expected/],
  [{ dutyCycle: 0.5, every: 1.5 }, /`every` is 1.5; expected/],
  [{ dutyCycle: 0.5, grid: 1e-5 }, /too coarse/],
  [{ dutyCycle: 0.5, waves: -1 }, /bound in waves is -1/],
  [{ dutyCycle: 0.5, edgeShift: Number.NaN }, /edge shift in mm is NaN/],
])('%o is refused', (options, message) => {
  expect(() => zonePlate(1, options)).toThrow(message);
});

test('the same options give the same zones', () => {
  const sum = () => copied(zonePlate(1, HALF)).map(({ order, xy }) => [order, ...xy]);
  expect(sum()).toEqual(sum());
});

const radiiOf = (xy: Float64Array): number[] =>
  Array.from({ length: xy.length / 2 }, (_, k) =>
    Math.hypot(xy[2 * k]! - CENTRE[0], xy[2 * k + 1]! - CENTRE[1]),
  );
