/**
 * Diffraction of a line focus on a cube, along its line and across it: figures of a Huygens integral over the unfolded round trip
 * (tests/independent/huygens.ts), and the program's own waves against it. mm, fringes; 632.8 nm. The check values come from another
 * independent integration, and hang by some thousandths on how finely the dark rims are sampled; tilt is fitted with amplitudes as weights.
 */
import { describe, expect, it } from 'vitest';
import { type DiffractedPatch, diffractedReturn } from '../../src/optics/diffraction-return.ts';
import { sampleAt } from '../../src/optics/propagation.ts';
import {
  amplitude,
  type HuygensPatch,
  midpoints,
  returnFromCube,
  standardDeviation,
  type Wave,
} from '../independent/huygens.ts';

const WAVELENGTH = 632.8e-6;
const S = 3000;
const PLACES = 160;
/** Of a standard deviation, and of fringes: what the sampling of the rims changes. */
const RIM_AMPLITUDE = 0.002;
const RIM_FRINGES = 0.004;

const given = (across: number, along: number, more: Partial<HuygensPatch> = {}): HuygensPatch => {
  return { wavelength: WAVELENGTH, distance: S, halfAcross: across / 2, halfAlong: along / 2, ...more };
};

/** Over the patch across the line and along it, each without what the other direction's ends do. */
function spreads(across: number, along: number): readonly number[] {
  const cut = (endless: 'across' | 'along', half: number): number => {
    const wave = returnFromCube(given(across, along, { endless }), 100);
    const places = midpoints(half, PLACES).map((run) => (endless === 'along' ? wave(run, 0) : wave(0, run)));
    return standardDeviation(places.map(amplitude));
  };
  return [cut('along', across / 2), cut('across', along / 2)];
}

/** The slope over u times the width, by least squares weighted by amplitude. */
function tiltRead(waveAt: (u: number) => Wave, width: number): number {
  const sums = { w: 0, u: 0, t: 0, uu: 0, ut: 0 };
  let before = 0;
  for (const u of midpoints(width / 2, PLACES)) {
    const wave = waveAt(u);
    const turns = Math.atan2(wave.im, wave.re) / (2 * Math.PI);
    before = turns - Math.round(turns - before);
    const w = amplitude(wave);
    sums.w += w;
    sums.u += w * u;
    sums.t += w * before;
    sums.uu += w * u * u;
    sums.ut += w * u * before;
  }
  return ((sums.ut - (sums.u * sums.t) / sums.w) / (sums.uu - sums.u ** 2 / sums.w)) * width;
}

/** Share of the patch that is a tenth of a fringe off the geometric roof, or dimmer than a quarter. */
function lostArea(fresnelNumber: number): number {
  const half = 5;
  const distance = half ** 2 / (2 * WAVELENGTH * fresnelNumber);
  const wave = returnFromCube(given(2 * half, 2 * half, { distance, roof: 1 }), 30);
  // The four quarters are alike.
  const quarter = midpoints(half, 48).filter((run) => run > 0);
  const cells = quarter.flatMap((u) => quarter.map((v) => turned(wave(u, v), -v / half)));
  const sum = cells.reduce((all, { re, im }) => ({ re: all.re + re, im: all.im + im }));
  const piston = Math.atan2(sum.im, sum.re) / (2 * Math.PI);
  const lost = cells
    .map((cell) => turned(cell, -piston))
    .filter((cell) => {
      const error = Math.abs(Math.atan2(cell.im, cell.re)) / (2 * Math.PI);
      return error > 0.1 || amplitude(cell) < 0.5;
    });
  return lost.length / cells.length;
}

function turned({ re, im }: Wave, turns: number): Wave {
  const [c, s] = [Math.cos(2 * Math.PI * turns), Math.sin(2 * Math.PI * turns)];
  return { re: re * c - im * s, im: im * c + re * s };
}

const STRIP_MOVE = 0.3;

describe('the Huygens integral', () => {
  it.each([
    [10, 10, 0.161, 0.161],
    [3, 20, 0.294, 0.115],
  ])(
    'over %d mm across and %d mm along at 3 m spreads in amplitude by %f and %f',
    (across, along, ...wanted) => {
      spreads(across, along).forEach((found, k) => {
        expect(Math.abs(found - wanted[k]!)).toBeLessThan(RIM_AMPLITUDE);
      });
    },
  );

  it('of a 3 mm strip whose cube is 0.3 mm off reads 0.896 of a fringe, where geometry has 0.948', () => {
    const wave = returnFromCube(given(3, 20, { move: [STRIP_MOVE, 0, 0] }), 100);
    const geometric = (2 * 3 * STRIP_MOVE) / (WAVELENGTH * S);
    expect(geometric).toBeCloseTo(0.948, 3);
    expect(Math.abs(-tiltRead((u) => wave(u, 0.2), 3) - 0.896)).toBeLessThan(RIM_FRINGES);
  });

  it.each([
    [1, 0.44],
    [2, 0.19],
    [5, 0.03],
  ])('with a roof loses at a Fresnel number of %d the share %f of a square patch', (number, lost) => {
    expect(Math.abs(lostArea(number) - lost)).toBeLessThan(0.01);
  });
});

describe('the program’s waves are those of the Huygens integral', () => {
  it.each([
    ['10 × 10 mm with a roof', given(10, 10, { roof: 1 }), 60],
    ['10 × 10 mm, the cube off both ways', given(10, 10, { move: [0.4, 0.6, 0] }), 60],
    ['3 mm across, 10 mm along, the cube off across', given(3, 10, { move: [STRIP_MOVE, 0, 0] }), 60],
    ['10 mm across, 4 mm along', given(10, 4), 60],
  ] as const)('%s', (_, huygens, nodes) => {
    const { halfAcross, halfAlong, roof = 0, move } = huygens;
    const patch: DiffractedPatch = {
      wavelength: WAVELENGTH,
      order: 1,
      distance: S,
      reference: { kind: 'cube' },
      halfWidths: [halfAcross, halfAlong],
      contains: (u, v) => Math.abs(u) <= halfAcross && Math.abs(v) <= halfAlong,
      bias: (_u, v) => ((roof / 2) * Math.abs(v)) / halfAlong,
      ...(move === undefined ? {} : { displacement: move }),
    };
    const { field, coverage } = diffractedReturn(patch, 128);
    const wave = returnFromCube(huygens, nodes);
    const [both, own, theirs] = [{ re: 0, im: 0 }, { sum: 0 }, { sum: 0 }];
    for (let row = 1; row < 16; row++) {
      for (let column = 1; column < 16; column++) {
        const [i, j] = [192 + 8 * column, 192 + 8 * row];
        const at = j * field.columns + i;
        expect(coverage[at]).toBe(1);
        const a = { re: field.re[at]!, im: field.im[at]! };
        const b = wave(sampleAt(i, 512, field.spacingX), sampleAt(j, 512, field.spacingY));
        both.re += a.re * b.re + a.im * b.im;
        both.im += a.im * b.re - a.re * b.im;
        own.sum += amplitude(a) ** 2;
        theirs.sum += amplitude(b) ** 2;
      }
    }
    // As much light, and the same picture: the correlation of two fields that differ by 3 % of their amplitude.
    expect(Math.abs(own.sum / theirs.sum - 1)).toBeLessThan(0.02);
    expect(Math.hypot(both.re, both.im) / Math.sqrt(own.sum * theirs.sum)).toBeGreaterThan(1 - 0.03 ** 2 / 2);
  });
});
