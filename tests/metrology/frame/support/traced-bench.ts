/**
 * The bench of a design for independently traced frames: places, outlines and biases are the scenario's, all light is traced by
 * tests/independent. What is off: the part by a rigid motion about its origin, references of their own, the hologram. mm, rad, waves.
 */
import type { Design, DesignedPatch } from '../../../../src/design/design.ts';
import type { BouncingPatch, PatchReturn } from '../../../independent/frame-return.ts';
import { returnTracer } from '../../../independent/frame-return.ts';
import type { Lit } from '../../../independent/frame-traced.ts';
import { patchTruth, ringTruth } from '../../../independent/frame-truth.ts';
import type { Point } from '../../../independent/outline-points.ts';
import { type PlaneFit, planeFits } from '../../../independent/plane-fit.ts';
import type { Vector } from '../../../independent/ray.ts';
import { type Feature, type RingBench, ringWaves } from '../../../independent/ring-bench.ts';
import { type Pose, placed, sixOf } from '../../../independent/stage-operator.ts';

export interface Off {
  /** Of the part, about its origin. */
  readonly part?: Pose;
  /** By reference, on top of what the part takes along. */
  readonly own?: ReadonlyMap<string, Vector>;
  /** A move and a rotation vector of the hologram, for rings. */
  readonly hologram?: readonly number[];
}

export interface TracedPatch {
  readonly id: string;
  readonly kind: 'line' | 'ball' | 'ring';
  readonly lit: Omit<Lit, 'visibility'>;
  /** Fringes, one a sense. */
  readonly truth: readonly number[];
}

const RING_DEGREE = 4;
const ROUND = 12;
const plus = (a: Vector, b: Vector): Vector => [a[0] + b[0], a[1] + b[1], a[2] + b[2]];
const minus = (a: Vector, b: Vector): Vector => [a[0] - b[0], a[1] - b[1], a[2] - b[2]];

/** By patch, in the order of the design; screens left out. What is traced in its place is kept. */
export function tracedBench(design: Design, features: Readonly<Record<string, Feature>> = {}) {
  const readers = design.patches.flatMap((patch) => {
    if (patch.reference.kind === 'screen') return [];
    return patch.outline.shape === 'ring' ? [ringOf(design, patch, features)] : [pointOf(design, patch)];
  });
  return (off: Off): readonly TracedPatch[] => readers.map((read) => read(off));
}

function pointOf(design: Design, { id, outline, centre, reference, asked }: DesignedPatch) {
  const { bias, focus, order } = asked;
  const read: BouncingPatch = {
    ...{ id, outline, centre, order, target: reference.at },
    ...(reference.kind === 'ball' ? { radius: reference.diameter! / 2 } : {}),
    ...(focus === 'line' ? { lineAngle: asked.lineAngle! } : {}),
    ...(bias === undefined
      ? {}
      : {
          bias: {
            ...{ shape: bias.shape, fringes: bias.fringes },
            ...(bias.direction === undefined ? {} : { direction: bias.direction }),
          },
        }),
  };
  const trace = returnTracer({ wavelength: design.light.wavelength, glass: design.glass }, read);
  const { origin } = design.scenario.part.frame;
  let still: PatchReturn | undefined;
  return ({ part, own }: Off): TracedPatch => {
    const carried =
      part === undefined ? reference.at : plus(origin, placed(part, minus(reference.at, origin)));
    const moved = trace(plus(carried, own?.get(reference.id) ?? [0, 0, 0]));
    still ??= trace(reference.at);
    return {
      id,
      kind: focus === 'line' ? 'line' : 'ball',
      lit: moved,
      truth: patchTruth(read, still, moved),
    };
  };
}

function ringOf(design: Design, patch: DesignedPatch, features: Readonly<Record<string, Feature>>) {
  const { id, outline, asked } = patch;
  if (outline.shape !== 'ring') throw new Error('a ring is meant');
  const { scenario, glass, light } = design;
  const { beam } = scenario.interferometer;
  const bench: RingBench = {
    ...{ wavelength: light.wavelength, origin: scenario.part.frame.origin, glass },
    ...(beam.kind === 'collimated' ? {} : { focus: beam.focus }),
    ...(asked.focus === 'normal' ? { feature: features[id]! } : {}),
  };
  const { centre, inner, outer } = outline;
  const places = [0, 0.5, 1].flatMap((part) =>
    Array.from({ length: ROUND }, (_, k): Point => {
      const [radius, angle] = [inner + part * (outer - inner), (2 * Math.PI * k) / ROUND];
      return [centre[0] + radius * Math.cos(angle), centre[1] + radius * Math.sin(angle)];
    }),
  );
  const still = ringWaves(bench);
  return ({ part, hologram }: Off): TracedPatch => {
    const motions = { ...(hologram && { hologram }), ...(part && { part: sixOf(part) }) };
    const waves = ringWaves(bench, motions);
    const off = places.map(([x, y]) => waves(x, y) - still(x, y));
    const [{ at, worst }] = planeFits(places, [off.map((value) => value - off[0]!)], {
      centre,
      reach: outer,
      degree: RING_DEGREE,
    }) as [PlaneFit];
    if (worst > 1e-3) throw new Error('the wave of the ring is not smooth enough for the frame');
    const lit = { outline, branches: [{ waves: at, comes: () => true }] };
    return { id, kind: 'ring', lit, truth: ringTruth(outline, () => 0, at) };
  };
}
