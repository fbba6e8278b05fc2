/**
 * Invented scenes with every kind of beam, glass, focus and datum feature. Nothing in them lies on an axis of symmetry, so that x
 * for y, a mirrored pattern, a sign or an order left out shows. mm, degrees, order by order.
 */
import type { DatumWords, PatchWords, Point, ReferenceWords, Scene } from '../../independent/scene.ts';

export const BEAMS: Readonly<Record<string, Scene['interferometer']>> = {
  diverging: { focus: [4, -3, -480], fNumber: 3.2 },
  converging: { focus: [-5, 2, 1100], fNumber: 7 },
  collimated: { collimated: true },
  'oblique collimated': { collimated: true, direction: [0.02, -0.01, 1] },
};

type Substrate = Scene['substrate'];
const outline = { circle: { diameter: 170 } } as const;
export const GLASSES: Readonly<Record<string, Substrate>> = {
  'no glass': { outline },
  'glass before the pattern': { outline, thickness: 6.35, index: 1.457 },
  'glass after the pattern': { outline, thickness: 9, index: 1.507, patternFaces: 'interferometer' },
};

/** In the part's frame, which is moved and turned out of every axis. */
export const PART = { origin: [2, -3, 300], rotation: [0.3, -0.4, 5] } as const;
export const DATUMS: Readonly<Record<string, DatumWords>> = {
  plane: { plane: { point: [0, 0, 4], normal: [0.01, 0.02, -1] } },
  cone: { cone: { apex: [1, 0, -60], axis: [0, 0, 1], angle: 160 } },
  funnel: { cone: { apex: [0, 1, 40], axis: [0, 0, -1], angle: 150, side: 'inside' } },
  ball: { sphere: { centre: [0, 2, 100], diameter: 260 } },
  hollow: { sphere: { centre: [3, 1, -420], diameter: 1000, side: 'inside' } },
  bead: { torus: { centre: [1, 1, 20], axis: [0, 0, 1], diameter: 70, tube: 20 } },
  groove: { torus: { centre: [-1, 2, -380], axis: [0, 0, 1], diameter: 300, tube: 298, side: 'inside' } },
};

const REFERENCES: readonly ReferenceWords[] = [
  { id: 'near', kind: 'ball', diameter: 12.7, at: [30, 70, 130] },
  { id: 'far', kind: 'smr', diameter: 38.1, at: [-120, 260, 2900] },
  { id: 'wall', kind: 'screen', at: [150, 40, 620] },
  { id: 'itself', kind: 'return' },
  ...Object.keys(DATUMS).map((datum): ReferenceWords => ({ id: `on-${datum}`, kind: 'datum', datum })),
];

const CENTRES: readonly Point[] = [
  [33, -21],
  [52, -49],
  [17, -63],
  [24, -9],
  [-36, 11],
  [-38, -37],
  [-63, -33],
];
const square = (datum: string, k: number): PatchWords => ({
  id: datum,
  reference: `on-${datum}`,
  focus: 'normal',
  centre: CENTRES[k]!,
  outline: { rectangle: { width: 9, height: 5, rotation: 15 * k } },
  order: [1, -1, 2, -2][k % 4]!,
});

export const PATCHES: readonly PatchWords[] = [
  { id: 'spot', reference: 'near', focus: 'point', centre: [18, 52], outline: { circle: { diameter: 11 } } },
  {
    id: 'tilted',
    reference: 'near',
    focus: 'point',
    centre: [41, 43],
    outline: { rectangle: { width: 10, height: 7, rotation: 20 } },
    order: 2,
    bias: { shape: 'tilt', fringes: 3, direction: 35 },
  },
  {
    id: 'ridge',
    reference: 'far',
    focus: 'line',
    centre: [-31, 49],
    outline: { rectangle: { width: 12, height: 8, rotation: -25 } },
    lineAngle: 70,
    order: -1,
    bias: { shape: 'roof', fringes: 2 },
  },
  {
    id: 'corners',
    reference: 'wall',
    focus: 'line',
    centre: [57, -14],
    outline: {
      polygon: {
        points: [
          [-5, -4],
          [6, -5],
          [4, 5],
          [-2, 4],
        ],
      },
    },
    lineAngle: -25,
    order: -2,
  },
  {
    id: 'disc',
    reference: 'wall',
    focus: 'line',
    centre: [-17, 64],
    outline: { circle: { diameter: 9 } },
    lineAngle: 130,
    order: 2,
    bias: { shape: 'roof', fringes: 3, direction: 20 },
  },
  {
    id: 'slope',
    reference: 'far',
    focus: 'point',
    centre: [44, 18],
    outline: { circle: { diameter: 13 } },
    order: -2,
    bias: { shape: 'tilt', fringes: 5, direction: 110 },
  },
  {
    id: 'itself',
    reference: 'itself',
    focus: 'return',
    centre: [3, -2],
    outline: { ring: { inner: 134, outer: 140 } },
    order: -1,
    bias: { shape: 'tilt', fringes: 2, direction: 60 },
  },
];
const ON_DATUMS = Object.keys(DATUMS).map(square);

/** Every focus and datum feature in one beam through one glass. */
export function benchScene(beam: string, glass: string): Scene {
  return {
    light: { wavelength: 632.8e-6 },
    interferometer: BEAMS[beam]!,
    substrate: GLASSES[glass]!,
    part: { ...PART, datums: DATUMS },
    references: REFERENCES,
    patches: [...PATCHES, ...ON_DATUMS],
  };
}
