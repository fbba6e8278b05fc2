import { describe, expect, it } from 'vitest';
import { dot, type Vec3 } from '../../src/geometry/vector.ts';
import { idealCube } from '../../src/optics/corner-cube.ts';
import { LEAST_FRESNEL_NUMBER } from '../../src/optics/diffraction-blur.ts';
import {
  type DiffractedPatch,
  type DiffractedReturn,
  diffractedReturn,
  geometricReturn,
} from '../../src/optics/diffraction-return.ts';
import { ballFresnelNumber, cubeFresnelNumber } from '../../src/optics/fresnel-number.ts';
import { sampleAt } from '../../src/optics/propagation.ts';
import { traceRoundTrip } from '../../src/optics/round-trip.ts';
import { fresnelIntegrals } from './fresnel-integrals.ts';
import { grid, patchCase, WAVELENGTH } from './patch-for-tracing.ts';
import { blurOf, LOST_AREA, READING } from './support/blur.ts';

const HALF = 5;
const RADIUS = 6.35;
const square = (u: number, v: number): boolean => Math.abs(u) <= HALF && Math.abs(v) <= HALF;
const round = (u: number, v: number): boolean => Math.hypot(u, v) <= HALF;
const roof = (fringes: number) => (_: number, v: number) => ((fringes / 2) * Math.abs(v)) / HALF;

type Given = Partial<DiffractedPatch>;
function onCube(distance: number, more: Given = {}): DiffractedPatch {
  const halfWidths = [HALF, HALF] as const;
  return {
    wavelength: WAVELENGTH,
    order: 1,
    distance,
    reference: { kind: 'cube' },
    halfWidths,
    contains: square,
    ...more,
  };
}
function onBall(distance: number, more: Given = {}): DiffractedPatch {
  return onCube(distance, { reference: { kind: 'ball', radius: RADIUS }, contains: round, ...more });
}
/** The distances at which the round trip has a Fresnel number, from the published forms. */
const cubeDistance = (fresnelNumber: number) => HALF ** 2 / (2 * WAVELENGTH * fresnelNumber);
const ballDistance = (fresnelNumber: number) =>
  (RADIUS + Math.sqrt(RADIUS ** 2 + (2 * HALF ** 2 * RADIUS) / (WAVELENGTH * fresnelNumber))) / 2;
/** The move across that shows as one fringe from edge to edge: q = λs/(2D). */
const oneFringe = (distance: number): Vec3 => [(WAVELENGTH * distance) / (4 * HALF), 0, 0];

/** The field at the sample nearest to (u, v). */
function at({ field }: DiffractedReturn, u: number, v: number) {
  const i = Math.round(u / field.spacingX) + field.columns / 2;
  const j = Math.round(v / field.spacingY) + field.rows / 2;
  const index = j * field.columns + i;
  const [x, y] = [sampleAt(i, field.columns, field.spacingX), sampleAt(j, field.rows, field.spacingY)];
  return { u: x, v: y, re: field.re[index], im: field.im[index] };
}
const brightness = (back: DiffractedReturn, u: number, v: number): number => {
  const { re, im } = at(back, u, v);
  return re * re + im * im;
};

