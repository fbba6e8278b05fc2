/**
 * The share of a patch's light that returns, against rays traced through its own phase to three square mirrors or a sphere and home, by
 * code that shares nothing with the program. Below a quarter the patch is refused and tells nothing of its reference or the part. mm.
 */
import { describe, expect, test } from 'vitest';
import type { Finding } from '../../src/finding/finding.ts';
import { freedomOf } from '../../src/metrology/estimate/pose-estimate.ts';
import { referencePositions } from '../../src/metrology/estimate/reference-position.ts';
import { returnedLight } from '../../src/metrology/sensing/returned-light.ts';
import { steeringReadings } from '../../src/metrology/steering/steering-readings.ts';
import { applyRules } from '../../src/rules/all-rules.ts';
import { offMirrors } from '../independent/corner-mirrors.ts';
import { normed, type Vector } from '../independent/ray.ts';
import { type Bounce, offBall, returned } from '../independent/returned-ray.ts';
import { type PatchWords, type ReferenceWords, radians, type Scene, targetOf } from '../independent/scene.ts';
import { edgePoints, isInside } from '../independent/scene-outline.ts';
import { incidentPath, scenePhase } from '../independent/scene-phase.ts';
import { RULE } from '../rules/support/rule-codes.ts';
import { designFrom } from './support/design-from.ts';

const SLAB = { outline: { circle: { diameter: 200 } }, thickness: 9.5, index: 1.457 } as const;
const BEFORE = { ...SLAB, patternFaces: 'part' } as const;
const AFTER = { ...SLAB, patternFaces: 'interferometer' } as const;
const scene = (reference: object, patch: object, substrate: Scene['substrate'] = BEFORE): Scene => ({
  light: { wavelength: 632.8e-6 },
  interferometer: { focus: [0, 0, -500] },
  substrate,
  references: [{ id: 'r', ...reference } as ReferenceWords],
  patches: [{ id: 'p', reference: 'r', ...patch } as PatchWords],
});
const cube = (at: Vector, axis: Vector, roll: number, diameter = 38.1) => {
  return { kind: 'smr', diameter, at, axis: normed(axis), roll };
};
const ball = (at: Vector) => ({ kind: 'ball', diameter: 12.7, at });
const line = (centre: readonly number[], lineAngle: number, more: object = {}) => {
  return { focus: 'line', centre, lineAngle, outline: { rectangle: { width: 10, height: 10 } }, ...more };
};
const point = (centre: readonly number[], more: object = {}) => {
  return { focus: 'point', centre, outline: { circle: { diameter: 12 } }, ...more };
};
const roof = (fringes: number) => ({ bias: { shape: 'roof', fringes } });

/** An edge at φ takes 0.2/sin φ of the 10 mm: all of them at 1.1°. */
const ALONG_AN_EDGE = line([0, 0], 0);
const CASES: readonly (readonly [string, Scene, refused: boolean])[] = [
  ['a cube, edges at 30°', scene(cube([0, 0, 1000], [0, 0, -1], 30), ALONG_AN_EDGE), false],
  ['a cube, an edge at 4°', scene(cube([0, 0, 1000], [0, 0, -1], 4), ALONG_AN_EDGE), false],
  ['a cube, an edge at 1.2°', scene(cube([0, 0, 1000], [0, 0, -1], 1.2), ALONG_AN_EDGE), true],
  ['a cube, an edge along the line', scene(cube([0, 0, 1000], [0, 0, -1], 0), ALONG_AN_EDGE), true],
  [
    'a turned cube seen aslant, with a roof',
    scene(cube([180, 60, 700], [-0.5, 0.1, -1], 17), line([30, 40], 25, roof(2))),
    false,
  ],
  [
    'the same through glass after the pattern',
    scene(cube([180, 60, 700], [-0.5, 0.1, -1], 17), line([30, 40], 25, roof(2)), AFTER),
    false,
  ],
  ['a steep roof far away', scene(cube([0, 100, 2800], [0, 0, -1], 20), line([0, 60], 90, roof(6))), false],
  ['a mouth smaller than the line', scene(cube([0, 0, 400], [0, 0, -1], 15, 9), line([0, 0], 0)), false],
  ['a point focus on a cube', scene(cube([0, 0, 400], [0, 0, -1], 15), point([0, 0])), true],
  ['a ball', scene(ball([40, 90, 130]), point([20, 60])), false],
  [
    'a ball under a steep tilt, through glass',
    scene(ball([40, 90, 130]), point([20, 60], { bias: { shape: 'tilt', fringes: 40 } }), AFTER),
    false,
  ],
  ['a line focus on a ball', scene(ball([0, 0, 200]), line([0, 0], 0)), true],
];

