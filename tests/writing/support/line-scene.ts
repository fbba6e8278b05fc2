/**
 * Small patches whose fringes run every way: straight ones (a plane met square on in collimated light) upright, level, oblique and single,
 * arched ones, some that leave over the corners, a roof's, and those of a ring. Written to 0.4 of their period; mm.
 */
import type { OutlineWords, PatchWords, Scene } from '../../independent/scene.ts';

const WAVELENGTH = 632.8e-6;
export const DUTY = 0.4;

/** A plane that makes straight fringes of this period, mm, whose phase rises along the angle, degrees. */
const planeFor = (period: number, angle: number) => {
  const sine = WAVELENGTH / period;
  const [c, s] = [Math.cos((angle * Math.PI) / 180), Math.sin((angle * Math.PI) / 180)];
  return {
    plane: { point: [0, 0, 0], normal: [-sine * c, -sine * s, -Math.sqrt(1 - sine * sine)] },
  } as const;
};

/** Period in mm, and where the phase rises, by patch. */
export const STRAIGHT = {
  upright: { period: 0.01, angle: 0 },
  level: { period: 0.01, angle: 90 },
  oblique: { period: 0.012, angle: 215 },
  single: { period: 0.04, angle: 180 },
  // Half a degree off its sides, the last edge leaving over a corner.
  slanting: { period: 0.01, angle: 90.5 },
} as const;

const OUTLINES: Readonly<Record<keyof typeof STRAIGHT, OutlineWords>> = {
  upright: { rectangle: { width: 0.123, height: 0.07 } },
  level: { rectangle: { width: 0.06, height: 0.131 } },
  oblique: { rectangle: { width: 0.1, height: 0.08, rotation: 10 } },
  single: { rectangle: { width: 0.053, height: 0.09 } },
  slanting: { rectangle: { width: 0.31, height: 0.05026 } },
};

const straight = Object.entries(OUTLINES).map(([id, outline], k): PatchWords => {
  return { id, reference: id, focus: 'normal', centre: [3 * k - 5, 2 - k], outline };
});

export const LINE_SCENE: Scene = {
  light: { wavelength: WAVELENGTH },
  interferometer: { collimated: true },
  substrate: { outline: { circle: { diameter: 60 } } },
  process: { dutyCycle: DUTY },
  part: {
    origin: [0, 0, 300],
    datums: Object.fromEntries(
      Object.entries(STRAIGHT).map(([id, { period, angle }]) => [id, planeFor(period, angle)]),
    ),
  },
  references: [
    ...straight.map(({ id }) => ({ id, kind: 'datum', datum: id }) as const),
    { id: 'ball', kind: 'ball', diameter: 12.7, at: [20, 3, 300] },
    { id: 'cube', kind: 'smr', diameter: 12.7, at: [9, 14, 500] },
  ],
  patches: [
    ...straight,
    {
      id: 'arched',
      reference: 'ball',
      focus: 'point',
      centre: [12, 9],
      outline: { circle: { diameter: 0.15 } },
    },
    {
      id: 'roof',
      reference: 'cube',
      focus: 'line',
      lineAngle: 70,
      centre: [10, 10],
      outline: { rectangle: { width: 0.3, height: 0.2, rotation: -15 } },
      bias: { shape: 'roof', fringes: 12 },
    },
    {
      id: 'ring',
      reference: 'ball',
      focus: 'point',
      centre: [-12, 9],
      outline: { ring: { inner: 0.12, outer: 0.24 } },
    },
  ],
};
