/** Patches whose light goes to no point: what their phases send where, by rays through the glass. */
import { describe, expect, it } from 'vitest';
import { designScenario } from '../../src/design/design-scenario.ts';
import { cross, length, subtract, unit, type Vec3 } from '../../src/geometry/vector.ts';
import { runToSurface, signedDistance } from '../../src/optics/datum-surface.ts';
import { along, directionFromLateral } from '../../src/optics/ray.ts';
import { readScenario } from '../../src/reading/scenario/read-scenario.ts';
import { refract } from '../independent/ray.ts';
import { DATUMS, fullBench, patchOf, ring } from '../metrology/support/full-bench.ts';

const LAMBDA = 632.8e-6;
const GLASS = { outline: { circle: { diameter: 170 } }, thickness: 6.35, index: 1.457 };

/** Lateral cosines of the leaving light by the grating equation, from the phase alone. */
function leaving(design: ReturnType<typeof fullBench>, id: string, x: number, y: number) {
  const patch = patchOf(design, id);
  const [gx, gy] = [new Float64Array(1), new Float64Array(1)];
  design.beam.eikonal.accumulateGradient(Float64Array.of(x), Float64Array.of(y), 1, gx, gy, 1);
  const [px, py] = patch.phase.gradient(x, y);
  const incident = [gx[0]!, gy[0]!] as const;
  return {
    incident,
    out: [gx[0]! + patch.order * LAMBDA * px, gy[0]! + patch.order * LAMBDA * py] as const,
  };
}

const CASES = [
  ['sphere', [57, 3]],
  ['plane', [-40, 48]],
  ['cone', [10, -67]],
  ['torus', [-30, 36]],
] as const;

describe.each(['part', 'interferometer'])('an annular datum, the pattern toward the %s', (patternFaces) => {
  it.each(CASES)('the %s is met at normal incidence, to 1e-9', (id, [x, y]) => {
    const design = fullBench({ substrate: { ...GLASS, patternFaces } });
    const { out } = leaving(design, id, x, y);
    let ray = { point: [x, y, 0] as Vec3, direction: directionFromLateral(out, 1, 1)! };
    if (patternFaces === 'interferometer') {
      const inside = directionFromLateral(out, 1.457, 1)!;
      const exit = along({ point: ray.point, direction: inside }, 6.35 / inside[2]);
      ray = { point: exit, direction: refract(inside, 1.457, 1) as Vec3 };
    }
    const { surface } = patchOf(design, id).normalIncidence!;
    const met = along(ray, runToSurface(surface, ray)!);
    expect(length(cross(signedDistance(surface, met).normal, ray.direction))).toBeLessThan(1e-9);
  });

  it.each(CASES)('the phase for the %s has its own gradient', (id, [x, y]) => {
    const { phase } = patchOf(fullBench({ substrate: { ...GLASS, patternFaces } }), id);
    const h = 1e-3;
    const [gx, gy] = phase.gradient(x, y);
    expect((phase.phase(x + h, y) - phase.phase(x - h, y)) / (2 * h)).toBeCloseTo(gx, 4);
    expect((phase.phase(x, y + h) - phase.phase(x, y - h)) / (2 * h)).toBeCloseTo(gy, 4);
  });
});

