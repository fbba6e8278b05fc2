/**
 * One patch read from a camera's frame, or from several in phase steps: I = a + b cos 2π(W + φ) fitted to its pixels, W by the traced return.
 *
 * Fringes and signs as for `steer`. Uncertainties are standard: the residuals' noise, more where neighbours share it; the places of the
 * patch's pixels, which shift what the patch shows by itself; levels of grey; and
 * what diffraction does to a fit by rays. The sign of W in one frame is open; where the patch shows
 * fringes by itself at the design place, both signs are fitted and compared.
 */
import type { Design, DesignedPatch } from '../../design/design.ts';
import { narrowestWidth } from '../../geometry/extent.ts';
import type { CameraFrame } from '../../scenario/camera-frame.ts';
import type { FrameMap } from '../location/frame-map.ts';
import { MOST_FRINGES_PER_PIXEL } from '../sensing/camera-pixels.ts';
import { strongestFringes } from './aliased-fringes.ts';
import { coarseFits, withoutBackground } from './coarse-fit.ts';
import { diffractionTerm } from './diffraction-term.ts';
import { type FinalFit, finalFit } from './final-fit.ts';
import type { FittedValue, FrameFault, PatchReading } from './frame-reading.ts';
import { pixelsWithin } from './patch-pixels.ts';
import { closestOf, type PixelFields, pixelFields } from './pixel-fields.ts';
import { type ReturnModel, type ReturnState, returnModel } from './return-model.ts';
import { type SeenPixels, seenPixels } from './seen-pixels.ts';
import { RULED_OUT, type Settled, settled } from './settled-sign.ts';

export interface PatchGiven {
  /** Whether the path gets longer, 1, or shorter from frame to frame, by less than half a fringe; of a phase map, whether its waves are of the path or against it. */
  readonly stepping?: 1 | -1 | 'unknown';
  /** The tilt along a tilt bias is less than the bias, which settles the sign there. */
  readonly belowBias?: boolean;
}

/** From this quality on the signs that `signKnown` states hold, and of two readings that are told one is right. */
export const SURE_QUALITY = 0.5;
/** Of a good fit that another reading fits as well, or that is of a bad picture. */
const UNSURE = 0.4;

/** Fewer pixels than this, or a narrower patch, hold no fit. */
const FEWEST_PIXELS = 40;
const NARROWEST = 5;
/** Pixels by which a patch is looked at first. */
const SOME = 1200;
/** Pixels beyond what is whole that are left out along an edge and the ridge. */
const EDGE = 0.2;
const RIDGE = 0.5;
/** And of the zone √(λs) over which edges are blurred, no more than that part of the patch's narrowest width. */
const ZONE_AT_EDGE = 0.2;
const ZONE_AT_RIDGE = 0.35;
const MOST_ZONE = 0.15;
/** Standard uncertainties of the map that an edge is kept clear of. */
const CLEAR = 2;
/** Of full scale. */
const DARK = 0.02;
const MOST_SATURATED = 0.25;
/** Standard deviations by which there are fringes: e^−15. */
const DETECTED = 5.5;
const LEAST_VISIBILITY = 0.01;
/** What neighbouring residuals share, as a part of the amplitude, that makes a picture another one than the patch's. */
const MISFIT = 0.3;
const UNREAD: ReadonlySet<FrameFault> = new Set(['misfit', 'moire', 'no-fringes', 'washed-out']);
/** Visibility: 1, and what a fit errs by. */
const FULL_CONTRAST = 1.15;
/** No light has more than 1: a fit far beyond has taken a piece of a fringe, which a larger one shows as well, or no fringe, for one. */
const MOST_VISIBILITY = 1.5;
/**
 * What an aligned ball shows in one frame by its edge's diffraction alone, rings like those of a power of 2 fringes: a fifth of its own
 * visibility at Fresnel numbers from 5 to 10, by scalar diffraction, and no tilt.
 */
const RINGS = { visibility: 0.3, tilted: 1.5 } as const;
/** A visibility that a fit of next to no fringes may fall short of. */
const WEAK = 0.2;

