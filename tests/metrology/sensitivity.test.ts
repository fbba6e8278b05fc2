/** What patches sense: the figures of common practice, and the closed forms against the round trip's exact path difference. */
import { describe, expect, it } from 'vitest';
import type { Design, DesignedPatch } from '../../src/design/design.ts';
import { interiorGrid } from '../../src/geometry/sampling.ts';
import { dot, scale, squareTo, subtract, unit, type Vec3 } from '../../src/geometry/vector.ts';
import { pixelPitch } from '../../src/metrology/sensing/camera-pixels.ts';
import { EYE_SETTING, sensesOf, sensitivityRow } from '../../src/metrology/sensing/sensitivity.ts';
import { designFrom, linePatch, pointPatch } from './support/design-from.ts';

/** One SMR straight ahead, one patch at the origin. */
function ahead(distance: number, width: number): { design: Design; patch: DesignedPatch } {
  const design = designFrom({
    references: [{ id: 'r', kind: 'smr', diameter: 38.1, at: [0, 0, distance] }],
    patches: [linePatch('p', 'r', [0, 0], 90, width)],
  });
  return { design, patch: design.patches[0]! };
}

const oblique = designFrom({
  references: [
    { id: 'smr', kind: 'smr', diameter: 38.1, at: [120, 260, 1900] },
    { id: 'ball', kind: 'ball', diameter: 12.7, at: [-30, 70, 160] },
    { id: 'mark', kind: 'screen', at: [0, 0, 500] },
  ],
  patches: [
    linePatch('line', 'smr', [20, 40], 25),
    pointPatch('point', 'ball', [-30, 20], 12),
    pointPatch('seen', 'mark', [0, -50]),
  ],
});
const [line, point, seen] = oblique.patches as [DesignedPatch, DesignedPatch, DesignedPatch];

describe('resolution in common practice, a tenth of a fringe at 632.8 nm', () => {
  it.each([
    [10, 3000, 9.49, 10],
    [25, 10_000, 12.66, 12.5],
  ])('a %d mm patch resolves at %d mm: %f µm, about %f', (width, distance, computed, practice) => {
    const { design, patch } = ahead(distance, width);
    const [sense] = sensesOf(design, patch);
    expect(sense!.resolution * 1000).toBeCloseTo(computed, 1);
    expect(Math.abs(sense!.resolution * 1000 - practice)).toBeLessThan(0.06 * practice);
    expect(dot(sense!.direction, [1, 0, 0])).toBeCloseTo(1, 15);
  });
});

/**
 * Exact round-trip path difference in waves for a reference moved by δ: E_out(P; A) − E_out(P; A + 2δ), by distances alone.
 */
function pathDifference(
  design: Design,
  patch: DesignedPatch,
  move: Vec3,
  [x, y]: readonly [number, number],
): number {
  const out = (target: Vec3): number => {
    const d = subtract([x, y, 0], target);
    const across = patch.lineDirection === undefined ? d : squareTo(d, patch.lineDirection);
    return -Math.sqrt(dot(across, across));
  };
  const moved: Vec3 = [0, 1, 2].map((k) => patch.target[k]! + 2 * move[k]!) as unknown as Vec3;
  return (out(patch.target) - out(moved)) / design.light.wavelength;
}

describe('fringes for a move', () => {
  it.each([
    ['line', line, 0],
    ['point, first', point, 0],
    ['point, second', point, 1],
  ] as const)('%s: tilt across the width as in the exact path difference', (_name, patch, k) => {
    const sense = sensesOf(oblique, patch)[k]!;
    const move = 1e-3;
    // The least-squares slope along ê over the patch, times its width, is the number of tilt fringes.
    const { xs, ys } = interiorGrid(patch.outline, 1);
    const other = patch.lineDirection ?? patch.senses[1 - k]!;
    const along = (x: number, y: number, v: Vec3): number =>
      (x - patch.centre[0]) * v[0] + (y - patch.centre[1]) * v[1];
    const sums = { ww: 0, wv: 0, vv: 0, wN: 0, vN: 0 };
    let mean = 0;
    const opd = [...xs].map((x, i) =>
      pathDifference(oblique, patch, scale(sense.direction, move), [x, ys[i]!]),
    );
    for (const value of opd) mean += value / opd.length;
    opd.forEach((value, i) => {
      const [w, v] = [along(xs[i]!, ys[i]!, sense.direction), along(xs[i]!, ys[i]!, other)];
      sums.ww += w * w;
      sums.wv += w * v;
      sums.vv += v * v;
      sums.wN += w * (value - mean);
      sums.vN += v * (value - mean);
    });
    const slope = (sums.wN * sums.vv - sums.vN * sums.wv) / (sums.ww * sums.vv - sums.wv * sums.wv);
    const fringes = Math.abs(slope) * sense.width;
    expect(Math.abs(fringes / (sense.fringesPerMm * move) - 1)).toBeLessThan(2e-3);
  });

  it('power: at the edge against the centre, for a patch that looks straight at its ball', () => {
    const design = designFrom({
      references: [{ id: 'b', kind: 'ball', diameter: 12.7, at: [0, 0, 200] }],
      patches: [pointPatch('p', 'b', [0, 0], 12)],
    });
    const patch = design.patches[0]!;
    const sense = sensesOf(design, patch)[2]!;
    expect(sense.kind).toBe('power');
    const move = scale(sense.direction, 1e-3);
    const edge = pathDifference(design, patch, move, [6, 0]) - pathDifference(design, patch, move, [0, 0]);
    expect(Math.abs(Math.abs(edge) / (sense.fringesPerMm * 1e-3) - 1)).toBeLessThan(2e-3);
  });

  it('none along the line and along the ray, to first order', () => {
    for (const direction of [line.lineDirection!, line.chiefRay]) {
      const change = (at: readonly [number, number]): number =>
        pathDifference(oblique, line, scale(direction, 1e-3), at) -
        pathDifference(oblique, line, scale(direction, 1e-3), line.centre);
      const strong = sensesOf(oblique, line)[0]!.fringesPerMm * 1e-3;
      expect(Math.abs(change([line.centre[0] + 4, line.centre[1] + 4]))).toBeLessThan(0.01 * strong);
    }
  });

  it('nothing from a screen', () => {
    expect(sensesOf(oblique, seen)).toEqual([]);
  });
});

