/** What each error does to where a patch aims, against waves that are changed in earnest. */
import { describe, expect, it } from 'vitest';
import type { Design, DesignedPatch } from '../../src/design/design.ts';
import { dot, type Vec3 } from '../../src/geometry/vector.ts';
import type { Effects } from '../../src/metrology/budget/error-source.ts';
import { misalignments } from '../../src/metrology/budget/hologram-alignment.ts';
import {
  glassExpansion,
  patternPlacement,
  relativeIndexUncertainty,
  wavelengthErrors,
} from '../../src/metrology/budget/pattern-errors.ts';
import { COMMON_PRACTICE } from '../../src/metrology/budget/practice.ts';
import { readingsOf } from '../../src/metrology/budget/readings.ts';
import { apexCentring } from '../../src/metrology/budget/reference-errors.ts';
import { apparentMove } from '../../src/metrology/sensing/apparent-move.ts';
import { cylindricalWave } from '../../src/optics/cylindrical-wave.ts';
import type { Eikonal } from '../../src/optics/eikonal.ts';
import { sphericalWave } from '../../src/optics/spherical-wave.ts';
import { designFrom, linePatch, pointPatch, type Words } from './support/design-from.ts';
import { everyEffect } from './support/effects.ts';

const references = [
  { id: 'smr', kind: 'smr', diameter: 38.1, at: [120, 260, 1900] },
  { id: 'ball', kind: 'ball', diameter: 12.7, at: [-30, 70, 160] },
];
const patches = [
  linePatch('line', 'smr', [20, 40], 25),
  linePatch('other', 'smr', [40, 20], 115),
  pointPatch('point', 'ball', [-30, 20], 8),
];
const scenario = (more: Words = {}): Design => designFrom({ references, patches, ...more });
const design = scenario();
const readings = readingsOf(design);

/** E(x, y) of a wave at one point. */
function at(wave: Eikonal, x: number, y: number): number {
  const out = new Float64Array(1);
  wave.accumulate(Float64Array.of(x), Float64Array.of(y), 1, out, 1);
  return out[0]!;
}

/** The leaving wave of a patch if it aimed at another target, air all the way. */
const aimedAt = (patch: DesignedPatch, target: Vec3): Eikonal =>
  patch.lineDirection === undefined
    ? sphericalWave([target[0], target[1]], target[2], -1, 0, 1)
    : cylindricalWave(target, patch.lineDirection, 0, 1);

describe('apparent move', () => {
  it.each(readings.map((reading) => [reading.name, reading] as const))(
    '%s: a wave aimed elsewhere reads as a move there',
    (_name, { from, direction }) => {
      const { patch, sense } = from!;
      // An inclined patch shows a lateral move as a little power too, which no sense stands for: along the ray only there.
      const isPower = patch.lineDirection === undefined && sense === 2;
      const move = isPower ? direction.map((part) => part * 1e-3) : [0.7e-3, -1.1e-3, 0.4e-3];
      const elsewhere: Vec3 = [0, 1, 2].map((k) => patch.target[k]! + move[k]!) as unknown as Vec3;
      const [now, then] = [aimedAt(patch, patch.target), aimedAt(patch, elsewhere)];
      const apparent = apparentMove(design, patch, sense, (x, y) => at(then, x, y) - at(now, x, y));
      const expected = dot(direction, move as unknown as Vec3);
      // What the finite patch's coma adds to tilt and astigmatism to power: a per cent of the whole move.
      expect(Math.abs(apparent - expected)).toBeLessThan(0.02 * Math.hypot(...move));
    },
  );
});

