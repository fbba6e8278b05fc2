/**
 * Fringes for a move, through glass after the pattern, wherever the program counts them: the senses of `report.json` and the sheet, what
 * `steer` traces, the pictures that `fringes --diffraction` draws, and what `plan` reckons a place to be worth; all against differences of a
 * picture that is traced independently. mm, fringes. Straight ahead a fringe is worth s − t(1 − 1/n) for s, to first order.
 */
import { describe, expect, it } from 'vitest';
import type { Design } from '../../src/design/design.ts';
import type { Vec3 } from '../../src/geometry/vector.ts';
import { diffractedPatch, patchCoordinates } from '../../src/metrology/sensing/diffracted-patch.ts';
import { fresnelNumberOf } from '../../src/metrology/sensing/fresnel.ts';
import { sensesOf } from '../../src/metrology/sensing/sensitivity.ts';
import { tracedFringes } from '../../src/metrology/sensing/traced-readings.ts';
import { geometricReturn } from '../../src/optics/diffraction-return.ts';
import { informationOf, type Slot } from '../../src/planning/slot.ts';
import { cameraWaves, type PatchSetup } from '../independent/round-trip.ts';
import { designFrom } from './support/design-from.ts';

const SILICA = { thickness: 9.5, index: 1.457, patternFaces: 'interferometer' };
const DENSE = { thickness: 20, index: 1.9, patternFaces: 'interferometer' };
const WIDTH = 6;
/** Fringes: the bench of the tests. */
const READABLE = 0.1;
const MOVE = 1e-3;
/** Of a count, at the middle of a patch against one over the whole of it, whose edges a slanted ray sees at other angles. */
const MIDDLE = 0.01;
const WHOLE = 0.03;

interface Case {
  readonly kind: 'ball' | 'smr';
  readonly glass: typeof SILICA;
  readonly centre: readonly [number, number];
  readonly at: Vec3;
  /** Fringes for a move over those of the distance in air; checked where a figure is known. */
  readonly gain?: number;
}
const CASES: readonly (readonly [string, Case])[] = [
  [
    'a ball at 60 mm behind 9.5 mm of silica',
    { kind: 'ball', glass: SILICA, centre: [0, 0], at: [0, 0, 60], gain: 1.05 },
  ],
  [
    'a ball at 198 mm behind 9.5 mm of silica',
    { kind: 'ball', glass: SILICA, centre: [0, 0], at: [0, 0, 198], gain: 1.016 },
  ],
  [
    'a ball at 62 mm behind 20 mm of n = 1.9',
    { kind: 'ball', glass: DENSE, centre: [0, 0], at: [0, 0, 62], gain: 1.18 },
  ],
  [
    'a ball aslant behind 20 mm of n = 1.9',
    { kind: 'ball', glass: DENSE, centre: [10, -20], at: [30, -60, 90] },
  ],
  [
    'a cube aslant behind 20 mm of n = 1.9',
    { kind: 'smr', glass: DENSE, centre: [0, 40], at: [40, 90, 160] },
  ],
];

const outline = { circle: { diameter: WIDTH } };

function sceneOf({ kind, glass, centre, at }: Case) {
  const line = kind === 'smr' ? { focus: 'line', lineAngle: 25 } : { focus: 'point' };
  const design = designFrom({
    substrate: { outline: { circle: { diameter: 150 } }, ...glass },
    process: { placement: '1e-9 um' },
    references: [{ id: 'r', kind, diameter: 12.7, at }],
    patches: [{ id: 'p', reference: 'r', centre, outline, ...line }],
  });
  const setup: PatchSetup = {
    wavelength: design.light.wavelength,
    centre,
    target: at,
    reference: kind === 'smr' ? { kind: 'cube' } : { kind: 'ball', radius: 6.35 },
    ...(kind === 'smr' ? { lineAngle: (25 * Math.PI) / 180 } : {}),
    glass,
  };
  return { design, patch: design.patches[0]!, setup };
}

/** How W rises from edge to edge of the middle third, over the whole width, for 1 mm along a sensed tilt: differences both ways. */
function tracedTilt({ setup, patch }: ReturnType<typeof sceneOf>, sense: Vec3): number {
  const by = (move: number) => cameraWaves(setup, [move * sense[0], move * sense[1], move * sense[2]]);
  const [back, forth] = [by(-MOVE), by(MOVE)];
  const { toPattern, u } = patchCoordinates(patch);
  const first = sense === u;
  const at = (run: number): number => {
    const [x, y] = first ? toPattern(run, 0) : toPattern(0, run);
    return (forth(x, y) - back(x, y)) / (2 * MOVE);
  };
  return ((at(1) - at(-1)) / 2) * WIDTH;
}

