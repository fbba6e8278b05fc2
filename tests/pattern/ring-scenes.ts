/**
 * A decentred and tilted cone or torus that the light of a ring meets square on, glass on either side of the pattern: the words of a
 * scenario. mm, degrees; the wavelength in the scene's own number, mm, and in words for the program.
 */
import type { OutlineWords, Scene } from '../independent/scene.ts';

export const DATUMS = {
  /** Toward the axis: its light converges. */
  cone: { cone: { apex: [0, 0, -60], axis: [0, 0, 1], angle: 160 } },
  torus: { torus: { centre: [0, 0, 20], axis: [0, 0, 1], diameter: 70, tube: 20 } },
} as const;
export const CASES = [
  ['cone', 'part'],
  ['cone', 'interferometer'],
  ['torus', 'part'],
  ['torus', 'interferometer'],
] as const;
export type Case = (typeof CASES)[number];

export const ring = (inner: number, outer: number): OutlineWords => ({ ring: { inner, outer } });

export const ringScene = ([datum, patternFaces]: Case, outline: OutlineWords, isTilted = true): Scene => ({
  light: { wavelength: 632.8e-6 },
  interferometer: { focus: [0, 0, -500], fNumber: 3.2, pixelsAcrossBeam: 2000, readable: 0.1 },
  substrate: { outline: { circle: { diameter: 150 } }, thickness: 6.35, index: 1.457, patternFaces },
  part: {
    origin: isTilted ? [0.4, -0.3, 130] : [0, 0, 130],
    rotation: isTilted ? [0.2, -0.1, 0] : [0, 0, 0],
    datums: { D: DATUMS[datum] },
  },
  references: [{ id: 'd', kind: 'datum', datum: 'D' }],
  patches: [{ id: 'ring', reference: 'd', focus: 'normal', centre: [0, 0], outline }],
});

/** Both in one scene, each with a narrow ring of its own: `cone` within `torus`. */
export function bothRings(patternFaces: Case[1]): Scene {
  const one = ringScene(['cone', patternFaces], ring(40, 40.1));
  const [patch] = one.patches;
  return {
    ...one,
    title: 'Rings on a cone and a torus',
    part: { ...one.part, datums: DATUMS },
    references: [
      { id: 'cone', kind: 'datum', datum: 'cone' },
      { id: 'torus', kind: 'datum', datum: 'torus' },
    ],
    patches: [
      { ...patch!, id: 'cone-ring', reference: 'cone' },
      { ...patch!, id: 'torus-ring', reference: 'torus', outline: ring(48, 48.1) },
    ],
  };
}

/** As the program reads it. */
export const wordsOf = (scene: Scene) => ({
  format: 'datumlight/1',
  ...scene,
  light: { wavelength: `${scene.light.wavelength * 1e6} nm` },
});
