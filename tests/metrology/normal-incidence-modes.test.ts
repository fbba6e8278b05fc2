/** Annular datums and the return ring: what they show of motions, in closed form, to first order, and traced in earnest. */

import { describe, expect, it } from 'vitest';
import type { Design } from '../../src/design/design.ts';
import { setupOf } from '../../src/design/setup.ts';
import { dot, type Vec3 } from '../../src/geometry/vector.ts';
import { kindOf } from '../../src/kinds/kinds.ts';
import { misalignments } from '../../src/metrology/budget/hologram-alignment.ts';
import { COMMON_PRACTICE } from '../../src/metrology/budget/practice.ts';
import { readingsOf } from '../../src/metrology/budget/readings.ts';

import { normalIncidenceWaves } from '../../src/metrology/rings/normal-incidence-fringes.ts';
import { countedPoints, harmlessTilt } from '../../src/metrology/rings/return-ring.ts';

import { fresnelNumberOf } from '../../src/metrology/sensing/fresnel.ts';
import { apparentMode, normalIncidenceModes } from '../../src/metrology/sensing/normal-incidence-modes.ts';
import { fringesAtNull } from '../../src/metrology/sensing/null-fringes.ts';
import { movedSurface } from '../../src/optics/datum-surface.ts';
import { applyRules } from '../../src/rules/all-rules.ts';
import { pointPatch } from './support/design-from.ts';
import { fullBench, patchOf, ring } from './support/full-bench.ts';
import { normalIncidenceFringes, partPose, returnRingFringes } from './support/reported.ts';

const LAMBDA = 632.8e-6;
const design = fullBench();
const DATUM_IDS = ['sphere', 'plane', 'cone', 'torus'] as const;

describe('fringes of an annular datum for decentre and tilt', () => {
  const of = (id: string) => normalIncidenceFringes(design, patchOf(design, id))!;

  it('on a plane: 2Dθ/λ for a tilt, nothing for a move in it', () => {
    expect(of('plane').fringesPerUrad.rx).toBeCloseTo((2 * 128e-6) / LAMBDA, 2);
    expect(of('plane').fringesPerUm.x).toBeLessThan(1e-6);
    expect(of('plane').fringesPerUrad.rz).toBeLessThan(1e-6);
  });

  it('on a cone: 4q cos α/λ from one side to the other for a decentre, nothing for a move along the axis', () => {
    expect(of('cone').fringesPerUm.x).toBeCloseTo((4e-3 * Math.cos((80 * Math.PI) / 180)) / LAMBDA, 3);
    expect(of('cone').fringesPerUm.z).toBeLessThan(1e-6);
  });

  it('on a sphere: 4q sin θ/λ for a decentre, the same for a tilt about an axis h off its centre, q = hθ', () => {
    const sine = 59 / Math.hypot(59, 400);
    expect(of('sphere').fringesPerUm.x).toBeCloseTo((4e-3 * sine) / LAMBDA, 3);
    expect(of('sphere').fringesPerUrad.rx).toBeCloseTo(of('sphere').fringesPerUm.x * 0.1, 4);
  });

  it('on a torus: 4q sin θ/λ at the edge of the patch', () => {
    const sine = (50 - 35) / Math.hypot(50 - 35, 320);
    expect(of('torus').fringesPerUm.x).toBeCloseTo((4e-3 * sine) / LAMBDA, 3);
  });
});

