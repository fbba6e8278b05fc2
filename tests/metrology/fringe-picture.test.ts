/**
 * Pictures of fringes against rays traced one by one, closed forms and diffraction: that many pixels are made from few rays shows nowhere,
 * that motions go the right way, and that the whole aperture has each patch where it is.
 */
import { readFileSync } from 'node:fs';
import { expect, test } from 'vitest';
import type { Design, DesignedPatch } from '../../src/design/design.ts';
import { designScenario } from '../../src/design/design-scenario.ts';
import { covers } from '../../src/geometry/contains.ts';
import { interiorGrid, spacingFor } from '../../src/geometry/sampling.ts';
import { dot, scale, type Vec3 } from '../../src/geometry/vector.ts';
import {
  aperturePicture,
  expectedVisibility,
  type GreyPicture,
  type PictureWishes,
  patchPicture,
} from '../../src/metrology/camera/fringe-picture.ts';
import { benchState, type Displacements } from '../../src/metrology/camera/fringe-picture-displacements.ts';
import { returnBranches, runOf } from '../../src/metrology/camera/fringe-picture-return.ts';
import { type FringeTurning, tracedStrip } from '../../src/metrology/camera/fringe-picture-strip.ts';
import { apertureWindow, patchWindow, xOf, yOf } from '../../src/metrology/camera/fringe-picture-window.ts';
import { tracedPatch, tracedReference } from '../../src/metrology/sensing/null-fringes.ts';
import { sensesOf } from '../../src/metrology/sensing/sensitivity.ts';
import { BiasPhase } from '../../src/optics/bias.ts';
import { FATES, traceRoundTrip } from '../../src/optics/round-trip.ts';
import { readScenario } from '../../src/reading/scenario/read-scenario.ts';
import { PLAIN_ORIENTATION } from '../../src/scenario/camera-orientation.ts';
import '../machine/patience.ts';
import { foldOf } from '../independent/fold.ts';
import { malitson } from '../independent/media.ts';

const designs = Object.fromEntries(
  ['converging-retroreflectors', 'diverging-balls', 'infrared-collimated'].map((name) => {
    const { scenario } = readScenario(readFileSync(`examples/${name}.yaml`, 'utf8'), name);
    const result = designScenario(scenario!);
    if ('findings' in result) throw new Error(name);
    return [name, result.design];
  }),
);
const smrs = designs['converging-retroreflectors']!;
const balls = designs['diverging-balls']!;
const PATCHES = Object.entries(designs).flatMap(([name, design]) =>
  design.patches
    .filter((patch) => sensesOf(design, patch).length > 0)
    .map((patch) => [`${name} ${patch.id}`, design, patch] as const),
);
const RETURNED = FATES.indexOf('returned');

/** The reference off its place by so many fringes along one of the patch's senses. */
const off = (design: Design, patch: DesignedPatch, fringes: number, sense = 0): Displacements => {
  const { direction, fringesPerMm } = sensesOf(design, patch)[sense]!;
  return { references: new Map([[patch.reference.id, scale(direction, fringes / fringesPerMm)]]) };
};