describe('capture range', () => {
  const biased = designFrom({
    references: [{ id: 'r', kind: 'smr', diameter: 38.1, at: [40, 150, 1200] }],
    patches: [{ ...linePatch('p', 'r', [10, 50], 70), bias: { shape: 'roof', fringes: 3 } }],
  });

  it.each([
    ['a line', oblique, line],
    ['a roof', biased, biased.patches[0]!],
  ] as const)('of %s is where the steepest fringes come to half a fringe a pixel', (_name, design, patch) => {
    const sense = sensesOf(design, patch)[0]!;
    const step = 1e-3;
    const move = scale(sense.direction, sense.captureRange);
    const bias = (x: number, y: number): number => {
      const b = patch.bias;
      if (b === undefined) return 0;
      const w = (x - b.centre[0]) * b.direction[0] + (y - b.centre[1]) * b.direction[1];
      return (b.fringes * Math.abs(w)) / b.reach;
    };
    const seenAt = (x: number, y: number, sign: number): number =>
      sign * pathDifference(design, patch, move, [x, y]) + bias(x, y);
    let steepest = 0;
    for (const side of [-1, 1]) {
      for (const sign of [-1, 1]) {
        const x = patch.centre[0] + side * 0.01 * (patch.bias?.direction[0] ?? 1);
        const y = patch.centre[1] + side * 0.01 * (patch.bias?.direction[1] ?? 0);
        const gx = (seenAt(x + step, y, sign) - seenAt(x - step, y, sign)) / (2 * step);
        const gy = (seenAt(x, y + step, sign) - seenAt(x, y - step, sign)) / (2 * step);
        steepest = Math.max(steepest, Math.hypot(gx, gy));
      }
    }
    // The exact path difference bends a little over a move of millimetres.
    expect(Math.abs(steepest * pixelPitch(design) - 0.5)).toBeLessThan(0.005);
  });

  it('of an SMR at 3 m is beyond the reach of setting by eye', () => {
    const { design, patch } = ahead(3000, 10);
    expect(sensesOf(design, patch)[0]!.captureRange).toBeGreaterThan(EYE_SETTING.poor);
  });

  it('is nothing where the bias alone fills the camera', () => {
    const design = designFrom({
      interferometer: { focus: [0, 0, -500], fNumber: 3.2, pixelsAcrossBeam: 60 },
      references: [{ id: 'r', kind: 'smr', diameter: 38.1, at: [0, 0, 1000] }],
      patches: [{ ...linePatch('p', 'r', [0, 0], 90), bias: { shape: 'roof', fringes: 1 } }],
    });
    expect(sensesOf(design, design.patches[0]!)[0]!.captureRange).toBe(0);
  });
});

describe('a row of six', () => {
  it('is the change of ê·r under a small motion of the body', () => {
    const [direction, at] = [unit([1, 2, -0.5]), [30, -80, 120]] as const;
    const row = sensitivityRow(direction, at as unknown as Vec3);
    const [turn, h] = [[0.3, -0.2, 0.9] as const, 1e-6];
    // The exact rotation by h about `turn`, by Rodrigues' formula.
    const axis = unit(turn);
    const angle = h * Math.hypot(...turn);
    const [c, s] = [Math.cos(angle), Math.sin(angle)];
    const cross = [
      axis[1] * at[2] - axis[2] * at[1],
      axis[2] * at[0] - axis[0] * at[2],
      axis[0] * at[1] - axis[1] * at[0],
    ];
    const along = axis[0] * at[0] + axis[1] * at[1] + axis[2] * at[2];
    const moved = at.map((r, k) => r * c + cross[k]! * s + axis[k]! * along * (1 - c));
    const exact = moved.reduce((sum, r, k) => sum + direction[k]! * (r - at[k]!), 0) / h;
    expect(turn.reduce((sum, part, k) => sum + row[3 + k]! * part, 0)).toBeCloseTo(exact, 3);
  });
});
