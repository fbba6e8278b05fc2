/**
 * References on mounts of their own, on a stage with the part, and for a tracker: three things to the estimator. Readings are those of the
 * traced return of each reference where it really stands; the part stands apart from its towers.
 */
import { describe, expect, it, test } from 'vitest';
import { COMMON_PRACTICE } from '../../src/metrology/budget/practice.ts';
import { partPose } from '../../src/metrology/estimate/pose.ts';
import { steer } from '../../src/metrology/steering/steering.ts';
import { displacementOf } from '../../src/metrology/steering/steering-part.ts';
import { registrationPoints } from '../../src/metrology/transfer/registration-points.ts';
import { meanPoints } from '../../src/metrology/transfer/repeated-points.ts';
import { reader } from '../independent/patch-reading.ts';
import type { Vector } from '../independent/ray.ts';
import { designFrom, linePatch, type Words } from './support/design-from.ts';

const AROUND = { wavelength: 632.8e-6, focus: [0, 0, -500] as Vector };
const PLACES: readonly Vector[] = [
  [150, 0, 900],
  [-75, 130, 900],
  [-75, -130, 900],
  [0, 170, 950],
];
const PATCHES = PLACES.flatMap(([x, y], k) =>
  [0, 90].map((lineAngle, n) => ({
    ...{ id: `p${k}${n}`, of: k, lineAngle },
    centre: [0.3 * x + (n === 0 ? -8 : 8), 0.3 * y] as readonly [number, number],
  })),
);

/** The fourth retroreflector stands as `frame` says; the others on the part. */
const scene = (frame: 'part' | 'substrate', more: Words = {}) =>
  designFrom({
    part: { origin: [0, 0, 900] },
    references: PLACES.map(([x, y, z], k) => ({
      ...{ id: `r${k}`, kind: 'smr', diameter: 38.1, ...more },
      frame: k < 3 ? 'part' : frame,
      at: [x, y, k < 3 || frame === 'part' ? z - 900 : z],
    })),
    patches: PATCHES.map(({ id, of, centre, lineAngle }) => linePatch(id, `r${of}`, centre, lineAngle)),
  });

/** Traced readings with the fourth retroreflector alone displaced, in the program's sign: + along the sensed direction. */
const readings = (design: ReturnType<typeof scene>, move: Vector) =>
  PATCHES.map(({ id, of, centre, lineAngle }) => {
    const outline = { shape: 'rectangle', centre, width: 10, height: 10, rotation: 0 } as const;
    const patch = { id, target: PLACES[of]!, centre, outline, lineAngle: (lineAngle * Math.PI) / 180 };
    const seen = of === 3 ? reader(AROUND, patch)({ move })[0]! : 0;
    const sense = design.patches.find((each) => each.id === id)!.senses[0]!;
    const along = sense[0] * move[0] + sense[1] * move[1] + sense[2] * move[2];
    const fringes = [Math.sign(along) * Math.abs(seen)];
    return { kind: 'fringes', patch: id, fringes, signKnown: true, uncertainty: undefined } as const;
  });

describe('a tower that stands off while the part is where it should be', () => {
  const move: Vector = [0.06, -0.04, 0];
  const moves = (frame: 'part' | 'substrate') => {
    const design = scene(frame);
    const { part, references } = steer(design, readings(design, move));
    const { solution } = part.candidates[0]!;
    const tower = references.find(({ reference }) => reference.id === 'r3')!.candidates[0]!.solution.unknowns;
    return {
      part: displacementOf(solution.unknowns, part.pose.size),
      consistency: solution.consistency,
      tower,
    };
  };

  it('moves by itself: what is found of the part stays nought', () => {
    const { part, tower, consistency } = moves('substrate');
    expect(Math.hypot(...part.translation)).toBeLessThan(1e-9);
    expect(Math.hypot(...part.rotation)).toBeLessThan(1e-12);
    expect(consistency.contradictory).toBe(false);
    expect(Math.hypot(tower[0]! - move[0], tower[1]! - move[1])).toBeLessThan(2e-3);
  });

  it('is taken for a move of the part where it is said to stand on it', () => {
    expect(Math.hypot(...moves('part').part.translation)).toBeGreaterThan(5e-3);
  });
});

test('the part is known as three retroreflectors tell, whatever a tower adds', () => {
  const three = designFrom({
    part: { origin: [0, 0, 900] },
    references: PLACES.slice(0, 3).map(([x, y, z], k) => ({
      ...{ id: `r${k}`, kind: 'smr', diameter: 38.1, frame: 'part' },
      at: [x, y, z - 900],
    })),
    patches: PATCHES.filter(({ of }) => of < 3).map(({ id, of, centre, lineAngle }) =>
      linePatch(id, `r${of}`, centre, lineAngle),
    ),
  });
  const [without, tower, carried] = [three, scene('substrate'), scene('part')].map(
    (design) => partPose(design).budget.combined,
  );
  expect(tower).toEqual(without);
  expect(carried!.rz!).toBeLessThan(0.99 * without!.rz!);
});

test('a tracker finds a tower’s retroreflector where it came to sit anew: its nest counts on the hologram’s side too', () => {
  const at = { kind: 'cartesian', at: [0, 0, 0], sigma: [0.01, 0.01, 0.01] } as const;
  const variance = (nest: string): Float64Array => {
    const points = registrationPoints(
      scene('substrate', { nest }),
      meanPoints([{ name: 't', reference: 'r3', side: 'hologram', measured: at }]).points,
      COMMON_PRACTICE,
    );
    return points[0]!.placeCovariance;
  };
  const [tight, loose] = [variance('0 um'), variance('30 um')];
  // ±30 µm along each axis, rectangular: JCGM 100, 4.3.7.
  const added = loose.map((entry, k) => entry - tight[k]!);
  added.forEach((entry, k) => {
    expect(entry).toBeCloseTo(k % 4 === 0 ? 0.03 ** 2 / 3 : 0, 9);
  });
});