/**
 * Fringes beyond those of the design place, along the patch's senses, from frames of one size (one, several in phase steps, or a phase map).
 * What cannot be read is undefined and has a fault; a screen is dark. Throws a RangeError without a frame.
 */
export function readPatch(
  design: Design,
  patch: DesignedPatch,
  frames: readonly CameraFrame[],
  map: FrameMap,
  given: PatchGiven = {},
): PatchReading {
  const model = returnModel(design, patch);
  const atPlace = model?.about(model.spread.map(() => 0));
  if (model === undefined || atPlace === undefined) return unread(patch, 3, ['dark']);
  const no = (...faults: FrameFault[]): PatchReading => unread(patch, model.read, faults);
  const [frame] = frames;
  if (frame === undefined) throw new RangeError('no frame to read');
  const zone = zoneOf(design, patch) / map.pitch;
  const mask = pixelsWithin(patch.outline, frame, map, EDGE + CLEAR * map.uncertainty + ZONE_AT_EDGE * zone);
  if (mask.inFrame < 0.5) return no('outside');
  const clear = RIDGE + CLEAR * map.uncertainty + ZONE_AT_RIDGE * zone;
  const fieldsAt = (state: ReturnState, most?: number): PixelFields | undefined =>
    pixelFields(state, mask, frame.width, map, clear, most);
  const fields = fieldsAt(atPlace, SOME);
  if (
    fields === undefined ||
    fields.count < FEWEST_PIXELS ||
    Math.min(mask.box.columns, mask.box.rows) < NARROWEST
  )
    return no('blurred');
  const seen = seenPixels(frames, fields);
  const faults: FrameFault[] = [];
  if (medianOf(seen.values[0]!) < DARK) return no('dark');
  if (seen.saturated > MOST_SATURATED * fields.count) {
    if (seen.saturated > 2 * MOST_SATURATED * fields.count) return no('saturated');
    faults.push('saturated');
  }
  if (closestOf(fields) > MOST_FRINGES_PER_PIXEL) return no('moire');
  const direction = directionOf(frame, given);
  const chosen = settled(model, coarseFits(model, fields, seen), {
    ...(direction === undefined ? {} : { direction }),
    belowBias: given.belowBias === true,
  });
  const unseen = (): FrameFault => unseenFault(model, fields, seen);
  const diffraction = diffractionTerm(design, patch);
  const beside = { unseen, diffraction, steps: seen.values.length };
  if (chosen === undefined) return no(unseen());
  const final = finalFit(model, atPlace, chosen.amounts, frames, map, fieldsAt);
  if (final === undefined) return no('misfit');
  const { left, otherWay } = chosen;
  const isOpen = left === 'other way' || (left === 'mirrored' && !model.linear);
  const other = isOpen ? finalFit(model, atPlace, otherWay, frames, map, fieldsAt) : undefined;
  if (left === 'mirrored')
    return told(patch, frame, model.read, withMirrored(final, other), chosen, faults, beside);
  const reading = told(patch, frame, model.read, final, chosen, faults, beside);
  if (left !== 'other way' || reading.values.includes(undefined)) return reading;
  if (other === undefined) return { ...reading, quality: Math.min(reading.quality, UNSURE) };
  return { ...reading, other: valuesOf(other, diffraction) };
}

/**
 * Of light in which the patch's fringes are not to be found: whether it has others, which pixels make of finer ones; and if it has none, whether
 * that may be a good alignment. A roof shows its own fringes wherever its reference stands.
 */
function unseenFault({ roofed }: ReturnModel, fields: PixelFields, { values, used }: SeenPixels): FrameFault {
  if (strongestFringes(fields, used, withoutBackground({ ...fields, values })) > 0) return 'moire';
  return roofed ? 'washed-out' : 'no-fringes';
}

const valuesOf = (
  { readings, uncertainties }: FinalFit,
  diffraction: number | undefined,
  doubt?: readonly number[],
): FittedValue[] =>
  readings.map((fringes, k) => ({
    ...{ fringes, diffraction },
    uncertainty: Math.hypot(uncertainties[k]!, doubt?.[k] ?? 0, diffraction ?? 0),
  }));

