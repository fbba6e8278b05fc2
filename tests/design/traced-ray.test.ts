/**
 * The whole phase against a plain ray trace: light from the interferometer's focus through the glass by Snell's law, over the
 * pattern by the grating equation with the phase's own gradient, through the glass again if it comes after, and straight on.
 * Every ray must come within 1 nm of its target. The phase itself is tested against paths found by brute force.
 */
import { describe, expect, test } from 'vitest';
import type { DesignedGlass, DesignedPatch } from '../../src/design/design.ts';
import { designPatch } from '../../src/design/design-patch.ts';
import { incidentBeam } from '../../src/design/incident-beam.ts';
import type { Patch, Reference, Scenario } from '../../src/scenario/scenario.ts';
import { type Place, pathThroughEntry, pathThroughExit, toLine } from '../independent/fermat.ts';
import { dot, fromCosines, minus, normed, refract, size, toPlane, type Vector } from '../independent/ray.ts';
import { setupIn } from './support/make-patch.ts';

const NANOMETRE = 1e-6;
/** Agreement asked of phases with an independent reference, waves. */
const PHASE_ERROR = 2e-4;

type Beam = Scenario['interferometer']['beam'];
const BEAMS: Record<string, Beam> = {
  diverging: { kind: 'diverging', focus: [4, -3, -480] },
  converging: { kind: 'converging', focus: [0, 2, 1100] },
  collimated: { kind: 'collimated', direction: normed([0.02, -0.01, 1]) },
};
const GLASSES: Record<string, DesignedGlass> = {
  'no glass': { name: 'none', index: 1, thickness: 0, side: 'before' },
  'glass before': { name: 'x', index: 1.457, thickness: 6.35, side: 'before' },
  'glass after': { name: 'x', index: 1.507, thickness: 9, side: 'after' },
};
const TARGETS: Record<string, { at: Place; focus: 'point' | 'line'; lineAngle?: number }> = {
  'near point': { at: [20, 90, 130], focus: 'point' },
  'far line': { at: [-120, 260, 2900], focus: 'line', lineAngle: 1.1 },
  'oblique line': { at: [300, 40, 420], focus: 'line', lineAngle: 0.4 },
};
const LIGHT: readonly (readonly [wavelength: number, order: number])[] = [
  [532e-6, 1],
  [632.8e-6, -1],
  [1064e-6, 1],
  [1064e-6, -2],
];

const OFFSETS = [-6, -2.5, 0, 3, 6];
const CENTRE = [8, 57] as const;

function make(
  beam: Beam,
  glass: DesignedGlass,
  target: (typeof TARGETS)[string],
  wavelength: number,
  order: number,
): DesignedPatch {
  const reference: Reference = {
    id: 'r',
    kind: 'smr',
    diameter: 38.1,
    at: target.at,
    given: 'substrate',
    touches: [],
    cube: {},
  };
  const patch: Patch = {
    id: 'p',
    reference: 'r',
    focus: target.focus,
    centre: CENTRE,
    outline: { shape: 'rectangle', centre: CENTRE, width: 12, height: 12, rotation: 0 },
    lineAngle: target.lineAngle,
    order,
    bias: undefined,
  };
  const incident = incidentBeam(scenarioWith(beam), glass);
  if ('severity' in incident) throw new Error(incident.message);
  return designPatch(patch, reference, setupIn(incident.eikonal, glass), wavelength);
}

/** As much of a scenario as the beam needs. */
const scenarioWith = (beam: Beam): Scenario =>
  ({
    interferometer: {
      beam,
      fNumber: undefined,
      beamDiameter: undefined,
      pixelsAcrossBeam: 1000,
      readable: 0.1,
    },
    substrate: { outline: { shape: 'circle', centre: [0, 0], radius: 75 } },
  }) as unknown as Scenario;

/** The lateral optical cosines with which light arrives at the pattern, found by shooting rays from the focus. */
function arriving(beam: Beam, glass: DesignedGlass, x: number, y: number): readonly [number, number] {
  if (beam.kind === 'collimated') return [beam.direction[0], beam.direction[1]];
  const before = glass.side === 'before' ? glass.thickness : 0;
  const sign = beam.kind === 'diverging' ? 1 : -1;
  let aim: Vector = [x, y, -before];
  for (let turn = 0; turn < 60; turn++) {
    const direction = normed(minus(aim, beam.focus).map((c) => c * sign) as unknown as Vector);
    const inside = refract(direction, 1, glass.index);
    const lands = before === 0 ? aim : toPlane(aim, inside, 0).at;
    const miss = [x - lands[0], y - lands[1]];
    if (Math.hypot(...miss) < 1e-13 || before === 0) return [direction[0], direction[1]];
    aim = [aim[0] + miss[0], aim[1] + miss[1], -before];
  }
  throw new Error('no ray arrives');
}

