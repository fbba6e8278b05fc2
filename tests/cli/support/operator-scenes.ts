/**
 * Scenarios with every kind of patch, none of it symmetric, so that no mirror, turn or sign leaves it as it is; in beams that diverge,
 * converge and are collimated, without glass and with glass before and after the pattern, orders +1 and −1. mm and degrees.
 */
import type { Place2 } from '../../independent/round-trip.ts';

type Place3 = readonly [number, number, number];

export type OutlineWish =
  | { readonly circle: { readonly diameter: number } }
  | { readonly rectangle: { readonly width: number; readonly height: number; readonly rotation?: number } }
  | { readonly polygon: { readonly points: readonly Place2[] } };

export interface PatchWish {
  readonly id: string;
  readonly reference: string;
  readonly focus: 'point' | 'line';
  readonly centre: Place2;
  readonly outline: OutlineWish;
  readonly lineAngle?: number;
  readonly order?: 1 | -1;
  readonly bias?: {
    readonly shape: 'roof' | 'tilt';
    readonly fringes: number;
    readonly direction?: number;
  };
}

export interface ReferenceWish {
  readonly id: string;
  readonly kind: 'ball' | 'smr' | 'screen';
  readonly diameter?: number;
  readonly at: Place3;
}

export interface Scene {
  readonly name: string;
  readonly beam: {
    readonly focus?: Place3;
    readonly fNumber?: number;
    readonly collimated?: true;
    readonly beamDiameter?: number;
    readonly direction?: Place3;
  };
  readonly substrate: {
    readonly thickness: number;
    readonly index: number;
    readonly patternFaces: 'part' | 'interferometer';
  };
  readonly references: readonly ReferenceWish[];
  readonly patches: readonly PatchWish[];
}

export const WAVELENGTH = 632.8e-6;
export const PIXELS = 1000;
export const READABLE = 0.1;

const REFERENCES: readonly ReferenceWish[] = [
  { id: 'plain-ball', kind: 'ball', diameter: 25.4, at: [70, 30, 150] },
  { id: 'tilted-ball', kind: 'ball', diameter: 12.7, at: [-76, 41, 170] },
  { id: 'roofed-ball', kind: 'ball', diameter: 19.05, at: [31, -78, 160] },
  { id: 'far', kind: 'smr', diameter: 38.1, at: [120, 90, 1100] },
  { id: 'aside', kind: 'smr', diameter: 38.1, at: [-200, 15, 310] },
  { id: 'wall', kind: 'screen', at: [10, -20, 900] },
];

const PATCHES: readonly PatchWish[] = [
  { id: 'ball-plain', reference: 'plain-ball', focus: 'point', centre: [52, 14], outline: circle(12) },
  {
    ...{ id: 'ball-tilt', reference: 'tilted-ball', focus: 'point', centre: [-50, 22], outline: circle(11) },
    bias: { shape: 'tilt', fringes: 2, direction: 35 },
  },
  {
    ...{ id: 'ball-roof', reference: 'roofed-ball', focus: 'point', centre: [20, -54] },
    outline: rectangle(12, 10, 10),
    bias: { shape: 'roof', fringes: 1.5, direction: 110 },
  },
  {
    ...{ id: 'line-roof', reference: 'far', focus: 'line', lineAngle: 70, centre: [-14, 56] },
    outline: rectangle(10, 9, 70),
    bias: { shape: 'roof', fringes: 1 },
  },
  {
    ...{ id: 'line-plain', reference: 'far', focus: 'line', lineAngle: 15, centre: [-55, -12] },
    outline: rectangle(8, 12, 15),
  },
  {
    ...{ id: 'line-tilt', reference: 'far', focus: 'line', lineAngle: 160, centre: [22, 50] },
    outline: rectangle(10, 8, 70),
    bias: { shape: 'tilt', fringes: 2, direction: 70 },
  },
  {
    ...{ id: 'line-oblique', reference: 'aside', focus: 'line', lineAngle: 100, centre: [-50, -34] },
    outline: {
      polygon: {
        points: [
          [-5, -5],
          [6, -4],
          [4, 5],
          [-5, 4],
        ],
      },
    },
    bias: { shape: 'roof', fringes: 2 },
  },
  {
    ...{ id: 'on-screen', reference: 'wall', focus: 'line', lineAngle: 40, centre: [56, -14] },
    outline: rectangle(8, 8),
  },
];

function circle(diameter: number): OutlineWish {
  return { circle: { diameter } };
}
function rectangle(width: number, height: number, rotation = 0): OutlineWish {
  return { rectangle: { width, height, rotation } };
}

const DIVERGING: Scene['beam'] = { focus: [2, -1, -500], fNumber: 3.2 };
const CONVERGING: Scene['beam'] = { focus: [-3, 2, 1200], fNumber: 7.5 };
const COLLIMATED: Scene['beam'] = { collimated: true, beamDiameter: 160 };
const NO_GLASS = { thickness: 0, index: 1.5, patternFaces: 'part' } as const;
const BEFORE = { thickness: 6.35, index: 1.457, patternFaces: 'part' } as const;
const AFTER = { thickness: 9.5, index: 1.507, patternFaces: 'interferometer' } as const;

/** Orders take turns over the patches, the other way in every other scene. */
const scene = (k: number, name: string, beam: Scene['beam'], substrate: Scene['substrate']): Scene => ({
  ...{ name, beam, substrate, references: REFERENCES },
  patches: PATCHES.map((patch, i) => ({ ...patch, order: (i + k) % 2 === 0 ? 1 : -1 })),
});

/** So far to the side that a motion across the light is one along z: said as toward the hologram, or away from it. */
const GRAZING: Scene = {
  ...scene(0, 'far to the side', DIVERGING, NO_GLASS),
  references: [
    { id: 'right', kind: 'smr', diameter: 38.1, at: [600, 30, 90] },
    { id: 'left', kind: 'smr', diameter: 38.1, at: [-620, -40, 80] },
  ],
  patches: [
    {
      ...{ id: 'seen-right', reference: 'right', focus: 'line', lineAngle: 85, centre: [52, 14] },
      outline: rectangle(9, 9),
      bias: { shape: 'roof', fringes: 1 },
    },
    {
      ...{ id: 'seen-left', reference: 'left', focus: 'line', lineAngle: 95, centre: [-51, 10], order: -1 },
      outline: rectangle(9, 9),
      bias: { shape: 'roof', fringes: 1 },
    },
  ],
};

export const SCENES: readonly Scene[] = [
  scene(0, 'diverging, no glass', DIVERGING, NO_GLASS),
  scene(1, 'diverging, glass after', DIVERGING, AFTER),
  scene(0, 'converging, glass before', CONVERGING, BEFORE),
  scene(1, 'collimated, no glass', COLLIMATED, NO_GLASS),
  scene(0, 'collimated, glass after', COLLIMATED, AFTER),
  GRAZING,
];

/** As a scenario file: JSON is YAML. */
export const scenarioText = (of: Scene, more: Readonly<Record<string, unknown>> = {}): string =>
  JSON.stringify({
    format: 'datumlight/1',
    title: of.name,
    light: { wavelength: '632.8 nm' },
    interferometer: { ...of.beam, pixelsAcrossBeam: PIXELS, readable: READABLE },
    substrate: { outline: { circle: { diameter: 150 } }, ...of.substrate },
    references: of.references,
    patches: of.patches,
    ...more,
  });