test.each(PATCHES)(
  '%s: few rays give W of any ray to a hundredth of a fringe, at any setting',
  (_, design, patch) => {
    for (const fringes of [0, 1, -3, 8]) {
      const displacements = off(design, patch, fringes);
      const bench = benchState(design, displacements);
      const branches = returnBranches(design, patch, bench);
      const { xs, ys } = interiorGrid(patch.outline, spacingFor(patch.outline, 300));
      const trace = traceRoundTrip(
        tracedPatch(design, patch),
        tracedReference(patch)!,
        xs,
        ys,
        bench.displacementOf(patch.reference),
      );
      const differences: number[] = [];
      for (let i = 0; i < trace.count; i++) {
        if (trace.fate[i] !== RETURNED) continue;
        const [x, y] = [trace.x[i]!, trace.y[i]!];
        const run = patch.bias === undefined ? 0 : runOf(patch.bias, xs[i]!, ys[i]!);
        if (patch.bias?.shape === 'roof' && Math.abs(run) < 1e-6) continue;
        const branch = branches.find(({ side }) => side === 0 || side * run >= 0)!;
        const bias = Float64Array.of(0);
        if (patch.bias !== undefined)
          new BiasPhase(patch.bias).accumulate(Float64Array.of(x), Float64Array.of(y), bias, 1);
        differences.push(branch.waves.at(x, y) + patch.order * bias[0]! - trace.waves[i]!);
        // A ridge apart, the ray is found to have left from where it did, too.
        expect(branch.fromX.at(x, y)).toBeCloseTo(xs[i]!, 1);
        expect(branch.fromY.at(x, y)).toBeCloseTo(ys[i]!, 1);
      }
      expect(differences.length).toBeGreaterThan(200);
      // Each has a piston of its own.
      const piston = differences.reduce((sum, d) => sum + d, 0) / differences.length;
      expect(Math.max(...differences.map((d) => Math.abs(d - piston)))).toBeLessThan(0.01);
    }
  },
);

test.each(PATCHES)('%s: the slope and bend of the fringes are those of W = 2 û·δ', (_, design, patch) => {
  for (const { sense, slope, curvature } of tracedStrip(design, patch).turnings) {
    // 2û(P)·δ/λ by differences of û.
    const { wavelength } = design.light;
    const [x0, y0] = patchWindow(patch, 1).centre;
    const h = 0.5;
    const waves = (x: number, y: number): number => {
      const to = [patch.target[0] - x, patch.target[1] - y, patch.target[2]] as const;
      const direct = (2 * dot(to, sense.direction)) / Math.hypot(...to);
      if (patch.lineDirection === undefined) return direct / wavelength;
      const along = dot(to, patch.lineDirection);
      const square = to.map((c, k) => c - along * patch.lineDirection![k]!) as unknown as Vec3;
      return (2 * dot(square, sense.direction)) / Math.hypot(...square) / wavelength;
    };
    const [right, left] = [waves(x0 + h, y0), waves(x0 - h, y0)];
    const [up, down] = [waves(x0, y0 + h), waves(x0, y0 - h)];
    const bend = (right + left + up + down - 4 * waves(x0, y0)) / (2 * h * h);
    const scaleOf = Math.max(Math.hypot(right - left, up - down) / (2 * h), Math.abs(bend) * sense.width);
    // Glass after the pattern and the finite move change it by little.
    expect(Math.abs(slope[0] - (right - left) / (2 * h))).toBeLessThan(0.04 * scaleOf);
    expect(Math.abs(slope[1] - (up - down) / (2 * h))).toBeLessThan(0.04 * scaleOf);
    if (sense.kind !== 'power') continue;
    expect(Math.abs(curvature / bend - 1)).toBeLessThan(0.1);
  }
});

const PART = { ...PLAIN_ORIENTATION, view: 'part' } as const;
const wishes: PictureWishes = { size: 96, orientation: PART };
const greyAt = ({ width, grey }: GreyPicture, column: number, row: number): number =>
  grey[row * width + column]!;

test('a line patch in place: straight bands along ê, bright on the ridge side, dark half a fringe out', () => {
  const patch = smrs.patches.find(({ id }) => id === 'north-rim')!;
  const window = patchWindow(patch, wishes.size);
  const seen = patchPicture(smrs, patch, wishes)!;
  const glass = { thickness: 6.35, index: malitson(0.6328) };
  const [, ridge] = foldOf(patch.centre, Math.PI / 2, patch.lineDirection!, patch.target, glass);
  const reach = 5 + Math.abs(ridge - patch.centre[1]);
  // One fringe from ridge to edge: dark at half of the reach, in both halves and all along x.
  for (let column = 10; column < 86; column += 5) {
    for (const side of [1, -1]) {
      const dark: number[] = [];
      for (let row = 0; row < window.rows; row++) {
        const [x, y] = [xOf(window, column), yOf(window, row)];
        const run = side * (y - ridge);
        if (run > 0 && covers(patch.outline, [x, y]) && greyAt(seen, column, row) < 20) dark.push(run);
      }
      // Within a pixel and the shift by which the roof's slope moves the rays.
      const middle = dark.reduce((sum, run) => sum + run, 0) / dark.length;
      expect(Math.abs(middle - reach / 2)).toBeLessThan(1.5 * window.pitch);
    }
  }
});