describe('the return from a cube', () => {
  it.each([1, 5, 20])(
    'is a slit seen over 2s along the line, and one seen over −2s across: Fresnel number %f',
    (fresnelNumber) => {
      const distance = cubeDistance(fresnelNumber);
      expect(cubeFresnelNumber(HALF, WAVELENGTH, distance)).toBeCloseTo(fresnelNumber, 12);
      const back = diffractedReturn(onCube(distance), 128);
      const scale = Math.sqrt(2 / (WAVELENGTH * 2 * distance));
      for (const u of [0, 2.5, 4.5]) {
        for (const v0 of [0, 1, 2.5, -4]) {
          const seen = at(back, u, v0);
          // (c + is)(1 − i)/2 along the line, its conjugate across.
          const slit = (place: number) => {
            const upper = fresnelIntegrals((HALF - place) * scale);
            const lower = fresnelIntegrals((HALF + place) * scale);
            const [c, s] = [upper.c + lower.c, upper.s + lower.s];
            return [(c + s) / 2, (s - c) / 2] as const;
          };
          const [[alongRe, alongIm], [acrossRe, acrossIm]] = [slit(seen.v), slit(seen.u)];
          expect(Math.abs(seen.re - (alongRe * acrossRe + alongIm * acrossIm))).toBeLessThan(0.045);
          expect(Math.abs(seen.im - (alongIm * acrossRe - alongRe * acrossIm))).toBeLessThan(0.045);
        }
      }
    },
  );

  it('comes back upside down along the line, and the right way up across', () => {
    // A patch lit in one quarter only, at a large Fresnel number.
    const quarter = (u: number, v: number) => u > 0 && v > 0 && square(u, v);
    const back = diffractedReturn(
      onCube(50, { contains: (u, v) => quarter(u, v) || (u > 0 && v < 0 && square(u, v)) }),
      64,
    );
    expect(brightness(back, 2, -2)).toBeGreaterThan(0.8);
    expect(brightness(back, -2, 2)).toBe(0);
    // The light of the upper half alone arrives in the lower one, outside the patch: nothing is left of it.
    const lost = diffractedReturn(onCube(50, { contains: quarter }), 64);
    expect(brightness(lost, 2, 2)).toBeLessThan(1e-3);
  });

  it('is dark where the cube loses light: about the apex, and outside its aperture', () => {
    const loses = (_: number, v: number) => Math.abs(v) < 1 || Math.abs(v) > 4;
    const back = diffractedReturn(onCube(100, { reference: { kind: 'cube', loses } }), 64);
    expect(brightness(back, 1, 0.3)).toBeLessThan(0.05);
    expect(brightness(back, 1, 4.6)).toBeLessThan(0.05);
    expect(brightness(back, 1, 2.5)).toBeGreaterThan(0.8);
  });

  it('is blurred across the line by a cube that is narrow for the focus', () => {
    const s = 1000;
    const width = (WAVELENGTH * s) / (2 * HALF);
    // The first side lobes and all beyond are lost: the patch's edges go soft.
    const loses = (q: number) => Math.abs(q) > width;
    const [open, narrow] = [onCube(s), onCube(s, { reference: { kind: 'cube', loses } })].map((patch) =>
      diffractedReturn(patch, 64),
    );
    expect(brightness(open, 4.2, 2)).toBeGreaterThan(0.7);
    expect(brightness(narrow, 4.2, 2)).toBeLessThan(0.5);
  });
});

describe('the return from a ball', () => {
  it.each([0.5, 1, 1.5, 2, 3, 4])(
    'has the middle of a round hole’s shadow, 4 sin²(πN/2): N = %f',
    (fresnelNumber) => {
      // Fresnel’s zones (Born & Wolf, Principles of Optics, §8.2, from memory), with N of the round trip by its closed form.
      const back = diffractedReturn(onBall(ballDistance(fresnelNumber)), 64);
      expect(
        Math.abs(brightness(back, 0, 0) - 4 * Math.sin((Math.PI * fresnelNumber) / 2) ** 2),
      ).toBeLessThan(0.1);
    },
  );

  it('comes back the right way up', () => {
    const quarter = (u: number, v: number) => u > 0 && v > 0 && square(u, v);
    const back = diffractedReturn(onBall(ballDistance(200), { contains: quarter }), 64);
    expect(brightness(back, 2, 2)).toBeGreaterThan(0.7);
  });
});

describe('at a large Fresnel number the wave goes over into the geometric picture', () => {
  const cases: [string, (fresnelNumber: number) => DiffractedPatch][] = [
    ['a roof on a cube', (n) => onCube(cubeDistance(n), { bias: roof(1) })],
    [
      'a roof on a cube out of place',
      (n) =>
        onCube(cubeDistance(n), { bias: roof(1), displacement: [oneFringe(cubeDistance(n))[0], 0.02, 0.1] }),
    ],
    ['a ball out of place', (n) => onBall(ballDistance(n), { displacement: oneFringe(ballDistance(n)) })],
    [
      'a tilt on a ball, order −1',
      (n) => onBall(ballDistance(n), { order: -1, bias: (u) => u / (4 * HALF) }),
    ],
  ];
  it.each(cases)('%s', (_, patchOf) => {
    const [near, far] = [blurOf(patchOf(100), 64), blurOf(patchOf(5), 64)];
    expect(near.phaseError).toBeLessThan(0.017);
    expect(far.phaseError).toBeGreaterThan(1.25 * near.phaseError);
    expect(Math.abs(near.tiltError)).toBeLessThan(0.01);
    expect(near.lostArea).toBeLessThan(0.025);
  });

  it('which is that of the trace: a ball and a cube out of place', () => {
    const move: Vec3 = [0.003, 0.002, 0.004];
    for (const focus of ['point', 'line'] as const) {
      const s = 300;
      const { patch, centre } = patchCase({ focus, target: [0, 60, s], centre: [0, 60] });
      const { xs, ys } = grid(centre, 2 * HALF, 8);
      const traced = traceRoundTrip(
        patch,
        focus === 'point'
          ? { kind: 'ball', centre: [0, 60, s], radius: RADIUS }
          : { kind: 'cube', ...idealCube([0, 60, s], [0, 60, 0]) },
        xs,
        ys,
        move,
      );
      // The line of patchCase lies along x: v = x and u = ê·P with ê = ℓ̂ × û = −y.
      const local = focus === 'line' ? ([-move[1], move[0], move[2]] as Vec3) : move;
      const given =
        focus === 'line' ? onCube(s, { displacement: local }) : onBall(s, { displacement: local });
      const waves = Float64Array.from(traced.x, (x, i) =>
        focus === 'line'
          ? geometricReturn(given, -(traced.y[i] - 60), x)
          : geometricReturn(given, x, traced.y[i] - 60),
      );
      const mean = waves.reduce((sum, value) => sum + value, 0) / waves.length;
      const range = Math.max(...waves) - Math.min(...waves);
      const worst = Math.max(...traced.waves.map((value, i) => Math.abs(value - (waves[i] - mean))));
      expect(dot(move, move)).toBeGreaterThan(0);
      // Exact for the cube; for the ball the trace lands where the miss over the radius takes it, 0.1 % here.
      expect(worst / range).toBeLessThan(focus === 'line' ? 1e-7 : 5e-3);
    }
  });
});

