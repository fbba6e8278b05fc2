import { describe, expect, it } from 'vitest';
import {
  add,
  cross,
  dot,
  length,
  scale,
  squareTo,
  subtract,
  unit,
  type Vec3,
} from '../../src/geometry/vector.ts';
import {
  type CornerCube,
  cubeEdges,
  idealCube,
  invertRay,
  lossAtCube,
  returnFromCube,
  traceMirrors,
} from '../../src/optics/corner-cube.ts';
import type { Ray } from '../../src/optics/ray.ts';

const apex: Vec3 = [30, -20, 1000];
const cube = (more: Partial<CornerCube> = {}): CornerCube => ({ ...idealCube(apex, [0, 60, 0]), ...more });

/** Rays from far in front of the cube, `beside` mm off the axis at the azimuth, tilted from the axis. */
function rayToward(of: CornerCube, beside: number, azimuth: number, tilt: number): Ray {
  const e1 = unit(squareTo([1, 0, 0], of.axis));
  const e2 = cross(of.axis, e1);
  const offset = add(scale(e1, beside * Math.cos(azimuth)), scale(e2, beside * Math.sin(azimuth)));
  const direction = unit(add(scale(of.axis, -1), scale(e2, tilt)));
  return { point: subtract(add(of.apex, offset), scale(direction, 500)), direction };
}

describe('the traced cube', () => {
  const rolls = [0, 0.3, 1, 2.5];
  const azimuths = [0.1, 1.1, 2.1, 3.1, 4.1, 5.1, 6.1];
  it('inverts each ray through the apex, whatever its roll and the order of the mirrors', () => {
    let worst = 0;
    for (const roll of rolls) {
      for (const azimuth of azimuths) {
        for (const tilt of [0, 0.15, -0.3]) {
          const perfect = cube({ roll });
          const ray = rayToward(perfect, 4, azimuth, tilt);
          const traced = traceMirrors(perfect, ray)!;
          const ideal = invertRay(apex, ray);
          // The same line, the same direction, the same path when counted to the same place.
          const gap = subtract(traced.ray.point, ideal.ray.point);
          const lag = traced.path - ideal.path - dot(gap, ideal.ray.direction);
          const turned = length(subtract(traced.ray.direction, ideal.ray.direction));
          worst = Math.max(worst, length(squareTo(gap, ideal.ray.direction)), Math.abs(lag), turned * 1000);
        }
      }
    }
    expect(worst).toBeLessThan(1e-9);
  });

  it('returns antiparallel, displaced by twice the apex offset', () => {
    const ray = rayToward(cube(), 3, 0.7, 0);
    const back = traceMirrors(cube(), ray)!.ray;
    expect(length(squareTo(subtract(back.point, ray.point), ray.direction))).toBeCloseTo(6, 9);
    expect(dot(back.direction, ray.direction)).toBeCloseTo(-1, 12);
  });

  it('has mirrors at 35.2644° to the axis', () => {
    for (const edge of cubeEdges(cube({ roll: 0.4 }))) {
      // An edge is the normal of the mirror opposite it.
      expect((Math.asin(dot(edge, cube().axis)) * 180) / Math.PI).toBeCloseTo(35.2644, 4);
    }
    const [a, b, c] = cubeEdges(cube({ roll: 0.4 }));
    expect(Math.abs(dot(a, b)) + Math.abs(dot(b, c)) + Math.abs(dot(a, c))).toBeLessThan(1e-15);
  });
});

