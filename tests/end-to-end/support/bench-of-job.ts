/**
 * The bench of a job as it stands, for an operator: hologram, part and mounts off by rigid motions, and what he writes down of each patch,
 * by rays traced by independent code. Places, outlines and biases are those of the scenario. mm, rad.
 */
import type { Design, DesignedPatch } from '../../../src/design/design.ts';
import {
  type Count,
  countOf,
  type Eye,
  fallCount,
  type Light,
  riseOf,
} from '../../independent/camera-count.ts';
import type { Turn } from '../../independent/camera-seen.ts';
import { fitted } from '../../independent/equations.ts';
import { turned } from '../../independent/null-traced.ts';
import type { ReadPatch } from '../../independent/patch-reading.ts';
import { minus, type Vector } from '../../independent/ray.ts';
import { ringWaves } from '../../independent/ring-bench.ts';
import { type Pose, placed, sixOf } from '../../independent/stage-operator.ts';

/** How everything stands. */
export interface Standing {
  /** A move, then a rotation vector, about the bench's origin. */
  readonly hologram: readonly number[];
  /** In the part's frame. */
  readonly part: Pose;
  /** What mounts of their own hold, by reference. */
  readonly own: ReadonlyMap<string, Vector>;
}

export interface JobBench {
  /** One reading each patch, as the readings file has it. */
  readonly read: (standing: Standing, turn: Turn, eye: Eye) => readonly string[];
  /** By how much the beam's focus lies elsewhere for the hologram: the shift of the hologram that would show as its motion does. */
  readonly focusOff: (hologram: readonly number[]) => Vector;
}

const plus = (a: Vector, b: Vector): Vector => [a[0] + b[0], a[1] + b[1], a[2] + b[2]];
const seenFrom = (hologram: readonly number[], place: Vector): Vector =>
  turned(
    minus(place, hologram.slice(0, 3) as unknown as Vector),
    hologram.slice(3).map((angle) => -angle),
  );
const RING_ROUND = 24;

/** Waves of the return from a feature of the part at places of the pattern, for six numbers of the part's motion about its origin. */
export type Zone = (motion: readonly number[]) => (x: number, y: number) => number;

/** What a motion about the bench's origin is about another place, to first order. */
export function motionAt([x, y, z, a, b, c]: readonly number[], [px, py, pz]: Vector): readonly number[] {
  return [x! + b! * pz - c! * py, y! + c! * px - a! * pz, z! + a! * py - b! * px, a!, b!, c!];
}

export function benchOfJob(design: Design, withPart: ReadonlySet<string>, zone?: Zone): JobBench {
  const { scenario, glass, light } = design;
  const { beam } = scenario.interferometer;
  const focus = beam.kind === 'collimated' ? {} : { focus: beam.focus };
  const { origin } = scenario.part.frame;
  const around: Light = { wavelength: light.wavelength, glass };
  const ring = { wavelength: light.wavelength, ...focus, glass, origin };
  const beamOff = ({ hologram }: Standing) => {
    if (hologram.every((value) => value === 0)) return undefined;
    const waves = ringWaves(ring, { hologram });
    return (x: number, y: number): number => (waves(x, y) * light.wavelength) / 2;
  };
  /** Where a reference stands, as the hologram sees it. */
  const placeOf = (id: string, at: Vector, standing: Standing): Vector => {
    const now = withPart.has(id)
      ? plus(origin, placed(standing.part, minus(at, origin)))
      : plus(at, standing.own.get(id) ?? [0, 0, 0]);
    const { hologram } = standing;
    return seenFrom(hologram, now);
  };
  /** The part as the hologram sees it, and the beam as it sees that, each to first order. */
  const zoneWaves = (standing: Standing) => {
    const from = motionAt(standing.hologram, origin);
    const waves = zone!(sixOf(standing.part).map((value, k) => value - from[k]!));
    const beamWaves = ringWaves(ring, { hologram: standing.hologram });
    return (x: number, y: number): number => waves(x, y) + beamWaves(x, y);
  };
  const readers = design.patches.flatMap((patch) => readerOf(patch) ?? []);
  const length = scenario.measurements.map(({ id, reference, direction, uncertainty }) => {
    const { at } = design.references.find((one) => one.id === reference)!;
    return (standing: Standing, eye: Eye): string => {
      const off = minus(placeOf(reference, at, standing), at);
      const along = off[0] * direction[0] + off[1] * direction[1] + off[2] * direction[2];
      // The gauge errs as the eye does: by half of what is stated.
      const error = (eye.error() / eye.round) * uncertainty;
      return `{measurement: ${id}, deviation_um: ${(along + error) * 1e3}}`;
    };
  });

  function readerOf(patch: DesignedPatch) {
    const { asked, reference, outline, id } = patch;
    if (reference.kind === 'screen') return undefined;
    if (outline.shape === 'ring' && (asked.focus === 'return' || asked.focus === 'normal')) {
      return (standing: Standing, turn: Turn, eye: Eye): string => {
        const waves =
          asked.focus === 'return' ? ringWaves(ring, { hologram: standing.hologram }) : zoneWaves(standing);
        const { centre, inner, outer } = outline;
        const places = Array.from({ length: 3 * RING_ROUND }, (_, k) => {
          const angle = (2 * Math.PI * k) / RING_ROUND;
          const radius = inner + ((outer - inner) * Math.floor(k / RING_ROUND)) / 2;
          return [radius * Math.cos(angle), radius * Math.sin(angle)] as const;
        });
        const found = fitted(
          places.map(([u, v]) => [1, u, v, u * u + v * v]),
          places.map(([u, v]) => waves(centre[0] + u, centre[1] + v)),
        );
        const rise = { slope: [found[1]!, found[2]!] as const, bend: found[3]! };
        return written(id, fallCount(outline, rise, [inner, outer], turn, eye), false);
      };
    }
    const radius = reference.kind === 'ball' ? { radius: reference.diameter! / 2 } : {};
    const read: ReadPatch = {
      ...{ id, target: reference.at, centre: patch.centre, outline, order: asked.order, ...radius },
      ...(asked.focus === 'line' ? { lineAngle: asked.lineAngle! } : {}),
      ...(asked.bias === undefined
        ? {}
        : {
            bias: {
              ...{ shape: asked.bias.shape, fringes: asked.bias.fringes },
              ...(asked.bias.direction === undefined ? {} : { direction: asked.bias.direction }),
            },
          }),
    };
    const rise = riseOf(around, read);
    return (standing: Standing, turn: Turn, eye: Eye): string | undefined => {
      const shown = rise(placeOf(reference.id, reference.at, standing), beamOff(standing));
      return shown && written(id, countOf(read, shown, turn, eye), asked.bias?.shape === 'tilt');
    };
  }

  return {
    read: (standing, turn, eye) => [
      ...readers.flatMap((reader) => reader(standing, turn, eye) ?? []),
      ...length.map((gauge) => gauge(standing, eye)),
    ],
    focusOff: (hologram) => {
      if (beam.kind === 'collimated') throw new RangeError('a collimated beam has no focus');
      return minus(beam.focus, seenFrom(hologram, beam.focus));
    },
  };
}

function written(id: string, { fringes, toward, power }: Count, isTotal: boolean): string {
  const rest = `${power === undefined ? '' : `, power: ${power}`}${isTotal ? ', counted: total' : ''}`;
  return `{patch: ${id}, fringes: ${fringes}, toward: ${toward}${rest}}`;
}
