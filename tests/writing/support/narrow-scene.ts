/**
 * Patches whose narrowest line or space is where Φ turns back: about the foot of a zone plate (a disc that is a line, one that is a
 * space), and on a ridge. How wide it is there follows from Φ by hand. mm, waves.
 */
import type { PatchWords, Scene } from '../../independent/scene.ts';

const WAVELENGTH = 632.8e-6;
export const DUTY = 0.3;
const FOCUS = 20;

/** How far off the foot of the focus a patch has its centre, where Φ is 0, so that Φ is `waves` at the foot: √(u² + f²) = f + waves·λ. */
const offFor = (waves: number): number => Math.sqrt((FOCUS + waves * WAVELENGTH) ** 2 - FOCUS ** 2);
/** Of Φ from the foot to a radius, waves. */
const dropTo = (radius: number): number => (Math.hypot(radius, FOCUS) - FOCUS) / WAVELENGTH;

interface Narrow {
  readonly kind: 'line' | 'space';
  readonly width: number;
  readonly at: readonly [number, number];
  /** Directions across it; of a ridge there is one. */
  readonly across: readonly (readonly [number, number])[];
}

const ALL_ROUND = [
  [1, 0],
  [0.6, 0.8],
] as const;

/** Radii of the discs, mm: their level is so little under Φ at the foot. */
const LINE_DISC = 0.003;
const SPACE_DISC = 0.005;
/** Half the space on a ridge, mm, and the roof's slope, waves/mm: 40 fringes there and back are 20 waves over half the patch. */
const OFF_RIDGE = 0.003;
const ROOF = 20 / 0.25;

export const NARROW: Readonly<Record<string, Narrow>> = {
  lineDisc: { kind: 'line', width: 2 * LINE_DISC, at: [0, 0], across: ALL_ROUND },
  spaceDisc: { kind: 'space', width: 2 * SPACE_DISC, at: [8, 0], across: ALL_ROUND },
  ridge: { kind: 'space', width: 2 * OFF_RIDGE, at: [-8, 0], across: [[1, 0]] },
};

const plate = (id: string, foot: number, waves: number): PatchWords => ({
  id,
  reference: id,
  focus: 'point',
  centre: [foot + offFor(waves), 0],
  outline: { circle: { diameter: 0.5 } },
});

export const NARROW_SCENE: Scene = {
  light: { wavelength: WAVELENGTH },
  interferometer: { collimated: true },
  substrate: { outline: { circle: { diameter: 60 } } },
  process: { dutyCycle: DUTY },
  part: { origin: [0, 0, 300] },
  references: [
    { id: 'lineDisc', kind: 'screen', at: [0, 0, FOCUS] },
    { id: 'spaceDisc', kind: 'screen', at: [8, 0, FOCUS] },
    { id: 'ridge', kind: 'ball', diameter: 1, at: [-8, 0, FOCUS] },
  ],
  // Φ falls from the foot outward: a line begins at 1 wave, a space at the duty.
  patches: [
    plate('lineDisc', 0, 1 + dropTo(LINE_DISC)),
    plate('spaceDisc', 8, DUTY + dropTo(SPACE_DISC)),
    // The ridge runs along y through the foot; off it Φ rises to the next line on either side.
    {
      id: 'ridge',
      reference: 'ridge',
      focus: 'point',
      centre: [-8, offFor(1 - ROOF * OFF_RIDGE + dropTo(OFF_RIDGE))],
      outline: { circle: { diameter: 0.5 } },
      bias: { shape: 'roof', fringes: 40 },
    },
  ],
};