describe('dihedral errors', () => {
  // Check values: deviations by an independent trace, index 1.
  const error = 1e-5;
  const sixBeams = (errors: Vec3): Vec3[] => {
    const faulty = cube({ dihedralErrors: errors });
    return [0, 1, 2, 3, 4, 5].map((sextant) => {
      // The middle of each sixth of the aperture, between an edge and the image of another one.
      const ray = rayToward(faulty, 4, Math.PI / 6 + (sextant * Math.PI) / 3, 0);
      return squareTo(scale(traceMirrors(faulty, ray)!.ray.direction, 1 / error), faulty.axis);
    });
  };

  it('of one edge deviates each beam by 1.632993 ε, the pair 3.265986 ε apart', () => {
    const beams = sixBeams([error, 0, 0]);
    for (const beam of beams) expect(length(beam)).toBeCloseTo(1.632993, 4);
    const apart = Math.max(...beams.map((beam) => length(subtract(beam, beams[0]))));
    expect(apart).toBeCloseTo(3.265986, 4);
  });

  it('of three equal edges deviates each beam by 3.265986 ε', () => {
    for (const beam of sixBeams([error, error, error])) expect(length(beam)).toBeCloseTo(3.265986, 3);
  });
});

describe('what the cube loses', () => {
  it('light outside the clear aperture, coming or going', () => {
    const small = cube({ clearRadius: 5 });
    const fate = (beside: number, azimuth: number, tilt: number) =>
      lossAtCube(small, rayToward(small, beside, azimuth, tilt));
    expect(fate(4.9, 0, 0)).toBeUndefined();
    expect(fate(5.1, 0, 0)).toBe('outside aperture');
    // Tilted, the mouth and its image through the apex overlap in a lens: narrower along the tilt than across it.
    const mouthShift = Math.SQRT2 * 5 * 0.3;
    expect(fate(5 - mouthShift - 0.1, Math.PI / 2, 0.3)).toBeUndefined();
    expect(fate(5 - mouthShift + 0.3, Math.PI / 2, 0.3)).toBe('outside aperture');
    expect(fate(5 - mouthShift + 0.3, -Math.PI / 2, 0.3)).toBe('outside aperture');
    expect(fate(5 - mouthShift + 0.3, 0, 0.3)).toBeUndefined();
  });

  it('light along the edges, six spokes about the apex', () => {
    const bevelled = cube({ edgeBand: 0.2 });
    const lost = Array.from({ length: 3600 }, (_, i) => {
      const ray = rayToward(bevelled, 4, (i * Math.PI) / 1800, 0);
      return returnFromCube(bevelled, ray) === 'dead zone';
    });
    const share = lost.filter(Boolean).length / lost.length;
    // Six spokes 0.2 mm wide on a circle of 4 mm radius.
    expect(share).toBeCloseTo((6 * 0.2) / (2 * Math.PI * 4), 2);
    expect(lost.filter((value, i) => value && !lost[(i + 1) % 3600]).length).toBe(6);
  });

  it('light that meets the mirrors near an edge is what the spokes take', () => {
    // An independent way: trace the mirrors and measure each hit’s neighbour ray on the other side of an edge.
    const bevelled = cube({ edgeBand: 0.2 });
    const faulty = cube({ dihedralErrors: [1e-6, 2e-6, 4e-6] });
    // With unequal errors each sixth deviates its own way, so that a change of way marks an edge crossed.
    const way = (azimuth: number) => traceMirrors(faulty, rayToward(faulty, 4, azimuth, 0.1))!.ray.direction;
    let crossings = 0;
    for (let i = 0; i < 3600; i++) {
      const [here, next] = [way((i * Math.PI) / 1800), way(((i + 1) * Math.PI) / 1800)];
      if (length(subtract(here, next)) < 1e-8) continue;
      crossings++;
      expect(lossAtCube(bevelled, rayToward(bevelled, 4, (i * Math.PI) / 1800, 0.1))).toBe('dead zone');
    }
    expect(crossings).toBe(6);
  });

  it('light near the apex, and light from behind', () => {
    expect(lossAtCube(cube({ apexZone: 0.5 }), rayToward(cube(), 0.4, 1, 0))).toBe('dead zone');
    expect(lossAtCube(cube({ apexZone: 0.5 }), rayToward(cube(), 0.6, 1, 0))).toBeUndefined();
    expect(lossAtCube(cube(), { point: apex, direction: cube().axis })).toBe('missed');
  });

  it('light so oblique that it runs past a mirror', () => {
    expect(returnFromCube(cube({ edgeBand: 0.01 }), rayToward(cube(), 4, 1, 3))).toBe('missed');
  });
});
