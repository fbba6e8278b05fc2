/**
 * Fringes of a ball with a tilt bias as they are seen, all of them, against rays traced out and home through a pattern with that bias: less
 * what the aligned patch shows they are the fringes of the displacement, along the senses and toward an hour of the picture.
 */
import { describe, expect, it } from 'vitest';
import { COMMON_PRACTICE } from '../../src/metrology/budget/practice.ts';
import { alongSenses } from '../../src/metrology/steering/seen-readings.ts';
import { steeringReadings } from '../../src/metrology/steering/steering-readings.ts';
import { knownAcross, steerReferences } from '../../src/metrology/steering/steering-reference.ts';
import type { BenchReading } from '../../src/scenario/bench-reading.ts';
import { PLAIN_ORIENTATION } from '../../src/scenario/camera-orientation.ts';
import { reader } from '../independent/patch-reading.ts';
import type { Vector } from '../independent/ray.ts';
import { designFrom } from './support/design-from.ts';

const AROUND = { wavelength: 632.8e-6, focus: [0, 0, -500] as Vector };
const TARGET: Vector = [90, 20, 130];
const MOVE: Vector = [2e-3, -3e-3, 1e-2];
const OUTLINE = { shape: 'circle', centre: [60, 0], radius: 6 } as const;
const CASES = [
  { fringes: 3, direction: 0 },
  { fringes: 2, direction: 130 },
] as const;

describe.each(CASES)('a tilt bias of $fringes fringes at $direction°', (bias) => {
  const design = designFrom({
    references: [{ id: 'near', kind: 'ball', diameter: 12.7, at: TARGET }],
    patches: [
      {
        id: 'p',
        reference: 'near',
        focus: 'point',
        centre: [60, 0],
        outline: { circle: { diameter: 12 } },
        bias: { shape: 'tilt', fringes: bias.fringes, direction: `${bias.direction} deg` },
      },
    ],
  });
  const read = reader(AROUND, {
    id: 'p',
    centre: [60, 0],
    target: TARGET,
    radius: 6.35,
    outline: OUTLINE,
    bias: { shape: 'tilt', fringes: bias.fringes, direction: (bias.direction * Math.PI) / 180 },
  });
  // The bench counts a fall of the path along + as positive.
  const total = read({ move: MOVE }).map((value) => -value);
  const beyond = read({}).map((value, k) => value + total[k]!);
  const found = (reading: Partial<BenchReading> & { fringes: readonly (number | undefined)[] }) => {
    const seen = {
      kind: 'fringes',
      patch: 'p',
      signKnown: true,
      uncertainty: undefined,
      ...reading,
    } as BenchReading;
    const { readings, findings } = alongSenses(design, [seen], PLAIN_ORIENTATION);
    expect(findings).toEqual([]);
    return (readings[0] as Extract<BenchReading, { kind: 'fringes' }>).fringes;
  };

  it('is subtracted from counts along the senses', () => {
    const fringes = found({ fringes: total, counted: 'total' } as never);
    for (const [k, value] of beyond.entries()) expect(fringes[k]).toBeCloseTo(value, 1);
    // The bias is not small beside what is left.
    expect(Math.hypot(total[0]! - beyond[0]!, total[1]! - beyond[1]!)).toBeGreaterThan(1);
  });

  it('is subtracted from a count toward an hour, from the interferometer with x to the left', () => {
    // The fall over the pattern, waves/mm: each sense's own over its width there, senses as the documentation defines them.
    const ray = ((v: Vector) => v.map((one) => one / Math.hypot(...v)) as unknown as Vector)([30, 20, 130]);
    const first = [1 - ray[0] ** 2, -ray[0] * ray[1], -ray[0] * ray[2]].map(
      (v) => v / Math.sqrt(1 - ray[0] ** 2),
    );
    const second = [ray[1] * first[2]! - ray[2] * first[1]!, ray[2] * first[0]! - ray[0] * first[2]!];
    const [a, b] = [first, second].map(([x, y], k) => {
      const per = total[k]! / (12 * Math.hypot(x!, y!));
      return [per * x!, per * y!] as const;
    }) as [readonly [number, number], readonly [number, number]];
    const [fx, fy] = [a[0] + b[0], a[1] + b[1]];
    const hour = ((Math.atan2(-fx, fy) * 6) / Math.PI + 12) % 12 || 12;
    const size = 12 * Math.hypot(fx, fy);
    const fringes = found({ fringes: [size, undefined, undefined], toward: hour, counted: 'total' } as never);
    for (const k of [0, 1]) expect(fringes[k]).toBeCloseTo(beyond[k]!, 1);
  });
});

it('a roof has no total, and says so', () => {
  const design = designFrom({
    references: [{ id: 'near', kind: 'ball', diameter: 12.7, at: TARGET }],
    patches: [
      {
        ...{ id: 'p', reference: 'near', focus: 'point', centre: [60, 0] },
        ...{ outline: { circle: { diameter: 12 } }, bias: { shape: 'roof', fringes: 1 } },
      },
    ],
  });
  const seen = {
    kind: 'fringes',
    patch: 'p',
    counted: 'total',
    fringes: [1, 1],
    signKnown: true,
    uncertainty: undefined,
  } as const;
  expect(alongSenses(design, [seen], PLAIN_ORIENTATION).findings).toMatchObject([
    { rule: 'bad-value', path: ['readings', 0, 'counted'] },
  ]);
});

it('a bare ball, tilts alone, is known across its line of sight and there as finely as its fringes say', () => {
  const design = designFrom({
    references: [{ id: 'near', kind: 'ball', diameter: 12.7, at: TARGET }],
    patches: [
      { id: 'p', reference: 'near', focus: 'point', centre: [60, 0], outline: { circle: { diameter: 12 } } },
    ],
  });
  const seen: BenchReading = {
    kind: 'fringes',
    patch: 'p',
    fringes: [1, -2, undefined],
    signKnown: true,
    uncertainty: 0.1,
  };
  const [near] = steerReferences(design, steeringReadings(design, [seen]), COMMON_PRACTICE);
  const known = knownAcross(near!);
  const ray = [30, 20, 130].map((v) => v / Math.hypot(30, 20, 130));
  expect(known).toHaveLength(2);
  // 2Dq/(λs), s to the target where the phase is the target's: D = 12 mm across, as seen along the ray.
  const s = Math.hypot(30, 20, 130);
  for (const [k, { direction, displacement, sigma }] of known.entries()) {
    expect(direction.reduce((sum, v, i) => sum + v * ray[i]!, 0)).toBeCloseTo(0, 6);
    const width = 12 * Math.hypot(direction[0], direction[1]);
    const perMm = (2 * width) / (632.8e-6 * s);
    expect((displacement * perMm) / [1, -2][k]!).toBeCloseTo(1, 1);
    expect((sigma * perMm) / 0.1).toBeCloseTo(1, 1);
  }
});