describe('pattern placement', () => {
  it('of a whole patch shifts a patch without carrier by as much', () => {
    // Collimated light straight down on a zone plate: the focus goes with the pattern.
    const plate = designFrom({
      interferometer: { collimated: true },
      references: [{ id: 'b', kind: 'ball', diameter: 12.7, at: [0, 0, 200] }],
      patches: [pointPatch('p', 'b', [0, 0])],
      process: { placement: '0.25 um' },
    });
    const [x, y] = patternPlacement(plate, readingsOf(plate), COMMON_PRACTICE);
    expect(x!.u).toBe(0.25e-3);
    expect(everyEffect(x!.effects, 3)).toEqual([
      expect.closeTo(1, 3),
      expect.closeTo(0, 10),
      expect.closeTo(0, 4),
    ]);
    expect(everyEffect(y!.effects, 3)).toEqual([
      expect.closeTo(0, 10),
      expect.closeTo(1, 3),
      expect.closeTo(0, 4),
    ]);
  });

  it('of one edge against the other is mλε/S of path: 3.164 nm at 0.1 µm, 20 µm, 632.8 nm', () => {
    // Y.-C. Chang and J. H. Burge (1999), from memory. Seen across the width as a move: s/D times that path.
    const [reading] = readings;
    const { patch } = reading!.from!;
    const edges = patternPlacement(design, readings, COMMON_PRACTICE).find(
      ({ name }) => name === 'line edges, tilt 1',
    )!;
    const period = patch.phase.period(...patch.centre);
    const pathAcross = (everyEffect(edges.effects, 1)[0]! * edges.u * width(patch)) / patch.distance;
    expect(pathAcross / ((632.8e-6 * 0.1e-3) / period)).toBeCloseTo(1, 12);
    expect(((pathAcross * period) / 20e-3) * 1e6).toBeCloseTo(3.164, 3);
  });

  const width = (patch: DesignedPatch): number => {
    const [direction] = patch.senses;
    const [dx, dy] = [direction![0], direction![1]];
    return 10 * (Math.abs(dx) + Math.abs(dy));
  };
});

describe('wavelength and temperature', () => {
  it('a longer wavelength aims a patch as its traced grating rays go', () => {
    const kappa = 1e-5;
    const [source] = wavelengthErrors(design, readings, COMMON_PRACTICE);
    readings.forEach(({ from, direction }, k) => {
      const { patch, sense } = from!;
      if (patch.lineDirection === undefined && sense === 2) return;
      // Chief ray: lateral cosines of the incident light plus mλ(1 + κ)∇Φ; where it passes the reference, square to it.
      const [gx, gy] = patch.phase.gradient(...patch.centre);
      const slope = [patch.chiefRay[0], patch.chiefRay[1]];
      const added = [gx * 632.8e-6 * kappa, gy * 632.8e-6 * kappa];
      const l = slope[0]! + added[0]!;
      const m = slope[1]! + added[1]!;
      const ray: Vec3 = [l, m, Math.sqrt(1 - l * l - m * m)];
      const along = dot(ray, direction) - dot(patch.chiefRay, direction);
      expect(
        Math.abs(everyEffect(source!.effects, readings.length)[k]! * kappa - patch.distance * along),
      ).toBeLessThan(1e-3 * patch.distance * kappa * 0.1);
    });
  });

  it('a longer wavelength shortens the focus of a zone plate by the same part', () => {
    const plate = designFrom({
      interferometer: { collimated: true },
      references: [{ id: 'b', kind: 'ball', diameter: 12.7, at: [0, 0, 200] }],
      patches: [pointPatch('p', 'b', [0, 0], 6)],
    });
    const [source] = wavelengthErrors(plate, readingsOf(plate), COMMON_PRACTICE);
    expect(everyEffect(source!.effects, 3)[2]! / 200).toBeCloseTo(-1, 3);
    // A zone plate larger by the part α has a focal length larger by 2α.
    const [larger] = glassExpansion(plate, readingsOf(plate), COMMON_PRACTICE);
    expect(everyEffect(larger!.effects, 3)[2]! / 200).toBeCloseTo(2, 2);
  });

  it('air is as uncertain as its temperature and pressure make it', () => {
    // 0.93e-6 a kelvin and 0.27e-6 a hectopascal, common figures at room conditions, from memory.
    const only = (practice: Partial<typeof COMMON_PRACTICE>): number =>
      relativeIndexUncertainty(design, {
        ...COMMON_PRACTICE,
        airTemperature: 0,
        airPressure: 0,
        airHumidity: 0,
        ...practice,
      });
    expect(only({ airTemperature: 1 })).toBeCloseTo(0.93e-6, 7);
    expect(only({ airPressure: 100 })).toBeCloseTo(0.27e-6, 8);
  });

  it('and no less at the ends of what the formula for its index holds for, or beyond them', () => {
    const at = (light: object): number => relativeIndexUncertainty(designFrom({ light }), COMMON_PRACTICE);
    const hot = { temperature: 100, pressure: 140_000, humidity: 1 };
    expect(at({ vacuumWavelength: '1700 nm', air: hot })).toBeGreaterThan(0);
    // n − 1 of air changes by one part in a hundred from 1.7 to 10.6 µm.
    const infrared = at({ wavelength: '10.6 um' });
    expect(infrared / at({ wavelength: '1.69 um' })).toBeCloseTo(1, 2);
  });
});