const asSlot = ({ patches: [patch] }: Design): Slot => ({
  id: 'p',
  reference: patch!.reference,
  focus: patch!.asked.focus,
  order: 1,
  bias: undefined,
  centre: undefined,
  angle: undefined,
  outline: undefined,
  forms: { sizes: [], lengthOf: (size) => size, leastBy: '' },
  index: undefined,
});

describe.each(CASES)('%s', (_, scene) => {
  const made = sceneOf(scene);
  const { design, patch } = made;
  const tilts = sensesOf(design, patch).filter(({ kind }) => kind === 'tilt');
  // Aslant, the patch's edges are seen at another angle than its middle: a hundredth.
  const traced = tilts.map(({ direction, width }) => Math.abs((tracedTilt(made, direction) * width) / WIDTH));

  it('senses as many fringes for a move as are traced', () => {
    tilts.forEach(({ fringesPerMm, resolution }, k) => {
      expect(Math.abs(fringesPerMm / traced[k]! - 1)).toBeLessThan(MIDDLE);
      expect(Math.abs((resolution * traced[k]!) / READABLE - 1)).toBeLessThan(MIDDLE);
      const inAir = (2 * tilts[k]!.width) / (design.light.wavelength * patch.distance);
      if (scene.gain !== undefined) expect(Math.abs(traced[k]! / inAir - scene.gain)).toBeLessThan(0.005);
    });
  });

  it('steers by them', () => {
    const fringes = tracedFringes(design, patch)!;
    tilts.forEach(({ direction }, k) => {
      const seen = fringes([MOVE * direction[0], MOVE * direction[1], MOVE * direction[2]])!;
      expect(Math.abs(Math.abs(seen[k]! / MOVE / traced[k]!) - 1)).toBeLessThan(WHOLE);
    });
  });

  it('draws them by diffraction', () => {
    tilts.forEach(({ direction, width }, k) => {
      const moved = [-MOVE, MOVE].map(
        (by) => diffractedPatch(design, patch, [by * direction[0], by * direction[1], by * direction[2]])!,
      );
      const waves = (run: number): number => {
        const [back, forth] = moved.map((each) =>
          geometricReturn(each, k === 0 ? run : 0, k === 1 ? run : 0),
        );
        return (forth! - back!) / (2 * MOVE);
      };
      const drawn = Math.abs((waves(1) - waves(-1)) / 2) * width;
      expect(Math.abs(drawn / traced[k]! - 1)).toBeLessThan(WHOLE);
    });
  });

  it('and plans with them', () => {
    const about = { shape: 'circle', centre: scene.centre, radius: WIDTH / 2 } as const;
    const angle = (25 * Math.PI) / 180;
    const planned = informationOf(design, asSlot(design), scene.centre, angle, about);
    const quadratic = (e: Vec3): number => {
      const [xx, xy, xz, yy, yz, zz] = planned;
      return (
        xx! * e[0] ** 2 +
        yy! * e[1] ** 2 +
        zz! * e[2] ** 2 +
        2 * (xy! * e[0] * e[1] + xz! * e[0] * e[2] + yz! * e[1] * e[2])
      );
    };
    // Power too, as the senses have it, which are held against a trace in optical-distance.test.ts.
    for (const { kind, direction, fringesPerMm } of sensesOf(design, patch)) {
      if (kind === 'power')
        expect((Math.sqrt(quadratic(direction)) * READABLE) / fringesPerMm).toBeCloseTo(1, 6);
    }
    tilts.forEach(({ direction }, k) => {
      expect(Math.abs((Math.sqrt(quadratic(direction)) * READABLE) / traced[k]! - 1)).toBeLessThan(MIDDLE);
    });
  });
});

it.each(CASES.filter(([, { gain }]) => gain !== undefined))(
  'the Fresnel number of %s has s − t(1 − 1/n) for s',
  (_, scene) => {
    const { design, patch } = sceneOf(scene);
    const { thickness, index } = scene.glass;
    const s = patch.distance - thickness * (1 - 1 / index);
    const wanted = ((WIDTH / 2) ** 2 * 6.35) / (2 * design.light.wavelength * s * (s - 6.35));
    expect(fresnelNumberOf(design, patch)!.number / wanted).toBeCloseTo(1, 4);
  },
);