describe('the pictures that an annular datum is read by', () => {
  const motions: readonly (readonly [Vec3, Vec3])[] = [
    [
      [1e-3, -2e-3, 5e-3],
      [0, 0, 0],
    ],
    [
      [0, 0, 0],
      [3e-6, 1e-6, 2e-6],
    ],
    [
      [1e-3, 1e-3, -1e-3],
      [-2e-6, 4e-6, 0],
    ],
  ];

  it.each(DATUM_IDS)('%s: add up to the traced fringes of any small motion', (id) => {
    const patch = patchOf(design, id);
    const { modes, xs } = normalIncidenceModes(design, patch);
    const surface = patch.normalIncidence!.surface;
    const origin = design.scenario.part.frame.origin;
    for (const [move, turn] of motions) {
      const still: Vec3 = [0, 0, 0];
      const rest = normalIncidenceWaves(design, patch, still, still);
      const traced = normalIncidenceWaves(design, patch, move, turn).map((waves, i) => waves - rest[i]!);
      // The move of the feature's own point, for a turn about the part's origin.
      const [rx, ry, rz] = [0, 1, 2].map((k) => surface.point[k]! - origin[k]!) as [number, number, number];
      const own: Vec3 = [
        move[0] + turn[1] * rz - turn[2] * ry,
        move[1] + turn[2] * rx - turn[0] * rz,
        move[2] + turn[0] * ry - turn[1] * rx,
      ];
      const amplitudes = modes.map(({ force, moment }) => dot(force, own) + dot(moment, turn));
      const mean = traced.reduce((sum, waves) => sum + waves, 0) / traced.length;
      const largest = Math.max(...traced.map((waves) => Math.abs(waves - mean)), 1e-3);
      traced.forEach((waves, i) => {
        const added = modes.reduce(
          (sum, { picture }, k) => sum + (2 * amplitudes[k]! * picture[i]!) / LAMBDA,
          0,
        );
        // Second order, and modes too faint to be read (less than a reading for the reach of the eye).
        expect(Math.abs(waves - mean - added)).toBeLessThan(2e-3 * largest + 1e-3);
      });
    }
    expect(countedPoints(patch).xs).toEqual(xs);
  });

  it.each(DATUM_IDS)('%s: a wave aimed at the moved feature reads as that motion', (id) => {
    const patch = patchOf(design, id);
    const { surface, wave } = patch.normalIncidence!;
    const all = normalIncidenceModes(design, patch);
    const [move, turn]: [Vec3, Vec3] = [
      [2e-3, -1e-3, 4e-3],
      [3e-6, -2e-6, 0],
    ];
    const moved = movedSurface(surface, move, turn, surface.point);
    const setup = { ...setupOf(design.scenario, design.beam, design.glass), surfaceOf: () => moved };
    const elsewhere = kindOf(patch.reference).leaving(patch.reference, setup);
    const change = (x: number, y: number): number => {
      const out = new Float64Array(1);
      elsewhere.accumulate(Float64Array.of(x), Float64Array.of(y), 1, out, 1);
      wave.accumulate(Float64Array.of(x), Float64Array.of(y), -1, out, 1);
      return out[0]!;
    };
    for (const mode of all.modes) {
      const amplitude = dot(mode.force, move) + dot(mode.moment, turn);
      expect(Math.abs(apparentMode(all, mode, change) - amplitude)).toBeLessThan(2e-5);
    }
  });

  it('are none of a patch that meets no feature', () => {
    expect(normalIncidenceModes(design, patchOf(design, 'spot')).modes).toEqual([]);
  });
});

describe('what annular datums tell of the part', () => {
  const pose = (...ids: string[]) => {
    const { scenario } = design;
    const words = {
      references: scenario.references
        .filter(({ id }) => ids.includes(id))
        .map(({ id, kind, datum }) => ({ id, kind, datum })),
      patches: scenario.patches
        .filter(({ id }) => ids.includes(id))
        .map(({ id, outline }) => ({
          id,
          reference: id,
          focus: 'normal',
          centre: [0, 0],
          outline: outline.shape === 'ring' ? ring(2 * outline.inner, 2 * outline.outer) : {},
        })),
    };
    return partPose(fullBench(words));
  };

  it('a plane leaves its three motions free and the distance, which is a piston; a sphere its three turns; both only the spin', () => {
    expect(pose('plane').unobserved).toEqual(['x', 'y', 'z', 'rz']);
    expect(pose('plane').sigma.rx).not.toBeNull();
    expect(pose('sphere').freeMotions).toHaveLength(3);
    const both = pose('cone', 'plane');
    expect(both.unobserved).toEqual(['z', 'rz']);
    expect(pose('sphere', 'plane').freeMotions).toEqual(["to turn about the part's z axis"]);
  });

  it('to what a reading of the picture resolves: a plane’s tilt to rλ/2D', () => {
    expect(pose('plane').sigma.rx! * 1e-6).toBeCloseTo((0.1 * LAMBDA) / (2 * 128), 8);
  });

  it('with every term of the budget, and no nest or ball', () => {
    const { budget } = pose('sphere', 'plane');
    const terms = budget.terms.map(({ term }) => term);
    for (const absent of ['nest', 'ball form', 'ball radius', 'apex centring'])
      expect(terms).not.toContain(absent);
    expect(terms).toContain('hologram alignment');
    expect(budget.combined.x!).toBeGreaterThan(pose('sphere', 'plane').sigma.x!);
  });
});

