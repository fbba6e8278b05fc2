/**
 * Frames taken at random of a scene: everything off by some fringes, the camera turned as it likes, misplaced, with a lens that distorts,
 * and a detector that is none of the best. mm, fringes, pixels.
 */
import type { CameraFrame } from '../../../../src/scenario/camera-frame.ts';
import { SIXTEEN, type Turn } from '../../../independent/camera-seen.ts';
import type { FrameCamera } from '../../../independent/frame-camera.ts';
import { type Detector, detected } from '../../../independent/frame-detector.ts';
import { tracedFrame } from '../../../independent/frame-traced.ts';
import { axesOf } from '../../../independent/frame-truth.ts';
import type { deviates } from '../../../independent/random.ts';
import type { Vector } from '../../../independent/ray.ts';
import type { FrameScene } from './scenes.ts';
import { type Off, type TracedPatch, tracedBench } from './traced-bench.ts';

type Random = ReturnType<typeof deviates>;
type Design = FrameScene['design'];

export interface Taken {
  /** In the order of their steps. */
  readonly frames: readonly CameraFrame[];
  readonly camera: FrameCamera;
  readonly patches: readonly (TracedPatch & { readonly visibility: number })[];
}

/** What spoils a patch on purpose. */
export type Spoiled = 'dark' | 'saturated' | 'no-fringes';

export interface Wishes {
  readonly pixels: number;
  /** At random where undefined. */
  readonly turn?: Turn;
  /** One that stands as it did; in place of a camera at random. */
  readonly camera?: FrameCamera;
  readonly noise: number;
  readonly distortion: number;
  readonly detector?: Partial<Detector>;
  readonly surround?: number;
  /** Mean of the fringes over full scale. */
  readonly level?: number;
  /** Frames in phase steps, the path of the return longer by `STEP` from each to the next; default one. */
  readonly steps?: number;
}

/** Waves. */
const STEP = 0.2;

/** Waves of tilt and of power that a frame is off by, at most. */
export const MOST_TILT = 4;
const MOST_POWER = 0.5;
const BELOW = 0.6;
/** mm along a line, and toward and from it: hardly seen. */
const UNSEEN = [0.2, 0.2] as const;
/** Of rings: mm and radians of the hologram and of the part, some fringes each. */
const RING_MOVES = [3e-3, 3e-3, 0.05, 5e-6, 5e-6, 0];

/** References off by up to so many fringes of each of their patches, by N = 2Dq/(λs) and N = q(D/2s)²/λ. */
export function randomOff(design: Design, { uniform }: Random, tilt = MOST_TILT): Off {
  const upTo = (most: number): number => most * (2 * uniform() - 1);
  const { wavelength } = design.light;
  const own = new Map<string, Vector>();
  for (const { reference, centre, asked, outline, id } of design.patches) {
    if (outline.shape === 'ring' || own.has(reference.id)) continue;
    const target = reference.at;
    const isLine = asked.focus === 'line';
    const patch = { id, target, centre, outline, ...(isLine ? { lineAngle: asked.lineAngle! } : {}) };
    const [first, second] = axesOf(patch);
    const distance = Math.hypot(target[0] - centre[0], target[1] - centre[1], target[2]);
    const width =
      outline.shape === 'circle' ? 2 * outline.radius : outline.shape === 'rectangle' ? outline.width : 10;
    const perFringe = (wavelength * distance) / (2 * width);
    const ray = [target[0] - centre[0], target[1] - centre[1], target[2]].map((v) => v / distance);
    // Below a tilt that is the bias the sign can be told by who knows that it is.
    const most = asked.bias?.shape === 'tilt' ? Math.min(tilt, BELOW * asked.bias.fringes) : tilt;
    const by = isLine
      ? [upTo(tilt) * perFringe, upTo(UNSEEN[0]), upTo(UNSEEN[1])]
      : [
          upTo(most) * perFringe,
          upTo(most) * perFringe,
          upTo(MOST_POWER) * wavelength * ((2 * distance) / width) ** 2,
        ];
    own.set(
      reference.id,
      [0, 1, 2].map((k) => by[0]! * first[k]! + by[1]! * second[k]! + by[2]! * ray[k]!) as unknown as Vector,
    );
  }
  const six = (): number[] => RING_MOVES.map(upTo);
  const [x, y, z, a, b, c] = six() as [number, number, number, number, number, number];
  if (!design.patches.some(({ outline }) => outline.shape === 'ring')) return { own };
  const rotation = [
    [1, -c, b],
    [c, 1, -a],
    [-b, a, 1],
  ] as const;
  return { own, hologram: six(), part: { rotation, shift: [x, y, z] } };
}

export function taker({ design, features }: FrameScene) {
  const bench = tracedBench(design, features);
  return (
    random: Random,
    off: Off,
    wishes: Wishes,
    spoil: (k: number) => Spoiled | undefined = () => undefined,
  ): Taken => {
    const { uniform } = random;
    const upTo = (most: number): number => most * (2 * uniform() - 1);
    const { pixels, noise, turn = SIXTEEN[Math.floor(16 * uniform())]!, surround = 1 } = wishes;
    const isUpright = turn.turned % 180 === 0;
    const [width, height] = isUpright
      ? [Math.round(1.1 * pixels), pixels]
      : [pixels, Math.round(1.1 * pixels)];
    const camera: FrameCamera = wishes.camera ?? {
      ...{ width, height, turn, off: [upTo(0.5), upTo(0.5)], distortion: upTo(wishes.distortion) },
      beam: { centre: design.beam.centre, diameter: design.beam.cameraDiameter },
    };
    const patches = bench(off).map((patch, k) => {
      const visibility = spoil(k) === 'no-fringes' ? 0.003 : 0.4 + 0.55 * uniform();
      return { ...patch, visibility, piston: uniform() };
    });
    const detector = {
      ...{ uneven: 0.1, vignetting: 0.3, specks: 20, noise, well: 20_000, levels: 255 },
      ...wishes.detector,
    };
    // Dust and uneven light stay as they are from step to step, noise does not.
    const seed = Math.floor(2 ** 31 * uniform());
    const frames = Array.from({ length: wishes.steps ?? 1 }, (_, step): CameraFrame => {
      const lit = patches.map(({ lit, visibility, piston }, k) => ({
        ...{ outline: lit.outline, visibility, piston: piston - step * STEP },
        branches: spoil(k) === 'dark' ? [] : lit.branches,
      }));
      const light = tracedFrame(camera, lit, { level: wishes.level ?? 0.4, surround });
      return { ...detected(light, camera, detector, seed, step), holds: 'intensity' };
    });
    return { frames, camera, patches };
  };
}