/** The independent phase, from paths by brute force; less that at the centre. */
function referencePhase(
  beam: Beam,
  glass: DesignedGlass,
  patch: DesignedPatch,
  wavelength: number,
  x: number,
  y: number,
): number {
  const phase = (px: number, py: number): number => {
    const at: Place = [px, py, 0];
    const inAir = (q: Place): number =>
      patch.lineDirection === undefined
        ? size(minus(q, patch.target))
        : toLine(q, patch.target, patch.lineDirection);
    const out = glass.side === 'after' ? pathThroughExit(at, glass.thickness, glass.index, inAir) : inAir(at);
    return (-out - incidentPath(beam, glass, at)) / (patch.order * wavelength);
  };
  return phase(x, y) - phase(...CENTRE);
}

function incidentPath(beam: Beam, glass: DesignedGlass, at: Place): number {
  if (beam.kind === 'collimated') return dot(at, beam.direction);
  const sign = beam.kind === 'diverging' ? 1 : -1;
  if (glass.side === 'after' || glass.thickness === 0) return sign * size(minus(at, beam.focus));
  return pathThroughEntry(beam.focus, sign, at, glass.thickness, glass.index);
}

for (const [beamName, beam] of Object.entries(BEAMS))
  for (const [glassName, glass] of Object.entries(GLASSES))
    for (const [targetName, target] of Object.entries(TARGETS))
      describe(`${beamName}, ${glassName}, ${targetName}`, () => {
        test.each(LIGHT)('λ %d mm, order %d: rays arrive, phases agree', (wavelength, order) => {
          const patch = make(beam, glass, target, wavelength, order);
          for (const dx of OFFSETS)
            for (const dy of OFFSETS) {
              const [x, y] = [CENTRE[0] + dx, CENTRE[1] + dy];
              const [gx, gy] = patch.phase.gradient(x, y);
              const [px, py] = arriving(beam, glass, x, y);
              const [kx, ky] = [px + order * wavelength * gx, py + order * wavelength * gy];
              let place: Vector = [x, y, 0];
              if (glass.side === 'after')
                place = toPlane(place, fromCosines(kx, ky, glass.index), glass.thickness).at;
              const direction = fromCosines(kx, ky, 1);
              expect(miss(place, direction, patch)).toBeLessThan(NANOMETRE);
              const wanted = referencePhase(beam, glass, patch, wavelength, x, y);
              expect(Math.abs(patch.phase.phase(x, y) - wanted)).toBeLessThan(PHASE_ERROR);
            }
        });
      });

/** How far the ray passes from the target point, or from the line (distance of two skew lines). */
function miss(place: Vector, direction: Vector, patch: DesignedPatch): number {
  const d = minus(patch.target, place);
  if (patch.lineDirection === undefined) {
    const run = dot(d, direction);
    return size(minus(d, direction.map((c) => c * run) as unknown as Vector));
  }
  const [a, b] = [direction, patch.lineDirection];
  const normal: Vector = [a[1] * b[2] - a[2] * b[1], a[2] * b[0] - a[0] * b[2], a[0] * b[1] - a[1] * b[0]];
  return Math.abs(dot(d, normal)) / size(normal);
}

test('the order divides the phase: order 2 carries half the waves of order 1, order -1 the same waves reversed', () => {
  const at = [CENTRE[0] + 4, CENTRE[1] - 3] as const;
  const of = (order: number): number =>
    make(BEAMS.diverging, GLASSES['glass before'], TARGETS['far line'], 632.8e-6, order).phase.phase(...at);
  expect(of(2)).toBeCloseTo(of(1) / 2, 8);
  expect(of(-1)).toBeCloseTo(-of(1), 8);
});

test('the sign: a converging lens pattern in collimated light loses phase toward its edge', () => {
  // E_out = −|P − A| falls away from the axis, E_in is constant: Φ must fall too, with 1/(2λs) waves per mm².
  const patch = make(
    { kind: 'collimated', direction: [0, 0, 1] },
    GLASSES['no glass'],
    { at: [CENTRE[0], CENTRE[1], 1000], focus: 'point' },
    632.8e-6,
    1,
  );
  const expected = -(4 * 4) / (2 * 632.8e-6 * 1000);
  expect(patch.phase.phase(CENTRE[0] + 4, CENTRE[1])).toBeCloseTo(expected, 3);
});
