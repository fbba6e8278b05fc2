/** Invented designs for the drawings' tests: substrates and patches of every outline, few and many, small and large. */
import type { Design } from '../../../src/design/design.ts';
import { designScenario } from '../../../src/design/design-scenario.ts';
import type { Outline } from '../../../src/geometry/outline.ts';
import type { Vec2 } from '../../../src/geometry/vector.ts';
import type { DrawingWish } from '../../../src/scenario/drawing-wish.ts';
import type { KeepOut, Patch, Reference, Scenario } from '../../../src/scenario/scenario.ts';

export interface DrawnWish {
  readonly title?: string;
  readonly substrate?: Outline;
  readonly keepOuts?: readonly KeepOut[];
  readonly patches: readonly Patch[];
  readonly patternFaces?: 'part' | 'interferometer';
  readonly glass?: string;
}

/** A title block without words, but for those given. */
export const drawingWish = (given: Partial<DrawingWish>): DrawingWish => ({
  number: '',
  revision: '',
  owner: '',
  creator: '',
  approver: '',
  documentType: 'Layout drawing',
  page: '1 of 1',
  sheet: 'ISO',
  date: '',
  ...given,
});

export const circle = (radius: number, centre: Vec2 = [0, 0]): Outline => ({
  shape: 'circle',
  centre,
  radius,
});
export const square = (centre: Vec2, side: number, rotation = 0): Outline => ({
  shape: 'rectangle',
  centre,
  width: side,
  height: side,
  rotation,
});

const ellipse = (centre: Vec2, width: number, height: number, rotation: number): Outline => ({
  shape: 'ellipse',
  centre,
  width,
  height,
  rotation,
});

export function drawnDesign(wish: DrawnWish): Design {
  const references = [...new Set(wish.patches.map(({ reference }) => reference))].map((id, k): Reference => {
    const at = [30 * k - 100, 60 + 10 * k, 900] as const;
    const placed = { id, diameter: 38.1, at, given: 'substrate', touches: [] } as const;
    const kind = (['smr', 'ball', 'screen'] as const)[k % 3]!;
    return kind === 'smr' ? { ...placed, kind, cube: {} } : { ...placed, kind };
  });
  const scenario: Scenario = {
    title: wish.title ?? 'Invented mirror, reference patches',
    parameters: [],
    light: { given: 'air', wavelength: 632.8e-6 },
    interferometer: {
      beam: { kind: 'diverging', focus: [0, 0, -500] },
      fNumber: 3.2,
      beamDiameter: undefined,
      pixelsAcrossBeam: 1000,
      readable: 0.1,
    },
    substrate: {
      outline: wish.substrate ?? circle(75),
      thickness: 6.35,
      material: { glass: 'fused silica' },
      patternFaces: wish.patternFaces ?? 'part',
      edgeMargin: 3,
      clearance: 0.5,
    },
    keepOuts: wish.keepOuts ?? [{ id: 'main', pattern: true, outline: circle(45) }],
    process: {
      kind: 'etched',
      minFeature: 1e-3,
      dutyCycle: 0.5,
      tone: 'written is etched',
      etchDepth: undefined,
      etchTolerance: undefined,
      placement: 1e-4,
      opticalDensity: undefined,
      widthTolerance: undefined,
      placementStated: true,
    },
    part: {
      frame: {
        origin: [0, 0, 900],
        rotation: [
          [1, 0, 0],
          [0, 1, 0],
          [0, 0, 1],
        ],
      },
      rotation: [0, 0, 0],
      datums: [],
      envelope: [],
    },
    references,
    patches: wish.patches,
    measurements: [],
    wanted: {},
    stage: [],
    seats: [],
    obstacles: [],
  };
  const result = designScenario(scenario);
  if (!('design' in result)) throw new Error(result.findings.map(({ message }) => message).join('; '));
  return result.design;
}

export function patch(
  id: string,
  reference: string,
  outline: Outline,
  centre: Vec2,
  more: Partial<Patch> = {},
): Patch {
  return {
    id,
    reference,
    focus: 'line',
    centre,
    outline,
    lineAngle: Math.PI / 2,
    order: 1,
    bias: undefined,
    ...more,
  };
}

/** `count` square patches in rings around the middle, two to a reference. */
export function ringOfPatches(count: number, side: number, radii: readonly number[]): Patch[] {
  const perRing = Math.ceil(count / radii.length);
  return Array.from({ length: count }, (_, k) => {
    const angle = (2 * Math.PI * (k % perRing)) / perRing + 0.1;
    const radius = radii[Math.floor(k / perRing)]!;
    const centre: Vec2 = [radius * Math.cos(angle), radius * Math.sin(angle)];
    const bias = { shape: 'roof', fringes: 1, direction: undefined } as const;
    return patch(`smr-${k + 1}`, `target-${Math.floor(k / 2)}`, square(centre, side, angle), centre, {
      lineAngle: angle,
      ...(k % 2 === 0 ? { bias } : {}),
    });
  });
}

