/**
 * The part found from its null, read beside the patches or by itself: the readings are of rays traced to the displaced part, and home, by
 * code that shares nothing with src/. mm, rad.
 */
import { describe, expect, it } from 'vitest';
import { nullTermName } from '../../src/metrology/null/null-readings.ts';
import { steer } from '../../src/metrology/steering/steering.ts';
import { displacementOf } from '../../src/metrology/steering/steering-part.ts';
import type { BenchReading, NullValue } from '../../src/scenario/bench-reading.ts';
import { DEGREES } from '../../src/scenario/scenario.ts';
import { nullReader } from '../independent/null-reading.ts';
import { turned } from '../independent/null-traced.ts';
import { reader } from '../independent/patch-reading.ts';
import { minus, type Vector } from '../independent/ray.ts';
import { isoAsphere } from '../independent/surface-sheets.ts';
import '../machine/patience.ts';
import { designFrom, pointPatch } from './support/design-from.ts';
import { ORIGIN, PARABOLA, parabolaScene } from './support/parabola-scene.ts';

const AROUND = { wavelength: 632.8e-6, focus: [0, 0, -500] as Vector };
const DEG = Math.PI / 180;
/** Every degree, so small that the fringes can be counted. */
const MOVED = [0.03, -0.02, 0.05, 4e-5, -6e-5, 1e-4] as const;

const { radius, conic, diameter } = PARABOLA;
const standing = { height: isoAsphere(radius, conic), vertex: [0, 0, 0], origin: ORIGIN } as const;
const nullOf = nullReader(standing, { diameter, centre: [0, 0] }, AROUND.wavelength);

interface PatchWords {
  readonly id: string;
  readonly reference: string;
  readonly centre: readonly [number, number];
  readonly lineAngle: number;
}
interface PlaceWords {
  readonly id: string;
  readonly at: Vector;
}

/** Of every patch of the scene, as the bench counts it: a fall of the path along + is positive. */
function patchesRead(
  scene: ReturnType<typeof parabolaScene>,
  motion: readonly number[],
): readonly BenchReading[] {
  const places = scene.references as readonly PlaceWords[];
  return (scene.patches as readonly PatchWords[]).map(({ id, reference, centre, lineAngle }) => {
    const { at } = places.find((place) => place.id === reference)!;
    const [dx, dy, dz] = minus(turned(at, motion.slice(3)), at);
    const move: Vector = [motion[0]! + dx, motion[1]! + dy, motion[2]! + dz];
    const target: Vector = [ORIGIN[0] + at[0], ORIGIN[1] + at[1], ORIGIN[2] + at[2]];
    const read = reader(AROUND, {
      ...{ id, centre, target, lineAngle: lineAngle * DEG },
      outline: { shape: 'rectangle', centre, width: 8, height: 8, rotation: 0 },
    });
    const rest = read({});
    const fringes = read({ move }).map((value, k) => rest[k]! - value);
    return { kind: 'fringes', patch: id, fringes, signKnown: true, uncertainty: undefined };
  });
}

/** Waves of each term, or fringes: over the footprint 4 of a wave of tilt, √12 of power, √8 of coma (ISO 24157's polynomials at the edge). */
function nullRead(motion: readonly number[], unit: 'waves' | 'fringes'): BenchReading {
  const seen = nullOf.read(motion);
  const [tilt, power, coma] = unit === 'waves' ? [1, 1, 1] : [4, Math.sqrt(12), Math.sqrt(8)];
  const values: NullValue[] = [
    { term: 'tilt', part: 0, value: tilt * seen(1, 1) },
    { term: 'tilt', part: 1, value: tilt * seen(1, -1) },
    { term: 'power', part: 0, value: power * seen(2, 0) },
    { term: 'coma', part: 0, value: coma * seen(3, 1) },
    { term: 'coma', part: 1, value: coma * seen(3, -1) },
  ];
  return { kind: 'null', values, unit, signKnown: true, uncertainty: undefined };
}

/** A part whose figure is known to a nanometre. */
const KNOWN = { tilt: '1 nm', power: '1 nm', coma: '0.1 nm' };

describe('a part with its null', () => {
  const scene = parabolaScene({ test: { ownFigure: KNOWN } });
  const design = designFrom(scene);
  const patches = patchesRead(scene, MOVED);
  const found = (readings: readonly BenchReading[]) => {
    const { part } = steer(design, readings);
    const [first] = part.candidates;
    const { translation, rotation } = displacementOf(first!.solution.unknowns, part.pose.size);
    return { part, solution: first!.solution, six: [...translation, ...rotation] };
  };

  it.each(['fringes', 'waves'] as const)(
    'is found from patches and null, read in %s, to a tenth of sigma',
    (unit) => {
      const { part, solution, six } = found([...patches, nullRead(MOVED, unit)]);
      DEGREES.forEach((_, k) => {
        expect(Math.abs(six[k]! - MOVED[k]!)).toBeLessThan(part.uncertainty.combined[k]! / 10);
      });
      expect(solution.exact).toBe(true);
      expect(solution.consistency.contradictory).toBe(false);
    },
  );

  it('is known better than from the patches alone in tilt', () => {
    const [both, alone] = [[...patches, nullRead(MOVED, 'waves')], patches].map(
      (all) => found(all).part.uncertainty,
    );
    for (const k of [3, 4]) expect(both!.combined[k]!).toBeLessThan(alone!.combined[k]! / 2);
  });

  it('turned about its axis is all that its null by itself does not see', () => {
    const { part, six } = found([nullRead(MOVED, 'waves')]);
    expect(part.pose.free.motions.map(({ words }) => words)).toEqual(["to turn about the part's z axis"]);
    expect(part.uncertainty.combined[5]).toBeUndefined();
    for (const k of [0, 1, 2, 3, 4])
      expect(Math.abs(six[k]! - MOVED[k]!)).toBeLessThan(part.uncertainty.combined[k]! / 2);
  });
});

