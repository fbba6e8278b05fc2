/**
 * Three rings on one hologram, by the program's words and for rays traced one by one: a return ring, and light at normal incidence on a sphere
 * and on a plane of the part; the pattern on either side of its glass, in a diverging beam off its axis, a converging or a collimated one.
 */
import type { Feature, RingBench } from '../../independent/ring-bench.ts';
import { designFrom, type Words } from './design-from.ts';
import { ring } from './full-bench.ts';

const LAMBDA = 632.8e-6;
const ORIGIN = [0, 0, 300] as const;
const CENTRE = [0, 0, 400] as const;
const FOCUS = [3, -2, -500] as const;
const GLASS = { thickness: 9.5, index: 1.457 };
export const RINGS = { back: [64, 67], sphere: [40, 45], plane: [52, 57] } as const;
const FEATURES: Readonly<Record<string, Feature>> = {
  sphere: { shape: 'sphere', centre: CENTRE, radius: 130 },
  plane: { shape: 'plane', point: ORIGIN },
};

interface MoreRing {
  readonly id: string;
  readonly reference: string;
  readonly inner: number;
  readonly outer: number;
}

const words = (faces: string, beam: Words, more: readonly MoreRing[]): Words => ({
  interferometer: { ...beam, pixelsAcrossBeam: 2000, readable: 0.1 },
  substrate: { outline: { circle: { diameter: 160 } }, ...GLASS, patternFaces: faces },
  part: {
    origin: ORIGIN,
    datums: {
      S: { sphere: { centre: [0, 0, 100], diameter: 260 } },
      P: { plane: { point: [0, 0, 0], normal: [0, 0, -1] } },
    },
  },
  references: [
    { id: 'back', kind: 'return' },
    { id: 'sphere', kind: 'datum', datum: 'S' },
    { id: 'plane', kind: 'datum', datum: 'P' },
  ],
  patches: [
    ...Object.entries(RINGS).map(([id, [inner, outer]]) => ({ id, reference: id, inner, outer })),
    ...more,
  ].map(({ id, reference, inner, outer }) => ({
    ...{ id, reference, focus: reference === 'back' ? 'return' : 'normal', centre: [0, 0] },
    outline: ring(2 * inner, 2 * outer),
  })),
});
const BEAMS = {
  diverging: { focus: FOCUS, fNumber: 3 },
  converging: { focus: [-2, 4, 700], fNumber: 4 },
  collimated: { collimated: true, beamDiameter: 155 },
} as const;

const FACES = { before: 'part', after: 'interferometer' } as const;
export type Side = keyof typeof FACES;
type Light = keyof typeof BEAMS;

export const ringDesign = (side: Side, light: Light = 'diverging', more: readonly MoreRing[] = []) =>
  designFrom(words(FACES[side], BEAMS[light], more));

export function ringBench(id: string, side: Side, light: Light = 'diverging'): RingBench {
  const { focus } = BEAMS[light] as { readonly focus?: RingBench['focus'] };
  return {
    ...{ wavelength: LAMBDA, origin: ORIGIN, glass: { ...GLASS, side } },
    ...(focus === undefined ? {} : { focus }),
    ...(FEATURES[id] === undefined ? {} : { feature: FEATURES[id] }),
  };
}