const SECTOR_CENTRE: Vec2 = [0, 0];
export const allOutlines: readonly Patch[] = [
  patch('round', 'north', circle(5, [0, 60]), [0, 60], { focus: 'point', lineAngle: undefined }),
  patch('turned', 'north', square([60, 0], 9, Math.PI / 6), [60, 0], { lineAngle: 0.3, order: -1 }),
  patch(
    'sector',
    'east',
    {
      shape: 'sector',
      centre: SECTOR_CENTRE,
      inner: 52,
      outer: 66,
      from: (200 * Math.PI) / 180,
      to: (250 * Math.PI) / 180,
    },
    SECTOR_CENTRE,
    { lineAngle: (225 * Math.PI) / 180 },
  ),
  patch(
    'polygon',
    'east',
    {
      shape: 'polygon',
      points: [
        [-60, 20],
        [-50, 20],
        [-48, 28],
        [-55, 33],
        [-61, 27],
      ],
    },
    [-55, 25],
  ),
  patch('return', 'west', { shape: 'ring', centre: [0, 0], inner: 69, outer: 71 }, [0, 0], {
    focus: 'point',
    lineAngle: undefined,
  }),
];

const turn = (value: number) => (value * Math.PI) / 180;
const small: Outline = square([0, 0], 8);

/** Each a name and the design, for tests that hold for all. */
export const DRAWN_DESIGNS: readonly (readonly [string, DrawnWish])[] = [
  ['2 patches', { patches: ringOfPatches(2, 10, [60]) }],
  ['6 patches', { patches: ringOfPatches(6, 10, [60]) }],
  ['12 patches', { patches: ringOfPatches(12, 10, [60]) }],
  ['40 patches', { patches: ringOfPatches(40, 6, [64, 52]) }],
  ['40 patches, no keep-out', { patches: ringOfPatches(40, 8, [65, 52, 39, 26]), keepOuts: [] }],
  ['all outlines', { patches: allOutlines, patternFaces: 'interferometer' }],
  [
    'tiny',
    {
      substrate: circle(10),
      keepOuts: [{ id: 'main', pattern: true, outline: circle(5) }],
      patches: ringOfPatches(6, 2, [7.5]),
    },
  ],
  [
    'tiny with 40 patches',
    { substrate: circle(10), keepOuts: [], patches: ringOfPatches(40, 1, [8.5, 6.5]) },
  ],
  [
    'large',
    {
      substrate: { shape: 'rectangle', centre: [0, 0], width: 600, height: 500, rotation: 0 },
      keepOuts: [{ id: 'main', pattern: true, outline: circle(180) }],
      patches: ringOfPatches(12, 25, [215]),
    },
  ],
  [
    'ring substrate',
    {
      substrate: { shape: 'ring', centre: [0, 0], inner: 20, outer: 75 },
      keepOuts: [],
      patches: ringOfPatches(8, 10, [50]),
    },
  ],
  [
    'sector substrate',
    {
      substrate: { shape: 'sector', centre: [0, -40], inner: 0, outer: 120, from: turn(30), to: turn(150) },
      keepOuts: [],
      patches: [patch('only', 'north', small, [0, 0])],
    },
  ],
  [
    'ellipses',
    {
      substrate: ellipse([0, 0], 170, 140, 0),
      keepOuts: [{ id: 'main', pattern: true, outline: ellipse([0, 0], 90, 60, turn(20)) }],
      patches: [patch('steep', 'north', ellipse([0, 52], 14, 9, turn(-35)), [0, 52])],
    },
  ],
  [
    'polygon substrate',
    {
      substrate: {
        shape: 'polygon',
        points: [
          [-50, -40],
          [60, -40],
          [60, 30],
          [20, 50],
          [-50, 50],
        ],
      },
      keepOuts: [],
      patches: [patch('one', 'north', small, [0, 0]), patch('two', 'north', square([30, 10], 12), [30, 10])],
    },
  ],
];

/** Markup, symbols and line ends of both formats, in every text that a scenario brings. */
const HOSTILE =
  '</title><script>alert("1")</script> & \'q\' ]]> %%d %%%%c ^J \\U+0041 \u0000\u001b\n0\nEOF\r\n\ud800 \u202etxt 𝛌';
export const HOSTILE_DESIGN = drawnDesign({
  title: HOSTILE,
  keepOuts: [{ id: HOSTILE, pattern: true, outline: circle(20) }],
  patches: [
    patch(HOSTILE, HOSTILE, square([0, 60], 10), [0, 60]),
    patch('__proto__', 'constructor', square([60, 0], 10), [60, 0]),
    patch('10', HOSTILE, square([1e-7, -60], 10), [1e-7, -60]),
  ],
});
