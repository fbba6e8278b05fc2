/**
 * A null test of a concave paraboloid, R 2000 mm, D 300 mm, in a diverging beam, with three cubes on the vertex plane at radius 220 mm
 * and two line patches each. No glass.
 */
import { linePatch, type Words } from './design-from.ts';

const CUBES = [0.2, 2.3, 4.4];
const PATCHES = [
  { from: 0.3, lineAngle: 0 },
  { from: 1.2, lineAngle: 90 },
];
const TURN = 2.1;
const around = (radius: number, azimuth: number): [number, number] => [
  radius * Math.cos(azimuth),
  radius * Math.sin(azimuth),
];

export const ORIGIN = [0, 0, 2600] as const;
export const PARABOLA = { radius: -2000, conic: -1, diameter: 300 } as const;

interface Changes {
  readonly test?: Words;
  readonly readable?: number;
  /** Patches of the two of each reference that are kept. */
  readonly patches?: readonly number[];
  readonly words?: Words;
}

export const parabolaScene = ({
  test = {},
  readable = 0.1,
  patches = [0, 1],
  words = {},
}: Changes = {}): Words => ({
  interferometer: { focus: [0, 0, -500], fNumber: 1.5, pixelsAcrossBeam: 4000, readable },
  substrate: { outline: { circle: { diameter: 240 } }, thickness: 0 },
  part: {
    origin: ORIGIN,
    datums: {
      M: { asphere: { vertex: [0, 0, 0], axis: [0, 0, 1], radius: PARABOLA.radius, conic: PARABOLA.conic } },
    },
  },
  references: CUBES.map((azimuth, k) => {
    return { id: `c${k}`, kind: 'smr', diameter: 38.1, frame: 'part', at: [...around(220, azimuth), 0] };
  }),
  patches: CUBES.flatMap((_, k) =>
    patches.map((which) => {
      const { from, lineAngle } = PATCHES[which]!;
      return linePatch(`c${k}-${which}`, `c${k}`, around(95, from + TURN * k), lineAngle, 8);
    }),
  ),
  test: { surface: 'M', aperture: { circle: { diameter: PARABOLA.diameter } }, order: 1, ...test },
  ...words,
});
