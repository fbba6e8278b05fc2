/**
 * A roof's zones across its ridge: one polygon on both sides of the crease. Expected of any outline, ridge and edge shift: no side of a
 * polygon runs along the ridge but for the steps that a shift leaves, no polygon crosses itself, and the area is that of the two
 * sides traced apart (a roof without its ridge: each half with its own phase). mm.
 */
import { describe, expect, it } from 'vitest';
import { boundaryOf } from '../../src/geometry/boundary.ts';
import { cutByLine } from '../../src/pattern/cut-region.ts';
import { phasedOutlineOf } from '../../src/pattern/regions.ts';
import { Probe } from '../../src/pattern/smooth-phase.ts';
import { traceOutline, tracePattern } from '../../src/pattern/trace-pattern.ts';
import { areaOfZones } from './point-agreement.ts';
import { rectangle, samplePatch } from './sample-patches.ts';

const ROOFS = [
  {
    name: 'ridge along straight fringes',
    least: 1,
    given: {
      outline: rectangle([0, 60], 2),
      centre: [0, 60],
      target: [0, 150, 900],
      lineAngle: Math.PI / 2,
      bias: { shape: 'roof', fringes: 9, direction: undefined },
    },
  },
  {
    name: 'ridge slanting through a rectangle of tilted fringes',
    least: 50,
    given: {
      outline: rectangle([20, 0], 1.5, 1, 0.3),
      centre: [20, 0],
      target: [60, 20, 300],
      bias: { shape: 'roof', fringes: 30, direction: 1.1 },
    },
  },
  {
    name: 'ridge through closed rings',
    least: 5,
    given: {
      outline: rectangle([0, 0], 2.4),
      centre: [0, 0],
      target: [0, 0, 100],
      beam: 'collimated',
      glass: 'none',
      bias: { shape: 'roof', fringes: 3, direction: 0.4 },
    },
  },
] as const;
const DUTY = 0.45;
const ON = 1e-9;
/** Of two crossings. */
const ROUNDING = 1e-6;

type Corner = readonly [number, number];
const cornersOf = (xy: Float64Array, count: number): Corner[] =>
  Array.from({ length: count }, (_, k) => [xy[2 * k]!, xy[2 * k + 1]!]);

const turn = (a: Corner, b: Corner, c: Corner): number =>
  (b[0] - a[0]) * (c[1] - a[1]) - (b[1] - a[1]) * (c[0] - a[0]);

function crossesItself(corners: readonly Corner[]): boolean {
  const sides = corners.map((a, k) => [a, corners[(k + 1) % corners.length]!] as const);
  return sides.some(([a, b], i) =>
    sides.some(
      ([c, d], j) => j > i && turn(a, b, c) * turn(a, b, d) < 0 && turn(c, d, a) * turn(c, d, b) < 0,
    ),
  );
}

describe.each(ROOFS)('$name', ({ given, least }) => {
  const patch = samplePatch(given);
  const { ridge, phase, outline } = phasedOutlineOf(patch);
  const { at, along } = ridge!.line;
  const height = ([x, y]: Corner): number => along[0] * (y - at[1]) - along[1] * (x - at[0]);
  const zonesAt = (edgeShift: number): Corner[][] =>
    Array.from(tracePattern(patch, { dutyCycle: DUTY, edgeShift }).zones(), ({ xy, count }) =>
      cornersOf(xy, count),
    );
  const seams = (zones: readonly Corner[][]): { at: Corner; length: number }[] =>
    zones.flatMap((zone) =>
      zone.flatMap((a, k) => {
        const b = zone[(k + 1) % zone.length]!;
        const isSeam = Math.abs(height(a)) < ON && Math.abs(height(b)) < ON;
        return isSeam ? [{ at: a, length: Math.hypot(b[0] - a[0], b[1] - a[1]) }] : [];
      }),
    );
  /** An edge shifted by s stands where Φ is s|∇Φ| off its level, |∇Φ| that of either side: so far apart along the ridge. */
  const step = ([x, y]: Corner, shift: number): number => {
    const [one, other] = [new Probe(phase), new Probe(ridge!.rightPhase)];
    one.at(x, y);
    other.at(x, y);
    const rise = Math.abs(one.gx * along[0] + one.gy * along[1]);
    return (Math.abs(shift) * Math.abs(Math.hypot(one.gx, one.gy) - Math.hypot(other.gx, other.gy))) / rise;
  };
  const crossing = (zones: readonly Corner[][]): number =>
    zones.filter((zone) => zone.some((a) => height(a) > ON) && zone.some((a) => height(a) < -ON)).length;

  it('zones go across the ridge, with no side along it', () => {
    const zones = zonesAt(0);
    expect(crossing(zones)).toBeGreaterThan(least);
    expect(seams(zones)).toEqual([]);
    expect(zones.filter(crossesItself)).toEqual([]);
  });

  it.each([20e-6, -20e-6])(
    'shifted by %d mm, only the steps that the slopes of both sides explain are left on the ridge',
    (shift) => {
      const zones = zonesAt(shift);
      expect(crossing(zones)).toBeGreaterThan(least);
      for (const { at, length } of seams(zones))
        expect(length).toBeLessThan(1.02 * step(at, shift) + ROUNDING);
      expect(zones.filter(crossesItself)).toEqual([]);
    },
  );

  it('the joined zones cover what the two sides cover apart', () => {
    const { left, right } = cutByLine(boundaryOf(outline), ridge!.line);
    const apart = [
      ...left.map((loop) => [loop, phase] as const),
      ...right.map((loop) => [loop, ridge!.rightPhase] as const),
    ].map(([loop, own]) => {
      const points = loop.map((piece) => (piece.kind === 'segment' ? piece.from : piece.centre));
      return areaOfZones(
        traceOutline({ outline: { shape: 'polygon', points }, phase: own }, { dutyCycle: DUTY }).zones(),
      ).area;
    });
    const joined = areaOfZones(tracePattern(patch, { dutyCycle: DUTY }).zones());
    expect(joined.least).toBeGreaterThan(0);
    expect(joined.area).toBeCloseTo(
      apart.reduce((sum, area) => sum + area, 0),
      5,
    );
  });
});