describe('a patch on a datum', () => {
  it('has the Fresnel number of a mirror as curved: a²/(2λL) on a plane, the ball’s on a sphere', () => {
    expect(fresnelNumberOf(design, patchOf(design, 'plane'))?.number).toBeCloseTo(4 / (2 * LAMBDA * 300), 6);
    // Seen at an angle the way to the sphere is √(59² + 400²) − 130 long from the patch's edge.
    const s = Math.hypot(59, 400);
    expect(fresnelNumberOf(design, patchOf(design, 'sphere'))?.number).toBeCloseTo(
      (4 * 130) / (2 * LAMBDA * s * (s - 130)),
      6,
    );
  });

  it.each(['back', 'plane', 'cone'])('%s shows the bias that is asked for, by trace', (id) => {
    const asked = patchOf(design, id).asked;
    const outline =
      asked.outline.shape === 'ring' ? ring(2 * asked.outline.inner, 2 * asked.outline.outer) : {};
    const patch = {
      id,
      reference: id,
      focus: asked.focus,
      centre: [0, 0],
      outline,
      bias: { shape: 'tilt', fringes: 2 },
    };
    const biased = fullBench({ patches: [patch] });
    expect(fringesAtNull(biased, patchOf(biased, id))).toBeCloseTo(2, 2);
    expect(fringesAtNull(design, patchOf(design, id))).toBeCloseTo(0, 6);
  });

  it('breaks no rule by being what it is', () => {
    const errors = applyRules(design).filter(({ severity }) => severity === 'error');
    expect(errors.map(({ message }) => message)).toEqual([]);
  });

  it('is blocked by what stands before its feature, not by the feature', () => {
    const datum = { origin: [0, 0, 300], datums: { P: { plane: { point: [0, 0, 0], normal: [0, 0, -1] } } } };
    const solid = (z: number) => [
      { cylinder: { point: [0, 0, z], axis: [0, 0, 1], diameter: 200, length: 50 } },
    ];
    const rules = (z: number) =>
      applyRules(
        fullBench({
          part: { ...datum, envelope: solid(z) },
          references: [{ id: 'plane', kind: 'datum', datum: 'P' }],
          patches: [
            { id: 'plane', reference: 'plane', focus: 'normal', centre: [0, 0], outline: ring(120, 128) },
          ],
        }),
      ).map(({ rule }) => rule);
    expect(rules(0)).not.toContain('blocked');
    expect(rules(-20)).toContain('blocked');
  });
});

describe('the return ring', () => {
  const shown = returnRingFringes(design, patchOf(design, 'back'))!;

  it('shows 2Dθ/λ for a tilt about the beam’s focus, and a decentre as a tilt by T/|F_z|', () => {
    // About the pattern, a tilt displaces the focus by |F_z|θ.
    expect(shown.fringesPerUrad.rx).toBeCloseTo((2e-6 * 150) / LAMBDA, 1);
    expect(shown.fringesPerUm.x / shown.fringesPerUrad.ry).toBeCloseTo(1000 / 500, 2);
    expect(shown.fringesPerUrad.rz).toBeLessThan(1e-6);
  });

  it('shows an axial move as 2(cos θ₁ − cos θ₂)/λ from its inner to its outer edge', () => {
    const bare = fullBench({ substrate: { outline: { circle: { diameter: 170 } } } });
    const [inner, outer] = [72, 75].map((radius) => 500 / Math.hypot(radius, 500)) as [number, number];
    expect(returnRingFringes(bare, patchOf(bare, 'back'))!.fringesPerUm.z).toBeCloseTo(
      (2e-3 * (inner - outer)) / LAMBDA,
      5,
    );
  });

  it('narrows the hologram’s alignment in the budget to its own width', () => {
    const readings = readingsOf(design);
    const [byRing] = misalignments(design, readings, COMMON_PRACTICE);
    const [byBeam] = misalignments(design, readings, COMMON_PRACTICE, design.beam.cameraDiameter);
    expect(byRing!.u / byBeam!.u).toBeCloseTo(design.beam.cameraDiameter / 150, 9);
  });
});

describe('harmless tilt of the hologram', () => {
  it('is a couple of fringes over the aperture for balls near by (common practice, no source beyond the trade)', () => {
    const balls: Design = fullBench({
      references: [{ id: 'b', kind: 'ball', diameter: 12.7, at: [0, 84, 130] }],
      patches: [pointPatch('p', 'b', [0, 59], 12)],
    });
    const { fringes, limitedBy } = harmlessTilt(balls)!;
    expect(fringes).toBeGreaterThan(1);
    expect(limitedBy).toMatch(/^p /);
    // By definition: so many fringes of tilt move the projected ball, less the common turn, by what a reading resolves.
    const readings = readingsOf(balls);
    const practice = { ...COMMON_PRACTICE, alignmentReading: fringes };
    const moved = misalignments(balls, readings, practice, balls.beam.cameraDiameter)
      .filter(({ name }) => name !== 'z')
      .flatMap(({ u, effects: { at, by } }) =>
        at.map((number, k) => Math.abs(u * by[k]!) / readings[number]!.u),
      );
    expect(Math.max(...moved)).toBeCloseTo(1, 9);
  });

  it('says nothing where nothing is read', () => {
    expect(harmlessTilt(fullBench({ patches: [] }))).toBeUndefined();
  });
});