describe('a return ring', () => {
  it('sends light back the way it came: the reflected ray goes through the beam’s focus', () => {
    const design = fullBench({ substrate: { outline: { circle: { diameter: 170 } } } });
    for (const [x, y] of [
      [73, 5],
      [-20, 70],
    ] as const) {
      const { incident, out } = leaving(design, 'back', x, y);
      expect(out[0]).toBeCloseTo(-incident[0], 12);
      const back = directionFromLateral(out, 1, -1)!;
      const toFocus = unit(subtract([0, 0, -500], [x, y, 0]));
      expect(length(cross(back, toFocus))).toBeLessThan(1e-12);
    }
  });

  it('has the phase −2E_in/(mλ), whatever the order', () => {
    const back = { id: 'back', reference: 'back', focus: 'return', centre: [0, 0], outline: ring(144, 150) };
    const design = fullBench({
      patches: [{ ...back, order: -2 }],
      substrate: { outline: { circle: { diameter: 170 } } },
    });
    const path = (x: number, y: number) => Math.hypot(x, y, 500);
    const { phase } = patchOf(design, 'back');
    const expected = (-2 * (path(73, 5) - path(0, 0))) / (-2 * LAMBDA);
    expect(Math.abs(phase.phase(73, 5) - expected)).toBeLessThan(1e-6);
  });

  it('shows the bias that is asked for, met once', () => {
    const bias = { shape: 'tilt', fringes: 3 };
    const back = {
      id: 'back',
      reference: 'back',
      focus: 'return',
      centre: [0, 0],
      outline: ring(144, 150),
      bias,
    };
    const patch = patchOf(fullBench({ patches: [back] }), 'back');
    expect(patch.bias!.amplitude).toBe(3);
  });
});

describe('words that do not go together', () => {
  const codes = (patches: unknown, references?: unknown, datums: object = DATUMS) => {
    const read = readScenario(
      JSON.stringify({
        format: 'datumlight/1',
        light: { wavelength: '632.8 nm' },
        interferometer: { focus: [0, 0, -500] },
        substrate: { outline: { circle: { diameter: 170 } } },
        part: { origin: [0, 0, 300], datums },
        references: references ?? [
          { id: 'back', kind: 'return' },
          { id: 'plane', kind: 'datum', datum: 'P' },
          { id: 'cone', kind: 'datum', datum: 'C' },
        ],
        patches,
      }),
      'test.yaml',
    );
    if (read.scenario === undefined) return read.findings.map(({ rule }) => rule);
    const made = designScenario(read.scenario);
    return 'findings' in made ? made.findings.map(({ rule, path }) => [rule, ...path!.slice(1)]) : [];
  };
  const patch = (reference: string, focus: string, outline: unknown = ring(110, 118)) => ({
    id: 'p',
    reference,
    focus,
    centre: [0, 0],
    outline,
  });

  it.each([
    ['a point focus on a datum', [patch('plane', 'point')], [['conflicting-keys', 0, 'focus']]],
    ['a return to a datum', [patch('plane', 'return')], [['conflicting-keys', 0, 'focus']]],
    ['normal incidence on the interferometer', [patch('back', 'normal')], [['conflicting-keys', 0, 'focus']]],
    [
      'light that passes the axis before the cone',
      [patch('cone', 'normal', ring(20, 24))],
      [['target-behind', 0, 'id']],
    ],
    ['a line’s angle', [{ ...patch('plane', 'normal'), lineAngle: 0 }], ['conflicting-keys']],
    ['all in order', [patch('plane', 'normal'), { ...patch('back', 'return'), id: 'q' }], []],
  ])('%s', (_name, patches, expected) => {
    expect(codes(patches)).toEqual(expected);
  });

  it.each([
    ['a return with a place', { kind: 'return', at: [0, 0, 9] }, ['conflicting-keys']],
    ['a datum without a name', { kind: 'datum' }, ['missing-key']],
    ['a datum that is not there', { kind: 'datum', datum: 'X' }, ['unknown-datum']],
    ['a cylinder', { kind: 'datum', datum: 'B' }, ['bad-value']],
    [
      'a ball that is a datum',
      { kind: 'ball', diameter: 5, at: [0, 0, 99], datum: 'P' },
      ['conflicting-keys'],
    ],
  ])('%s', (_name, reference, expected) => {
    const datums = { ...DATUMS, B: { cylinder: { point: [0, 0, 0], axis: [0, 0, 1], diameter: 100 } } };
    expect(codes([], [{ id: 'r', ...reference }], datums)).toEqual(expected);
  });

  it('a plane that looks away is not met', () => {
    const datums = { ...DATUMS, P: { plane: { point: [0, 0, 0], normal: [0, 0, 1] } } };
    expect(codes([patch('plane', 'normal')], undefined, datums)).toEqual([['target-behind', 0, 'id']]);
  });
});
