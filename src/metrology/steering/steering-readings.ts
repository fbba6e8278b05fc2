/**
 * What the bench reports, joined to what the design expects: one steering reading for each value, as a move of its reference
 * along the sensed direction, and what the exact trace would read with the references displaced. mm, substrate frame.
 */
import type { Design, DesignedPatch } from '../../design/design.ts';
import { directionToParent } from '../../geometry/frame.ts';
import { dot, type Vec3 } from '../../geometry/vector.ts';
import { movedSurface } from '../../optics/datum-surface.ts';
import type { BenchReading } from '../../scenario/bench-reading.ts';
import { type Reading, readingsOf, readingsOfSenses } from '../budget/readings.ts';
import { bodyOf } from '../rings/ring-moves.ts';
import { featureCounts, isRing } from '../rings/ring-trace.ts';
import type { RingCounts } from '../sensing/ring-count.ts';
import { sensesOf } from '../sensing/sensitivity.ts';
import { hologramLever, ringReadings } from './ring-readings.ts';
import { type FringesWhenMoved, tracedFringes } from './steering-trace.ts';

export interface SteeringReading {
  /** Its own standard uncertainty put in place of the scenario's where the bench states one. */
  readonly reading: Reading;
  /** As the bench gives it, over `perMm`: the move along the sensed direction that would show it, to first order. */
  readonly value: number;
  /** Fringes for a mm along the direction; 1 for a length. */
  readonly perMm: number;
  /** The largest move from which fringes can still be counted; Infinity for a length. */
  readonly captureRange: number;
  /** Which entry of the bench's list it belongs to: the signs of one entry go together. */
  readonly entry: number;
  readonly signKnown: boolean;
}

/** Entries that name no patch or measurement of the design, or values beyond its senses, are the reader's matter: a RangeError. */
export function steeringReadings(design: Design, given: readonly BenchReading[]): readonly SteeringReading[] {
  const all = readingsOf(design);
  return given.flatMap((bench, entry): SteeringReading[] => {
    if (bench.kind === 'length') {
      const reading = all.find(({ from, name }) => from === undefined && name === bench.measurement);
      if (reading === undefined) throw new RangeError(`no measurement ${bench.measurement} in this design`);
      const whole = { perMm: 1, captureRange: Number.POSITIVE_INFINITY, signKnown: true };
      return [{ reading, value: bench.deviation, entry, ...whole }];
    }
    const patch = design.patches.find(({ id }) => id === bench.patch);
    if (patch !== undefined && isRing(patch)) return ofRing(design, patch, bench, entry);
    const senses = patch === undefined ? [] : sensesOf(design, patch);
    if (patch === undefined || bench.fringes.length > senses.length)
      throw new RangeError(`no patch ${bench.patch} with ${bench.fringes.length} senses in this design`);
    // The bench has read it, whatever the design says of its light.
    const ownReadings = readingsOfSenses(design, patch);
    return bench.fringes.flatMap((fringes, k): SteeringReading[] => {
      if (fringes === undefined) return [];
      const { fringesPerMm, captureRange } = senses[k]!;
      const own = ownReadings[k]!;
      const u = bench.uncertainty === undefined ? own.u : bench.uncertainty / fringesPerMm;
      return [
        {
          reading: { ...own, u },
          value: fringes / fringesPerMm,
          perMm: fringesPerMm,
          captureRange,
          entry,
          signKnown: bench.signKnown || bench.fringes.every((size) => !size),
        },
      ];
    });
  });
}

/** The counts of a ring that show anything of what it is read for. */
function ofRing(
  design: Design,
  patch: DesignedPatch,
  { fringes, signKnown, uncertainty }: Extract<BenchReading, { kind: 'fringes' }>,
  entry: number,
): SteeringReading[] {
  const known = signKnown || fringes.every((size) => !size);
  return ringReadings(design, patch, leverIn(design, patch)).flatMap((read, k): SteeringReading[] => {
    const count = fringes[k];
    if (read === undefined || count === undefined) return [];
    const { reading, perMm, captureRange } = read;
    const u = uncertainty === undefined ? reading.u : uncertainty / perMm;
    return [
      { reading: { ...reading, u }, value: count / perMm, perMm, captureRange, entry, signKnown: known },
    ];
  });
}

/** What turns of a ring's body count at, mm: one lever for all rings of the hologram. */
const leverIn = (design: Design, patch: DesignedPatch): number | undefined =>
  bodyOf(patch) === 'hologram' ? hologramLever(design) : undefined;

/** What is read with each reference displaced by what `displacement` says of its id, mm, and with the part, by `part`, where a feature of it is read; undefined where light is lost. */
type ReadWhenMoved = (displacement: (reference: string) => Vec3, part?: PartMove) => Float64Array | undefined;

/** How the part stands, T mm and θ rad in its own frame about its origin: a point p of it is found at T + R(θ)p. */
interface PartMove {
  readonly translation: Vec3;
  readonly rotation: Vec3;
}

const STILL: PartMove = { translation: [0, 0, 0], rotation: [0, 0, 0] };

/** The exact readings of these patches; each patch's rays are set up once. */
export function readWhenMoved(design: Design, readings: readonly SteeringReading[]): ReadWhenMoved {
  const traces = new Map<DesignedPatch, FringesWhenMoved | undefined>();
  const rings = new Map<DesignedPatch, ReturnType<typeof featureCounts>>();
  for (const { reading } of readings) {
    const patch = reading.from?.patch;
    if (patch === undefined || traces.has(patch) || rings.has(patch)) continue;
    if (isRing(patch)) rings.set(patch, featureCounts(design, patch));
    else traces.set(patch, tracedFringes(design, patch));
  }
  const { frame } = design.scenario.part;
  return (displacement, part) => {
    const seen = new Map<DesignedPatch, readonly number[]>();
    const found = new Float64Array(readings.length);
    for (const [k, { reading, perMm }] of readings.entries()) {
      const move = displacement(reading.reference.id);
      if (reading.from === undefined) {
        found[k] = dot(reading.direction, move);
        continue;
      }
      const { patch, sense } = reading.from;
      const onRing = (): RingCounts | undefined => {
        const { translation, rotation } = part ?? STILL;
        const [by, about] = [directionToParent(frame, translation), directionToParent(frame, rotation)];
        return rings.get(patch)?.(movedSurface(patch.normalIncidence!.surface, by, about, frame.origin));
      };
      const fringes = seen.get(patch) ?? (rings.has(patch) ? onRing() : traces.get(patch)?.(move));
      if (fringes === undefined) return undefined;
      seen.set(patch, fringes);
      found[k] = fringes[sense]! / perMm;
    }
    return found;
  };
}
