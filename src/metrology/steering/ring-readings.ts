/**
 * Rings as they are counted at the bench: of a return ring a reading of the hologram against its beam, of light at normal incidence one of
 * the part. mm and radians; the hologram in the substrate frame about its origin, a feature about its own point.
 */
import type { Design, DesignedPatch } from '../../design/design.ts';
import { length, scale, type Vec3 } from '../../geometry/vector.ts';
import { isReadBy } from '../../kinds/kinds.ts';
import { movedSurface } from '../../optics/datum-surface.ts';
import { DEGREES } from '../../scenario/scenario.ts';
import type { Reading } from '../budget/readings.ts';
import { motionIn, STEP } from '../rings/return-ring.ts';
import { bodyOf, countsByDegree } from '../rings/ring-moves.ts';
import { featureCounts } from '../rings/ring-trace.ts';
import { MOST_FRINGES_PER_PIXEL, pixelPitch } from '../sensing/camera-pixels.ts';
import { RING_COUNTS, type RingCounts, rulerOf } from '../sensing/ring-count.ts';
import { EYE_SETTING } from '../sensing/sensitivity.ts';

/** One count of a ring. */
interface RingReading {
  readonly reading: Reading;
  /** Fringes for a mm of what is read. */
  readonly perMm: number;
  /** The largest of what is read from which the camera still tells fringes apart, mm. */
  readonly captureRange: number;
}

/** Whether a hologram in this beam is read by its shifts, which move the beam's focus as it sees it; otherwise by its turns. */
export const isReadByShifts = ({ scenario }: Design): boolean =>
  scenario.interferometer.beam.kind !== 'collimated';

/** What turns of the hologram are counted at as lengths, mm: half the ring's width. */
const leverOf = ({ outline }: DesignedPatch): number => Math.max(...rulerOf(outline).widths) / 2;

/** The one at which turns of the hologram are counted, whichever of its rings is read. */
export const hologramLever = ({ patches }: Design): number =>
  Math.max(
    ...patches.filter(({ reference }) => isReadBy(reference, 'alignment')).map((patch) => leverOf(patch)),
  );

/** In the order of RING_COUNTS; undefined for a count that no motion shows. `lever`: of turns, mm. */
export function ringReadings(
  design: Design,
  patch: DesignedPatch,
  lever = leverOf(patch),
): readonly (RingReading | undefined)[] {
  const ofHologram = bodyOf(patch) === 'hologram';
  const rates = ofHologram ? countsByDegree(design, patch) : featureRates(design, patch);
  if (rates === undefined) return RING_COUNTS.map(() => undefined);
  const { readable } = design.scenario.interferometer;
  return RING_COUNTS.map((count, k): RingReading | undefined => {
    const six = rates.subarray(6 * k, 6 * k + 6);
    const shifts: Vec3 = [six[0]!, six[1]!, six[2]!];
    const turns = scale([six[3]!, six[4]!, six[5]!], 1 / lever);
    const read = ofHologram ? [isReadByShifts(design) ? shifts : turns] : [shifts, turns];
    const perMm = Math.hypot(...read.map(length));
    // What fringes tell no better than an eye does, they do not tell.
    if (!(readable / perMm < EYE_SETTING.poor)) return undefined;
    const [direction, turning] = read.map((part) => scale(part, 1 / perMm));
    const reading: Reading = {
      name: `${patch.id} ${count}`,
      reference: patch.reference,
      direction: direction!,
      ...(turning === undefined ? {} : { moment: scale(turning, lever) }),
      u: readable / perMm,
      from: { patch, sense: k },
      countedPerMm: perMm,
    };
    return { reading, perMm, captureRange: mostFringes(design, patch, k) / perMm };
  });
}

function mostFringes(design: Design, { outline }: DesignedPatch, count: number): number {
  const { widths, radii } = rulerOf(outline);
  const run = count < 2 ? widths[count]! : radii[1] - radii[0];
  return (MOST_FRINGES_PER_PIXEL * run) / pixelPitch(design);
}

/** Counts for a mm and a radian of each motion of the feature along the substrate's axes, about its own point. */
function featureRates(design: Design, patch: DesignedPatch): Float64Array | undefined {
  const counts = featureCounts(design, patch);
  if (counts === undefined) return undefined;
  const { surface } = patch.normalIncidence!;
  const rates = new Float64Array(RING_COUNTS.length * DEGREES.length);
  for (const [k, degree] of DEGREES.entries()) {
    const step = degree.startsWith('r') ? STEP.turn : STEP.move;
    const [ahead, behind] = [step, -step].map((amount) =>
      counts(movedSurface(surface, ...motionIn(degree, amount), surface.point)),
    ) as [RingCounts?, RingCounts?];
    if (ahead === undefined || behind === undefined) return undefined;
    ahead.forEach((count, row) => {
      rates[row * DEGREES.length + k] = (count - behind[row]!) / (2 * step);
    });
  }
  return rates;
}