/** Of the 0.2 mm that the program states for a cube's edges. */
const BAND = 0.2;
function bounceOf(of: Scene): Bounce {
  const [reference] = of.references as readonly (ReferenceWords & { axis: Vector; roll: number })[];
  const at = targetOf(of, of.patches[0]!);
  if (reference!.kind === 'ball') return offBall(at, reference!.diameter! / 2);
  const { axis, roll, diameter } = reference!;
  return offMirrors({
    apex: at,
    axis,
    roll: radians(roll),
    mouthRadius: diameter! / 2 / Math.sqrt(3),
    band: BAND,
  });
}

/** Rays on a lattice turned out of all symmetries, so that no line of it runs along an edge of anything. */
function shareByRays(of: Scene, across = 40): number {
  const [patch] = of.patches as readonly [PatchWords];
  const { wavelength } = of.light;
  const { thickness = 0, index = 1, patternFaces } = of.substrate;
  const incident = incidentPath(of);
  const pattern = {
    wavelength,
    order: 1,
    phase: scenePhase(of, 'p'),
    incident: (x: number, y: number) => incident([x, y, 0]),
    ...(patternFaces === 'interferometer' ? { glassAfter: { thickness, index } } : {}),
  };
  const bounce = bounceOf(of);
  const reach = Math.max(
    ...edgePoints(patch).map(([x, y]) => Math.hypot(x - patch.centre[0], y - patch.centre[1])),
  );
  let [all, home] = [0, 0];
  for (let k = 0; k < across * across; k++) {
    const [u, v] = [(k % across) + 0.37, Math.floor(k / across) + 0.61].map(
      (step) => (2 * step) / across - 1,
    ) as [number, number];
    const [x, y] = [
      patch.centre[0] + reach * (u * Math.cos(0.5) - v * Math.sin(0.5)),
      patch.centre[1] + reach * (u * Math.sin(0.5) + v * Math.cos(0.5)),
    ];
    if (!isInside(patch, [x, y])) continue;
    all++;
    const back = returned(pattern, bounce, x, y);
    if (back !== undefined && isInside(patch, [back.x, back.y])) home++;
  }
  return home / all;
}

/** Of some 800 rays here, and of the program's 6000: a strip is counted to one row of them. */
const COUNTED = 0.025;

describe.each(CASES)('%s', (_, of, refused) => {
  const design = designFrom(of as unknown as Record<string, unknown>);
  const [patch] = design.patches as readonly [(typeof design.patches)[number]];

  test('returns the share that rays traced by other means return', () => {
    const { share } = returnedLight(design, patch, 6000)!;
    expect(Math.abs(share - shareByRays(of))).toBeLessThan(COUNTED);
  });

  test('is refused below a quarter of the light, and then tells nothing of its reference or the part', () => {
    expect(shareByRays(of) < 0.25).toBe(refused);
    const found = applyRules(design).filter(({ rule }) => rule === RULE.noReturn);
    expect(found.map(({ severity, where }: Finding) => [severity, where])).toEqual(
      refused ? [['error', 'p']] : [],
    );
    const [reference] = referencePositions(design);
    const { motions } = freedomOf(design).free;
    if (refused) {
      expect(reference!.sigma).toEqual({ x: null, y: null, z: null });
      expect(reference!.unobserved).toHaveLength(3);
      expect(motions).toHaveLength(6);
    } else {
      expect(reference!.unobserved.length).toBeLessThan(3);
      expect(motions.length).toBeLessThan(6);
    }
  });
});

test('a reading that the bench has taken of a refused patch counts for steering all the same', () => {
  const design = designFrom(scene(ball([0, 0, 200]), line([0, 0], 0)) as unknown as Record<string, unknown>);
  const [reading] = steeringReadings(design, [
    { kind: 'fringes', patch: 'p', fringes: [0.5], uncertainty: undefined, signKnown: true },
  ]);
  expect(reading!.reading.name).toBe('p tilt');
  // A tenth of a fringe, as everywhere, and the fringes as a move: N = 2Dq/(λs) for 10 mm at 200 mm.
  expect(reading!.value).toBeCloseTo((0.5 * 632.8e-6 * 200) / (2 * 10), 9);
  expect(reading!.reading.u).toBeCloseTo((0.1 * 632.8e-6 * 200) / (2 * 10), 9);
});
