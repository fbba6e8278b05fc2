/** A bench with a return ring, annular datums on a sphere, a plane, a cone and a torus, and a screen. */
import type { Design } from '../../../src/design/design.ts';
import { designFrom, type Words } from './design-from.ts';

export const ring = (inner: number, outer: number): Words => ({ ring: { inner, outer } });
const annulus = (id: string, inner: number, outer: number): Words => ({
  id,
  reference: id,
  focus: 'normal',
  centre: [0, 0],
  outline: ring(inner, outer),
});

export const DATUMS = {
  S: { sphere: { centre: [0, 0, 100], diameter: 260 } },
  P: { plane: { point: [0, 0, 0], normal: [0, 0, -1] } },
  C: { cone: { apex: [0, 0, -60], axis: [0, 0, 1], angle: '160 deg' } },
  T: { torus: { centre: [0, 0, 20], axis: [0, 0, 1], diameter: 70, tube: 20 } },
};

export function fullBench(more: Words = {}): Design {
  return designFrom({
    interferometer: {
      focus: [0, 0, -500],
      fNumber: 3.2,
      pixelsAcrossBeam: 2000,
      readable: 0.1,
      laserPower: '1 mW',
    },
    substrate: { outline: { circle: { diameter: 170 } }, thickness: 6.35, index: 1.457 },
    part: { origin: [0, 0, 300], datums: DATUMS },
    references: [
      { id: 'back', kind: 'return' },
      { id: 'sphere', kind: 'datum', datum: 'S' },
      { id: 'plane', kind: 'datum', datum: 'P' },
      { id: 'cone', kind: 'datum', datum: 'C' },
      { id: 'torus', kind: 'datum', datum: 'T' },
      { id: 'screen', kind: 'screen', at: [0, 0, 600] },
    ],
    patches: [
      { id: 'back', reference: 'back', focus: 'return', centre: [0, 0], outline: ring(144, 150) },
      annulus('sphere', 110, 118),
      annulus('plane', 120, 128),
      annulus('cone', 130, 142),
      annulus('torus', 90, 100),
      {
        id: 'line',
        reference: 'screen',
        focus: 'line',
        lineAngle: 0,
        centre: [30, 0],
        outline: { rectangle: { width: 10, height: 8 } },
      },
      {
        id: 'spot',
        reference: 'screen',
        focus: 'point',
        centre: [0, 30],
        outline: { circle: { diameter: 9 } },
      },
    ],
    ...more,
  });
}

export const patchOf = (design: Design, id: string) => design.patches.find((patch) => patch.id === id)!;