describe('apex centring', () => {
  it('is one offset for all patches that look at a cube', () => {
    const sources = apexCentring(design, readings, COMMON_PRACTICE);
    expect(sources.map(({ name }) => name)).toEqual(['smr x', 'smr y', 'smr z']);
    readings.forEach(({ reference, direction }, k) => {
      const seen = sources.map(({ effects }) => everyEffect(effects, readings.length)[k]);
      expect(seen).toEqual(reference.id === 'smr' ? [...direction] : [0, 0, 0]);
    });
  });
});

describe('hologram out of line with the interferometer', () => {
  const found = misalignments(design, readings, COMMON_PRACTICE);

  it.each(found.map((misalignment) => [misalignment.name, misalignment] as const))(
    '%s: the projected references move as under a displaced beam',
    (name, { inHologram }) => {
      const projected = everyEffect(inHologram!, readings.length);
      const step = 1e-3;
      const axis = ['x', 'y', 'z'].indexOf(name);
      const focus = [0, 1, 2].map((k) => (k === axis ? step : 0));
      const moved = sphericalWave([focus[0]!, focus[1]!], 500 - focus[2]!, 1, 0, 1);
      readings.forEach(({ from }, k) => {
        const { patch, sense } = from!;
        const change = apparentMove(
          design,
          patch,
          sense,
          (x, y) => at(moved, x, y) - at(design.beam.eikonal, x, y),
        );
        expect(Math.abs(change / step - projected[k]!)).toBeLessThan(
          2e-4 * Math.max(1, Math.abs(projected[k]!)),
        );
      });
    },
  );

  it('moves every reference by much, and against the test wavefront by little', () => {
    for (const { name, inHologram, effects } of found) {
      if (name === 'z') continue;
      const largest = ({ by }: Effects): number => Math.max(...by.map(Math.abs));
      expect(largest(inHologram!)).toBeGreaterThan(1);
      expect(largest(effects)).toBeLessThan(0.05 * largest(inHologram!));
    }
  });

  it('is as uncertain as the return ring is read', () => {
    // A tenth of a fringe of tilt over the lit 156.25 mm, doubled: the beam's focus is 500 mm off.
    const [x, , z] = found;
    expect(x!.u).toBeCloseTo((0.1 * 632.8e-6 * 500) / (2 * 156.25), 5);
    const cosine = 500 / Math.hypot(500, 78.125);
    expect(z!.u).toBeCloseTo((0.1 * 632.8e-6) / (2 * (1 - cosine)), 10);
  });

  it('tilts a collimated beam instead', () => {
    const collimated = scenario({ interferometer: { collimated: true, beamDiameter: 140 } });
    const tilts = misalignments(collimated, readingsOf(collimated), COMMON_PRACTICE);
    expect(tilts.map(({ name }) => name)).toEqual(['x', 'y']);
    // A tilt of the beam turns a reference ahead of its patch by s times it.
    const first = everyEffect(tilts[0]!.inHologram!, readings.length)[2]!;
    expect(Math.abs(first - dot(readings[2]!.direction, [160, 0, 0]))).toBeLessThan(0.15 * 160);
  });
});
