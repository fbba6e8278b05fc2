/** Which references a bench sets by fringes, by what holds them; which are tracked, measured or projected on; in the scenario's order. */
import type { Design, DesignedPatch } from '../../design/design.ts';
import { isReadBy, kindOf } from '../../kinds/kinds.ts';
import type { Reference } from '../../scenario/scenario.ts';
import { seatFrame } from '../estimate/seat-frame.ts';
import { refusal } from '../transfer/registration-refusals.ts';
import type { Means } from './work-step.ts';

export const patchesReadBy = (
  { patches }: Design,
  way: Parameters<typeof isReadBy>[1],
): readonly DesignedPatch[] => patches.filter(({ reference }) => isReadBy(reference, way));

/** Whether fringes of a point or line focus come back from it. */
export const isSeen = (design: Design, { id }: Pick<Reference, 'id'>): boolean =>
  patchesReadBy(design, 'senses').some(({ reference }) => reference.id === id);

/** What carries a reference that has a place: a part on a stage is set by the stage. */
export function carrierOf({ scenario }: Design, { touches, movesWith }: Reference): Means {
  if (movesWith === 'mount') return 'mounts';
  if (touches.length === 0 && movesWith === undefined) return 'part or mounts';
  return scenario.stage.length > 0 ? 'stage' : 'part';
}

/** First what stands by itself, so that nothing set later moves it; then what goes with the part. */
export const CARRIERS = ['mounts', 'part or mounts', 'part', 'stage'] as const satisfies readonly Means[];

/** References on the part that no patch looks at, with a place of their own: for a tracker or a measuring machine. */
const unseenOnPart = (design: Design): readonly Reference[] =>
  design.references.filter(
    (reference) =>
      kindOf(reference).inScenario.place === 'given' &&
      !isReadBy(reference, 'mark') &&
      reference.movesWith === 'part' &&
      !isSeen(design, reference),
  );

export interface TrackedJob {
  /** Names of the points as a tracker's table has them. */
  readonly hologram: readonly string[];
  readonly part: readonly string[];
}

/** Retroreflectors at their foci and others on the part; undefined where either side does not fix a motion. */
export function trackedJob(design: Design): TrackedJob | undefined {
  const isTarget = ({ cube }: Reference): boolean => cube !== undefined;
  const hologram = design.references.filter((reference) => isTarget(reference) && isSeen(design, reference));
  const part = unseenOnPart(design).filter(isTarget);
  if (!fixesMotion(hologram) || !fixesMotion(part)) return undefined;
  return {
    hologram: hologram.map(({ id }) => id),
    // A bare name is taken for one at its focus, unless its place comes from touches.
    part: part.map(({ id, given }) => (given === 'touches' ? id : id + ON_PART)),
  };
}

const ON_PART = '@part';
/** Of a point of a tracker's table. */
export const referenceOf = (point: string): string => point.replace(ON_PART, '');

/** Three places or more that are not on one line. */
export const fixesMotion = (places: readonly Pick<Reference, 'id' | 'at'>[]): boolean =>
  refusal(
    places.map(({ id, at }) => ({ name: id, design: at, measured: at })),
    '',
  ) === undefined;

/** What a tracker takes on the part, or a measuring machine in the frame of the seats. */
export function measuredOnPart(design: Design, tracked: TrackedJob | undefined): readonly Reference[] {
  if (tracked === undefined) return seatsFixFrame(design) ? unseenOnPart(design) : [];
  const ids = new Set(tracked.part.map(referenceOf));
  return design.references.filter(({ id }) => ids.has(id));
}

/** Whether seats carry the hologram's whole frame. */
export const seatsFixFrame = (design: Design): boolean => (seatFrame(design)?.atReferences ?? null) !== null;