describe('the table that sets the least Fresnel number', () => {
  // As printed in diffraction-blur.ts.
  const table: [
    fresnelNumber: number,
    roofError: number,
    roofLost: number,
    misread: number,
    tiltLost: number,
  ][] = [
    [0.25, 0.135, 1.0, 0.449, 0.61],
    [0.5, 0.14, 0.82, 0.134, 0.43],
    [0.75, 0.092, 0.43, 0.077, 0.17],
    [1, 0.074, 0.43, 0.062, 0.21],
    [2, 0.049, 0.19, 0.02, 0.12],
    [5, 0.032, 0.02, 0.003, 0.03],
    [20, 0.02, 0.0, 0.001, 0.0],
  ];
  const computed = table.map(([fresnelNumber]) => {
    const s = ballDistance(fresnelNumber);
    expect(ballFresnelNumber(HALF, WAVELENGTH, s, RADIUS)).toBeCloseTo(fresnelNumber, 10);
    const tilted = blurOf(onBall(s, { displacement: oneFringe(s) }), 64);
    const roofed = blurOf(onCube(cubeDistance(fresnelNumber), { bias: roof(1) }), 64);
    return [
      fresnelNumber,
      roofed.phaseError,
      roofed.lostArea,
      Math.abs(tilted.tiltError),
      tilted.lostArea,
    ] as const;
  });

  // Integrated independently; along the line alone it would be 0.23, 0.07 and 0.00.
  it.each([
    [1, 0.44],
    [2, 0.19],
    [5, 0.03],
  ])('at a number of %d a square patch with a roof loses %f of its area', (fresnelNumber, lost) => {
    const [, , found] = computed.find(([number]) => number === fresnelNumber)!;
    expect(Math.abs(found - lost)).toBeLessThan(0.015);
  });

  it('is as it is printed beside the limit', () => {
    computed.forEach(([, roofError, roofLost, misread, tiltLost], row) => {
      expect(roofError).toBeCloseTo(table[row][1], 3);
      expect(roofLost).toBeCloseTo(table[row][2], 1);
      expect(misread).toBeCloseTo(table[row][3], 3);
      expect(tiltLost).toBeCloseTo(table[row][4], 1);
    });
  });

  it('has the least number of a cube as its first row from which on the picture is good enough, of a ball the next', () => {
    const firstGood = (error: 1 | 3, lost: 2 | 4): number => {
      const good = computed.map((row) => row[error] < READING && row[lost] < LOST_AREA);
      const first = good.findIndex((_, row) => good.slice(row).every(Boolean));
      expect(first).toBeGreaterThan(0);
      return first;
    };
    expect(computed[firstGood(1, 2)]?.[0]).toBe(LEAST_FRESNEL_NUMBER.cube);
    expect(computed[firstGood(3, 4) + 1]?.[0]).toBe(LEAST_FRESNEL_NUMBER.ball);
  });

  it('depends on the Fresnel number alone: a small ball near by is as a large one far off', () => {
    const blurs = [3, 12].map((radius) => {
      const s = (radius + Math.sqrt(radius ** 2 + (2 * HALF ** 2 * radius) / WAVELENGTH)) / 2;
      return blurOf(onBall(s, { reference: { kind: 'ball', radius }, displacement: oneFringe(s) }), 32);
    });
    expect(blurs[0].tiltError).toBeCloseTo(blurs[1].tiltError, 3);
    expect(blurs[0].phaseError).toBeCloseTo(blurs[1].phaseError, 3);
  });
});