test('a move along ê tips the two halves opposite ways, and the arrowhead points where W grows', () => {
  const patch = smrs.patches.find(({ id }) => id === 'north-rim')!;
  const [{ slope }] = tracedStrip(smrs, patch).turnings as readonly [FringeTurning];
  for (const fringes of [1, -1]) {
    const seen = patchPicture(smrs, patch, { ...wishes, displacements: off(smrs, patch, fringes) })!;
    const window = patchWindow(patch, wishes.size);
    const darkRow = (column: number, upper: boolean): number => {
      const rows = Array.from({ length: 44 }, (_, k) => (upper ? 45 - k : 50 + k));
      return rows.reduce((best, row) =>
        greyAt(seen, column, row) < greyAt(seen, column, best) ? row : best,
      );
    };
    // Half-way between the dark bands of the two halves they are nearest to each other at the arrow's head.
    const gap = (column: number): number => darkRow(column, false) - darkRow(column, true);
    const headward = Math.sign(slope[0] * fringes);
    const [tail, head] = headward > 0 ? [40, 56] : [56, 40];
    expect(gap(head)).toBeLessThan(gap(tail));
    expect(window.columns).toBe(96);
  }
});

test('from the interferometer the picture is the mirror image', () => {
  const patch = balls.patches[0]!;
  const displacements = off(balls, patch, 2, 1);
  const part = patchPicture(balls, patch, { ...wishes, displacements })!;
  const other = patchPicture(balls, patch, { ...wishes, displacements, orientation: PLAIN_ORIENTATION })!;
  for (let row = 0; row < 96; row += 7)
    for (let column = 0; column < 96; column += 5)
      expect(greyAt(other, 95 - column, row)).toBe(greyAt(part, column, row));
});

test.each(Object.entries(designs))(
  '%s: the whole aperture has light in the patches and nowhere else',
  (_, design) => {
    const bare = { ...design, scenario: { ...design.scenario, keepOuts: [] } };
    const size = 240;
    const seen = aperturePicture(bare, { size, orientation: PART });
    const window = apertureWindow(design, size);
    const lit = new Map(design.patches.map(({ id }) => [id, 0]));
    for (let row = 0; row < size; row++) {
      for (let column = 0; column < size; column++) {
        if (greyAt(seen, column, row) === 0) continue;
        const at = [xOf(window, column), yOf(window, row)] as const;
        const owner = design.patches.find(({ outline }) => covers(outline, at));
        if (owner !== undefined) lit.set(owner.id, lit.get(owner.id)! + 1);
        // The substrate's edge alone is drawn elsewhere.
        else expect(greyAt(seen, column, row)).toBe(Math.round(255 * 0.35));
      }
    }
    for (const patch of design.patches) {
      const returns = sensesOf(design, patch).length > 0;
      expect(lit.get(patch.id)! > 20).toBe(returns);
    }
  },
);

test('the part carries along every reference about its own origin', () => {
  const turn = 1e-4;
  const bench = benchState(smrs, { part: { translation: [0.01, 0, 0], rotation: [0, 0, turn] } });
  for (const reference of smrs.references) {
    const [dx, dy, dz] = bench.displacementOf(reference);
    expect(dx).toBeCloseTo(0.01 - turn * reference.at[1], 5);
    expect(dy).toBeCloseTo(turn * reference.at[0], 5);
    expect(dz).toBeCloseTo(0, 9);
  }
});

