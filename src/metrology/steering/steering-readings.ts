/**
 * What the bench reports, joined to what the design expects: one steering reading for each value, as a move of its reference
 * along the sensed direction, and what the exact trace would read with the references displaced. mm, substrate frame.
 */
import type { Design, DesignedPatch } from '../../design/design.ts';
import { directionToParent } from '../../geometry/frame.ts';
import { dot, type Vec3 } from '../../geometry/vector.ts';
import { movedSurface } from '../../optics/datum-surface.ts';
import type { BenchReading } from '../../scenario/bench-reading.ts';
import { COMMON_PRACTICE, type Practice } from '../budget/practice.ts';
import { type Reading, readingsOf, readingsOfSenses } from '../budget/readings.ts';
import { nullReading } from '../null/null-readings.ts';
import { indexOf, largestHeight, type NullTerm, shownPerMm } from '../null/null-terms.ts';
import { nullWhenMoved } from '../null/null-trace.ts';
import { bodyOf } from '../rings/ring-moves.ts';
import { featureCounts, isRing } from '../rings/ring-trace.ts';
import type { RingCounts } from '../sensing/ring-count.ts';
import { sensesOf } from '../sensing/sensitivity.ts';
import { type FringesWhenMoved, tracedFringes } from '../sensing/traced-readings.ts';
import { hologramLever, ringReadings } from './ring-readings.ts';

export interface SteeringReading {
  /** Its own standard uncertainty put in place of the scenario's where the bench states one. */
  readonly reading: Reading;
  /** As the bench gives it, over `perMm`: the move along the sensed direction that would show it, to first order; of the null a height. */
  readonly value: number;
  /** Fringes for a mm along the direction, or of height of a term of the null, or its waves; 1 for a length. */
  readonly perMm: number;
  /** The largest move from which fringes can still be counted; Infinity for a length. */
  readonly captureRange: number;
  /** Which entry of the bench's list it belongs to: the signs of one entry go together. */
  readonly entry: number;
  readonly signKnown: boolean;
  /** Of a pair of readings that a picture shows alike the value in the second; without it that is the value with the sign turned. */
  readonly other?: number;
  /** Of the null. */
  readonly term?: NullTerm;
  readonly unit?: 'fringes' | 'waves';
}

/** The value if the sign that was not seen is +, or the first of a pair is right; or if it is the other. */
export const valueIf = ({ value, other }: SteeringReading, sign: 1 | -1): number =>
  sign > 0 ? value : (other ?? -value);

/** Its name, of the two tilts of a point focus with which of them it is, in the order of the patch's senses. */
export function labelOf({ reading: { name, from } }: SteeringReading): string {
  if (from === undefined || from.patch.lineDirection !== undefined || !name.endsWith(' tilt')) return name;
  return `${name} ${from.sense + 1}`;
}

/** Entries that name no patch or measurement of the design, or values beyond its senses, are the reader's matter: a RangeError. */
export function steeringReadings(
  design: Design,
  given: readonly BenchReading[],
  practice: Practice = COMMON_PRACTICE,
): readonly SteeringReading[] {
  const all = readingsOf(design);
  return given.flatMap((bench, entry): SteeringReading[] => {
    if (bench.kind === 'null') return ofNull(design, bench, entry, practice);
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
          ...signOf(bench, k, fringesPerMm),
        },
      ];
    });
  });
}

type OfPatch = Extract<BenchReading, { kind: 'fringes' }>;

/** Whether what is read is known, or what it may be as well. Nothing at all has no sign. */
function signOf(
  { fringes, signKnown, or }: OfPatch,
  k: number,
  perMm: number,
): Pick<SteeringReading, 'signKnown' | 'other'> {
  if (or !== undefined) return { signKnown, other: (or[k] ?? fringes[k]!) / perMm };
  return { signKnown: signKnown || fringes.every((size) => !size) };
}

/** The counts of a ring that show anything of what it is read for. */
function ofRing(design: Design, patch: DesignedPatch, bench: OfPatch, entry: number): SteeringReading[] {
  const { fringes, uncertainty } = bench;
  return ringReadings(design, patch, leverIn(design, patch)).flatMap((read, k): SteeringReading[] => {
    const count = fringes[k];
    if (read === undefined || count === undefined) return [];
    const { reading, perMm, captureRange } = read;
    const u = uncertainty === undefined ? reading.u : uncertainty / perMm;
    return [
      {
        reading: { ...reading, u },
        value: count / perMm,
        perMm,
        captureRange,
        entry,
        ...signOf(bench, k, perMm),
      },
    ];
  });
}

/** What turns of a ring's body count at, mm: one lever for all rings of the hologram. */
const leverIn = (design: Design, patch: DesignedPatch): number | undefined =>
  bodyOf(patch) === 'hologram' ? hologramLever(design) : undefined;

/** The terms of the null that were read. */
function ofNull(
  design: Design,
  { values, unit, signKnown, uncertainty }: Extract<BenchReading, { kind: 'null' }>,
  entry: number,
  practice: Practice,
): SteeringReading[] {
  const { main, scenario } = design;
  if (main === undefined) throw new RangeError('no surface under test in this design');
  const usual = unit === 'waves' ? practice.nullTerm : scenario.interferometer.readable;
  return values.map((given): SteeringReading => {
    const perMm = shownPerMm(design, main, given, unit);
    return {
      reading: nullReading(design, main, given, (uncertainty ?? usual) / perMm),
      value: given.value / perMm,
      perMm,
      captureRange: largestHeight(design, main, given),
      entry,
      signKnown: signKnown || values.every(({ value }) => value === 0),
      ...{ term: given, unit },
    };
  });
}

/** How the part stands, T mm and θ rad in its own frame about its origin: a point p of it is found at T + R(θ)p. */
interface PartMove {
  readonly translation: Vec3;
  readonly rotation: Vec3;
}

/**
 * What is read with each reference displaced by what `displacement` says of its id, mm, and the part, where its null or a feature is read, by `part`;
 * undefined where light is lost.
 */
type ReadWhenMoved = (displacement: (reference: string) => Vec3, part?: PartMove) => Float64Array | undefined;

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
    const nullTerms =
      part === undefined || readings.every(({ term }) => term === undefined)
        ? undefined
        : nullWhenMoved(design, design.main!, part.translation, part.rotation);
    for (const [k, { reading, perMm, term }] of readings.entries()) {
      if (term !== undefined) {
        if (nullTerms === undefined) return undefined;
        found[k] = nullTerms[indexOf(term)]!;
        continue;
      }
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
