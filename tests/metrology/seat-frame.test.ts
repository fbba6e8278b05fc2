import { describe, expect, it } from 'vitest';
import { solveLeastSquares } from '../../src/algebra/least-squares.ts';
import { randomFrom } from '../../src/algebra/random.ts';
import { sensitivityRow } from '../../src/metrology/sensing/sensitivity.ts';
import { faceHeight, seatCentre } from '../../src/metrology/sight/seats.ts';
import { designFrom, type Words } from './support/design-from.ts';
import { seatFrame } from './support/reported.ts';

const onCircle = (radius: number, u: string, height = 6.35): Words[] =>
  [90, 210, 330].map((azimuth, k) => {
    const angle = (azimuth * Math.PI) / 180;
    return {
      id: `s${k}`,
      kind: 'ball',
      diameter: 12.7,
      height,
      at: [radius * Math.cos(angle), radius * Math.sin(angle)],
      uncertainty: u,
    };
  });
const designWith = (seats: readonly Words[], more: Words = {}) =>
  designFrom({
    part: { origin: [0, 0, 1000] },
    references: [{ id: 'r', kind: 'smr', diameter: 38.1, at: [200, 0, 900] }],
    seats,
    ...more,
  });

describe('where a seat stands', () => {
  it.each([
    ['part', 'part', 0, 6.35],
    ['part', 'interferometer', -5, -11.35],
    ['interferometer', 'part', 5, 11.35],
    ['interferometer', 'interferometer', 0, -6.35],
  ] as const)('pattern toward the %s, seat toward the %s', (patternFaces, face, z, centre) => {
    const substrate = { outline: { circle: { diameter: 200 } }, thickness: 5, index: 1.5, patternFaces };
    const design = designWith([{ ...onCircle(60, '2 um')[0]!, face }], { substrate });
    expect(faceHeight(design, face)).toBe(z);
    expect(seatCentre(design, design.scenario.seats[0]!)[2]).toBeCloseTo(centre, 12);
  });
});

describe('three seats on a circle', () => {
  const [radius, u] = [60, 2];
  const found = seatFrame(designWith(onCircle(radius, '2 um')))!;

  it('give the figures of the closed form', () => {
    // Through the seats' plane: u/√3 for a move, u/(R√(3/2)) for a tilt, u/(R√3) for a turn in the plane.
    const tilt = (u / (radius * Math.sqrt(1.5))) * 1000;
    expect(found.sigma.rx).toBeCloseTo(tilt, 6);
    expect(found.sigma.ry).toBeCloseTo(tilt, 6);
    expect(found.sigma.rz).toBeCloseTo((u / (radius * Math.sqrt(3))) * 1000, 6);
    expect(found.sigma.z).toBeCloseTo(u / Math.sqrt(3), 9);
    // At the pattern, 6.35 mm off the seats' plane.
    expect(found.sigma.x).toBeCloseTo(Math.hypot(u / Math.sqrt(3), (tilt * 6.35) / 1000), 9);
  });

  it('lever their tilt out to the references and the part', () => {
    const tilt = u / (radius * Math.sqrt(1.5));
    const z = 1000 - 6.35;
    expect(found.atPart!.sigma_um.x).toBeCloseTo(Math.hypot(u / Math.sqrt(3), tilt * z), 6);
    expect(found.atPart!.sigma_um.z).toBeCloseTo(u / Math.sqrt(3), 6);
    expect(found.atPart!.rotations_urad.rx).toBe(found.sigma.rx);
    const [lever] = found.atReferences!;
    expect(lever!.sigma_um.z).toBeCloseTo(Math.hypot(u / Math.sqrt(3), tilt * 200), 6);
    expect(lever!.largest_um).toBeGreaterThan(lever!.sigma_um.x);
  });

  it('scatter at a reference as measured ones do', () => {
    // The second way: three measured centres, fitted again and again.
    const design = designWith(onCircle(radius, '2 um'));
    const centres = design.scenario.seats.map((seat) => seatCentre(design, seat));
    const rows = centres.flatMap((at) =>
      (
        [
          [1, 0, 0],
          [0, 1, 0],
          [0, 0, 1],
        ] as const
      ).flatMap((along) => sensitivityRow(along, at)),
    );
    const random = randomFrom('seats');
    const trials = 4000;
    let squares = 0;
    for (let k = 0; k < trials; k++) {
      const seen = Float64Array.from({ length: 9 }, () => u * random.normal());
      const { solution } = solveLeastSquares(Float64Array.from(rows), 6, seen);
      const at = design.references[0]!.at;
      const z = sensitivityRow([0, 0, 1], at).reduce((sum, entry, i) => sum + entry * solution[i]!, 0);
      squares += z * z;
    }
    const sigma = found.atReferences![0]!.sigma_um.z;
    expect(Math.abs(Math.sqrt(squares / trials) / sigma - 1)).toBeLessThan(4 / Math.sqrt(2 * trials));
  });
});

describe('spheres that stand higher than they are thick: the frame counts from their centres', () => {
  // 5 mm of glass, the sphere's centre 30 mm above its face, the pattern at z = 0.
  it.each([
    ['part', 'part', 30],
    ['part', 'interferometer', -35],
    ['interferometer', 'part', 35],
    ['interferometer', 'interferometer', -30],
  ] as const)('pattern toward the %s, seats toward the %s: z = %d', (patternFaces, face, z) => {
    const [radius, u] = [60, 2];
    const seats = onCircle(radius, '2 um', 30).map((seat) => ({ ...seat, face }));
    const substrate = { outline: { circle: { diameter: 200 } }, thickness: 5, index: 1.5, patternFaces };
    const found = seatFrame(designWith(seats, { substrate }))!;
    for (const { at_mm } of found.seats) expect(at_mm[2]).toBeCloseTo(z, 12);
    // Their tilt, u/(R√(3/2)), levers from their plane to the pattern, the reference at z = 900 and the part at 1000.
    const off = (height: number): number =>
      Math.hypot(u / Math.sqrt(3), ((u / radius) * (height - z)) / Math.sqrt(1.5));
    expect(found.sigma.x).toBeCloseTo(off(0), 9);
    expect(found.sigma.y).toBeCloseTo(off(0), 9);
    expect(found.atPart!.sigma_um.x).toBeCloseTo(off(1000), 9);
    const turned = (u / radius / Math.sqrt(3)) * 200;
    expect(found.atReferences![0]!.sigma_um.x).toBeCloseTo(off(900), 9);
    expect(found.atReferences![0]!.sigma_um.y).toBeCloseTo(Math.hypot(off(900), turned), 9);
  });
});

it('names what two seats leave free, and gives no lever', () => {
  const found = seatFrame(designWith(onCircle(60, '2 um').slice(1)))!;
  expect(found.freeMotions).toHaveLength(1);
  expect(found.freeMotions[0]).toMatch(/to turn about an axis along x through/);
  expect([found.atPart, found.atReferences, found.sigma.rx]).toEqual([null, null, null]);
});

it('is nothing without seats', () => {
  expect(seatFrame(designWith([]))).toBeUndefined();
});