test('a hologram that moves with the beam and the references as one shows nothing', () => {
  // Collimated light is the same everywhere: a shift of hologram and references together changes no fringe.
  const design = designs['infrared-collimated']!;
  const shift: Vec3 = [0.3, -0.2, 0.1];
  const references = new Map(design.references.map(({ id }) => [id, shift]));
  const hologram = { translation: shift, rotation: [0, 0, 0] as Vec3 };
  const { incident, displacementOf } = benchState(design, { references, hologram });
  for (const reference of design.references)
    for (const part of displacementOf(reference)) expect(Math.abs(part)).toBeLessThan(1e-12);
  const xs = Float64Array.of(1, 20, -30);
  const ys = Float64Array.of(5, -40, 10);
  const waves = (eikonal: typeof incident): Float64Array => {
    const out = new Float64Array(3);
    eikonal.accumulate(xs, ys, 1, out, 3);
    return out;
  };
  expect(waves(incident)).toEqual(waves(design.beam.eikonal));
});

test('a hologram shifted in a diverging beam: as traced, as by diffraction', () => {
  // The picture of a ball's patch in either model; the diffracted one is smooth where the traced one has edges.
  const patch = balls.patches[0]!;
  const hologram = { translation: [0.01, 0.004, 0] as Vec3, rotation: [0, 0, 0] as Vec3 };
  const traced = patchPicture(balls, patch, { ...wishes, displacements: { hologram } })!;
  const likeness = (displacements: Displacements): number =>
    correlation(
      traced.grey,
      patchPicture(balls, patch, { ...wishes, diffraction: true, displacements })!.grey,
    );
  expect(likeness({ hologram })).toBeGreaterThan(0.75);
  // And it is no accident: the shift the other way looks different.
  const back = scale(hologram.translation, -1);
  expect(likeness({ hologram: { ...hologram, translation: back } })).toBeLessThan(0.5);
});

test('camera-like: the contrast of the pattern’s efficiency, the camera’s pixels, noise only where asked', () => {
  const patch = balls.patches[0]!;
  const clean = patchPicture(balls, patch, { size: 256, orientation: PART, camera: {} })!;
  const inside = [...clean.grey].filter((grey) => grey > 0);
  const [least, most] = [Math.min(...inside), Math.max(...inside)];
  const visibility = expectedVisibility(balls, patch);
  expect(visibility).toBeGreaterThan(0.5);
  expect(visibility).toBeLessThan(1);
  expect(most).toBeGreaterThan(250);
  expect(least / most).toBeCloseTo((1 - visibility) / (1 + visibility), 1);
  const noisy = (seed: string): GreyPicture =>
    patchPicture(balls, patch, { size: 256, orientation: PART, camera: { noise: 0.02, seed } })!;
  expect(noisy('a').grey).toEqual(noisy('a').grey);
  expect(noisy('a').grey).not.toEqual(noisy('b').grey);
});

test('a screen sends nothing back: no picture', () => {
  const patch = balls.patches[0]!;
  const screen = { ...patch, reference: { ...patch.reference, kind: 'screen' } } as DesignedPatch;
  expect(patchPicture(balls, screen, wishes)).toBeUndefined();
});

function correlation(a: Uint8Array, b: Uint8Array): number {
  const mean = (values: Uint8Array): number => values.reduce((sum, value) => sum + value, 0) / values.length;
  const [ma, mb] = [mean(a), mean(b)];
  let [ab, aa, bb] = [0, 0, 0];
  for (let i = 0; i < a.length; i++) {
    ab += (a[i]! - ma) * (b[i]! - mb);
    aa += (a[i]! - ma) ** 2;
    bb += (b[i]! - mb) ** 2;
  }
  return ab / Math.sqrt(aa * bb);
}
