/**
 * A bench with every kind of patch, for the figures of a report: a ball, three retroreflectors held to the part and a small one, a
 * screen, a return ring and seats on the glass; and two datum features, in a scene of their own. Nothing on an axis of symmetry; no glass in the way, so that plain
 * distances tell the figures. mm, degrees.
 */
import type { OutlineWords, PatchWords, Point, Scene } from '../../independent/scene.ts';
import { DATUMS, PART } from './bench-scenes.ts';

export const READABLE = 0.08;
export const PIXELS = 1200;
export const F_NUMBER = 3.2;
export const FOCUS = [4, -3, -480] as const;
export const DUTY_CYCLE = 0.42;
/** Standard uncertainty of the measured length, along z. */
export const SPACER = 0.012;
export const CENTRING = 0.004;
/** Of each seat, standard uncertainties by axis. */
export const SEATS = [
  { id: 'east', kind: 'ball', diameter: 6, at: [76, 8], face: 'part', uncertainty: 0.002 },
  { id: 'north', kind: 'ball', diameter: 8, at: [-30, 71], face: 'part', height: 9, uncertainty: 0.003 },
  { id: 'south', kind: 'ball', diameter: 6, at: [-34, -69], face: 'interferometer', uncertainty: 0.0025 },
] as const;

const box = (width: number, height: number, rotation = 0): OutlineWords => ({
  rectangle: { width, height, rotation },
});
const line = (
  id: string,
  reference: string,
  centre: Point,
  lineAngle: number,
  outline: OutlineWords,
  more: Partial<PatchWords> = {},
): PatchWords => ({ id, reference, focus: 'line', centre, lineAngle, outline, ...more });

/** Beam, glass, process and part, the same for both scenes. */
const BENCH = {
  light: { wavelength: 632.8e-6 },
  interferometer: {
    focus: FOCUS,
    fNumber: F_NUMBER,
    pixelsAcrossBeam: PIXELS,
    readable: READABLE,
    laserPower: '2 mW',
  },
  substrate: { outline: { circle: { diameter: 170 } } },
  process: { kind: 'chrome', minFeature: 0.0009, dutyCycle: DUTY_CYCLE, placement: 0.00013 },
  part: { ...PART, datums: { plane: DATUMS.plane!, ball: DATUMS.ball! } },
} as const;

/** Balls, retroreflectors, screen and return ring. */
export const REPORT_SCENE: Scene = {
  ...BENCH,
  seats: SEATS,
  references: [
    { id: 'near', kind: 'ball', diameter: 12.7, at: [30, 70, 130] },
    {
      id: 'left',
      kind: 'smr',
      diameter: 38.1,
      at: [-140, 30, 500],
      frame: 'part',
      centring: CENTRING,
      roll: 12,
    },
    {
      id: 'right',
      kind: 'smr',
      diameter: 38.1,
      at: [130, -50, 520],
      frame: 'part',
      centring: CENTRING,
      acceptance: 25,
    },
    { id: 'top', kind: 'smr', diameter: 38.1, at: [20, 150, 480], frame: 'part', centring: CENTRING },
    { id: 'small', kind: 'smr', diameter: 12.7, at: [-60, -90, 700], axis: [0.2, 0.1, -1] },
    { id: 'wall', kind: 'screen', at: [150, 40, 620] },
    { id: 'itself', kind: 'return' },
  ],
  measurements: [{ id: 'spacer', reference: 'left', direction: [0, 0, 1], uncertainty: SPACER }],
  patches: [
    {
      id: 'spot',
      reference: 'near',
      focus: 'point',
      centre: [18, 52],
      outline: { circle: { diameter: 11 } },
      bias: { shape: 'tilt', fringes: 3, direction: 35 },
    },
    {
      id: 'folded',
      reference: 'near',
      focus: 'point',
      centre: [41, 43],
      outline: box(10, 7, 20),
      order: 2,
      bias: { shape: 'roof', fringes: 2, direction: 20 },
    },
    line('left-a', 'left', [-52, 8], 25, box(12, 8, 25), { bias: { shape: 'roof', fringes: 2 } }),
    line('left-b', 'left', [-49, -14], 100, box(9, 11, 10), { order: -1 }),
    line('right-a', 'right', [51, -12], 15, box(10, 12, 15), {
      order: -2,
      bias: { shape: 'roof', fringes: 1 },
    }),
    line('right-b', 'right', [33, -38], 110, box(8, 12, 20)),
    line('right-c', 'right', [61, 11], 60, box(11, 9, 60)),
    line('top-a', 'top', [-14, 61], 5, box(12, 10, 5)),
    line('top-b', 'top', [5, 58], 92, box(9, 12, 2), { bias: { shape: 'roof', fringes: 1.5 } }),
    line('top-c', 'top', [-36, 42], 40, box(10, 10, 40)),
    line('long', 'small', [-23, -48], 33, box(26, 6, 33)),
    line('bar', 'wall', [57, -29], -25, box(10, 8, -25)),
    { id: 'dot', reference: 'wall', focus: 'point', centre: [24, -57], outline: { circle: { diameter: 9 } } },
    {
      id: 'itself',
      reference: 'itself',
      focus: 'return',
      centre: [3, -2],
      outline: { ring: { inner: 134, outer: 140 } },
    },
  ],
};

/** Features of the part that light meets square on. */
export const DATUM_SCENE: Scene = {
  ...BENCH,
  references: [
    { id: 'on-plane', kind: 'datum', datum: 'plane' },
    { id: 'on-ball', kind: 'datum', datum: 'ball' },
  ],
  patches: [
    {
      id: 'plane',
      reference: 'on-plane',
      focus: 'normal',
      centre: [1, 2],
      outline: { ring: { inner: 40, outer: 46 } },
      order: -1,
    },
    {
      id: 'land',
      reference: 'on-ball',
      focus: 'normal',
      centre: [0, 3],
      outline: { ring: { inner: 28, outer: 36 } },
    },
  ],
};