/** Two frames made of a phase map have the second one the shorter way: seen-pixels.ts. */
function directionOf(frame: CameraFrame, { stepping }: PatchGiven): 1 | -1 | undefined {
  if (stepping === undefined || stepping === 'unknown') return undefined;
  return frame.holds === 'phase' ? (-stepping as 1 | -1) : stepping;
}

const medianOf = (values: Float64Array): number => values.slice().sort()[values.length >> 1] ?? 0;

/** Either of two readings, whose signs differ and, by what W has beyond its first order, a little of their sizes: between them. */
function withMirrored(final: FinalFit, mirrored: FinalFit | undefined): FinalFit {
  if (mirrored === undefined) return final;
  const apart = final.readings.map((reading, k) => (reading + mirrored.readings[k]!) / 2);
  return {
    ...final,
    readings: final.readings.map((reading, k) => reading - apart[k]!),
    uncertainties: final.uncertainties.map((uncertainty, k) => Math.hypot(uncertainty, apart[k]!)),
  };
}

interface Beside {
  /** What is said where the patch's fringes are not to be found. */
  readonly unseen: () => FrameFault;
  readonly diffraction: number | undefined;
  /** How many frames, a phase map as two. */
  readonly steps: number;
}

function told(
  patch: DesignedPatch,
  frame: CameraFrame,
  read: number,
  final: FinalFit,
  { left, worse, doubt }: Settled,
  faults: FrameFault[],
  { unseen, diffraction, steps }: Beside,
): PatchReading {
  const { fit, shared, closest, detected } = final;
  const visibility = fit.amplitude / fit.level;
  const isSeen = detected > DETECTED && visibility > LEAST_VISIBILITY;
  if (!isSeen) return unread(patch, read, [unseen(), ...faults]);
  const misfit = shared / (MISFIT * Math.max(fit.amplitude, WEAK * fit.level));
  if (misfit > 1) faults.unshift('misfit');
  const isFine = closest > MOST_FRINGES_PER_PIXEL;
  const isAlias = frame.holds === 'intensity' && final.aliasNeeds < FULL_CONTRAST;
  if (isFine || isAlias || final.leftFringes > MISFIT * fit.amplitude) faults.unshift('moire');
  // Where a fringe or less is seen, quite another reading may show it nearly as well.
  if (worse < RULED_OUT / 2) {
    const fault = unseen();
    if (!faults.includes(fault)) faults.unshift(fault);
  }
  const areRings = steps === 1 && read === 3 && diffraction !== undefined;
  const isRippled = areRings && visibility < RINGS.visibility && final.tilted < RINGS.tilted;
  const isPiece = visibility > MOST_VISIBILITY;
  if ((isRippled || isPiece) && !faults.includes('no-fringes')) faults.unshift('no-fringes');
  const values = valuesOf(final, diffraction, doubt);
  const share = (value: number, half: number): number => value / (value + half);
  const quality = Math.min(
    share(detected, 2 * DETECTED),
    1 / (1 + misfit),
    worse === Number.POSITIVE_INFINITY ? 1 : share(worse, RULED_OUT),
    faults.length > 0 ? UNSURE : 1,
  );
  const isRead = !faults.some((fault) => UNREAD.has(fault));
  return {
    patch,
    values: isRead ? values : values.map(() => undefined),
    signKnown: left === 'nothing' && quality >= SURE_QUALITY,
    visibility: frame.holds === 'phase' ? undefined : visibility,
    quality: isRead ? quality : 0,
    faults,
  };
}

/** Over which an edge of the patch is blurred on the light's way to the reference, mm on the pattern. */
const zoneOf = (design: Design, { distance, outline }: DesignedPatch): number =>
  Math.min(Math.sqrt(design.light.wavelength * distance), MOST_ZONE * narrowestWidth(outline));

const unread = (patch: DesignedPatch, count: number, faults: readonly FrameFault[]): PatchReading => ({
  patch,
  values: Array.from({ length: count }, () => undefined),
  signKnown: false,
  visibility: undefined,
  quality: 0,
  faults,
});