/** The null and two ball patches show the same three numbers: where the sphere's centre is, at (12, −7, 420). */
describe('a concave sphere with a ball on its centre', () => {
  const centre: Vector = [12, -7, 420];
  const inLine = { x: '1e-9 mm', y: '1e-9 mm', z: '1e-9 mm', rx: '1e-6 urad', ry: '1e-6 urad' };
  const places = [
    [80, 0],
    [-50, 60],
  ] as const;
  const design = designFrom({
    interferometer: { focus: [0, 0, -500], fNumber: 1.5, pixelsAcrossBeam: 4000, placed: inLine },
    substrate: { outline: { circle: { diameter: 240 } }, thickness: 0 },
    part: {
      origin: [0, 0, 500],
      datums: { M: { sphere: { centre: [12, -7, -80], diameter: 2000, side: 'inside' } } },
    },
    references: [{ id: 'b', kind: 'ball', diameter: 12.7, frame: 'part', at: [12, -7, -80] }],
    patches: places.map((place, k) => pointPatch(`p${k}`, 'b', place, 12)),
    test: { surface: 'M', aperture: { circle: { diameter: 120 } }, ownFigure: KNOWN },
  });
  const move = [0.04, -0.03, 0.1] as const;
  const seen = nullReader(
    { height: isoAsphere(-1000, 0), vertex: [12, -7, 920], origin: [0, 0, 500] },
    { diameter: 120, centre: [0, 0] },
    AROUND.wavelength,
  ).read([...move, 0, 0, 0]);
  const ofNull = (sign: number, signKnown = true): BenchReading => ({
    ...{ kind: 'null', unit: 'waves', signKnown, uncertainty: undefined },
    values: [
      { term: 'tilt', part: 0, value: sign * seen(1, 1) },
      { term: 'tilt', part: 1, value: sign * seen(1, -1) },
      { term: 'power', part: 0, value: sign * seen(2, 0) },
    ],
  });
  const ofBalls = places.map((place, k): BenchReading => {
    const outline = { shape: 'circle', centre: place, radius: 6 } as const;
    const read = reader(AROUND, { id: `p${k}`, centre: place, target: centre, radius: 6.35, outline });
    const rest = read({});
    const fringes = read({ move }).map((value, at) => rest[at]! - value);
    return { kind: 'fringes', patch: `p${k}`, fringes, signKnown: true, uncertainty: undefined };
  });
  const solved = (readings: readonly BenchReading[]) => steer(design, readings).asRead.part;

  it('shows the same move by null and patches', () => {
    const { candidates, pose } = solved([...ofBalls, ofNull(1)]);
    const { solution } = candidates[0]!;
    expect(solution.consistency.contradictory).toBe(false);
    // The centre, wherever the unseen turns leave the part's origin.
    const { translation, rotation } = displacementOf(solution.unknowns, pose.size);
    const at: Vector = [12, -7, -80];
    const [dx, dy, dz] = minus(turned(at, rotation), at);
    expect(Math.abs(translation[0] + dx - move[0])).toBeLessThan(5e-4);
    expect(Math.abs(translation[1] + dy - move[1])).toBeLessThan(5e-4);
    expect(Math.abs(translation[2] + dz - move[2])).toBeLessThan(5e-3);
    expect(pose.free.motions).toHaveLength(3);
  });

  it('contradicts its patches where the null is read with the wrong sign', () => {
    expect(solved([...ofBalls, ofNull(-1)]).candidates[0]!.solution.consistency.contradictory).toBe(true);
  });

  it('settles the sign of a null of which only the size was seen', () => {
    const { candidates } = solved([...ofBalls, ofNull(-1, false)]);
    expect(candidates.map(({ signs }) => [...signs.values()])).toEqual([[-1]]);
  });
});

it('a bench reading without a surface under test is refused by the program itself', () => {
  const { test: _, ...without } = parabolaScene();
  expect(() => steer(designFrom(without), [nullRead([0, 0, 0, 0, 0, 0], 'waves')])).toThrow(RangeError);
});

it('each term of the null has a name of its own', () => {
  const names = (['tilt', 'astigmatism', 'coma'] as const).flatMap((term) =>
    ([0, 1] as const).map((part) => nullTermName({ term, part })),
  );
  expect(names).toEqual(['tilt x', 'tilt y', 'astigmatism 0°', 'astigmatism 45°', 'coma x', 'coma y']);
});
