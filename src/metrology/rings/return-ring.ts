/**
 * What a return ring tells of the hologram's own alignment to the interferometer, and how much of its tilt is harmless.
 *
 * The ring's light goes back on itself at the pattern, Wλ = 2E_in + mλΦ, so that a hologram moved by T + θ × r (about the substrate
 * frame's origin) shows 2ΔE_in, ΔE_in the change of the beam as the hologram sees it. To first order 2D·θ/λ fringes for a tilt θ
 * over the width D; a lateral move of a hologram in a beam focused at F tilts it by as much as θ = T/|F_z|. mm, radians.
 */
import type { Design, DesignedPatch } from '../../design/design.ts';
import { boundaryPoints, joined, latticePoints } from '../../geometry/sampling.ts';
import type { Vec3 } from '../../geometry/vector.ts';
import { isReadBy } from '../../kinds/kinds.ts';
import { DEGREES, type Degree } from '../../scenario/scenario.ts';
import { misalignments } from '../budget/hologram-alignment.ts';
import { COMMON_PRACTICE } from '../budget/practice.ts';
import { readingsOf } from '../budget/readings.ts';
import { benchState } from '../camera/fringe-picture-displacements.ts';

/** Fringes over a patch, peak to valley, for each mm and each radian of a body's motion. */
export interface MotionFringes {
  readonly fringesPerMm: Readonly<Record<'x' | 'y' | 'z', number>>;
  readonly fringesPerRad: Readonly<Record<'rx' | 'ry' | 'rz', number>>;
}

/** A motion small enough to be told by its first order: mm, radians. */
export const STEP = { move: 1e-3, turn: 1e-6 } as const;

const INSIDE = 60;
const ON_EDGE = 60;

/** Points of a patch by which its fringes are counted from peak to valley. */
export const countedPoints = ({ outline }: DesignedPatch) =>
  joined(latticePoints(outline, INSIDE), boundaryPoints(outline, ON_EDGE));

/** A motion in one degree: mm along an axis, or radians about it. */
export function motionIn(degree: Degree, amount: number): readonly [move: Vec3, turn: Vec3] {
  const along = DEGREES.indexOf(degree) % 3;
  const still: Vec3 = [0, 0, 0];
  const motion = still.map((_, k) => (k === along ? amount : 0)) as unknown as Vec3;
  return degree.startsWith('r') ? [still, motion] : [motion, still];
}

/** `waves` of the patch for a motion: what it shows beyond the design place. */
export function motionFringes(waves: (move: Vec3, turn: Vec3) => Float64Array): MotionFringes {
  const seen = (degree: Degree): number => {
    const step = degree.startsWith('r') ? STEP.turn : STEP.move;
    const shown = waves(...motionIn(degree, step));
    return (Math.max(...shown) - Math.min(...shown)) / step;
  };
  const counted = DEGREES.map((degree) => [degree, seen(degree)] as const);
  return {
    fringesPerMm: Object.fromEntries(counted.slice(0, 3)) as MotionFringes['fringesPerMm'],
    fringesPerRad: Object.fromEntries(counted.slice(3)) as MotionFringes['fringesPerRad'],
  };
}

/** Of the hologram, in the substrate frame about its origin; undefined for a patch that is no return ring. */
export function returnRingFringes(design: Design, patch: DesignedPatch): MotionFringes | undefined {
  if (!isReadBy(patch.reference, 'alignment')) return undefined;
  const { xs, ys } = countedPoints(patch);
  const perPath = 2 / design.light.wavelength;
  return motionFringes((translation, rotation) => {
    const { incident } = benchState(design, { hologram: { translation, rotation } });
    const waves = new Float64Array(xs.length);
    incident.accumulate(xs, ys, perPath, waves, xs.length);
    design.beam.eikonal.accumulate(xs, ys, -perPath, waves, xs.length);
    return waves;
  });
}

interface HarmlessTilt {
  /** Fringes of tilt over the whole beam that move no reference against the test wavefront by more than its reading resolves. */
  readonly fringes: number;
  /** The reading that allows no more. */
  readonly limitedBy: string;
}

/** Undefined where nothing is read, or nothing moves. */
export function harmlessTilt(design: Design): HarmlessTilt | undefined {
  const readings = readingsOf(design);
  const practice = { ...COMMON_PRACTICE, alignmentReading: 1 };
  const found = misalignments(design, readings, practice, design.beam.cameraDiameter)
    .filter(({ name }) => name !== 'z')
    .flatMap(({ u: perFringe, effects: { at, by } }) =>
      at.map((number, k): HarmlessTilt => {
        const { u, name } = readings[number]!;
        return { fringes: u / Math.abs(by[k]! * perFringe), limitedBy: name };
      }),
    )
    .filter(({ fringes }) => Number.isFinite(fringes));
  return found.length === 0 ? undefined : found.reduce((a, b) => (b.fringes < a.fringes ? b : a));
}
