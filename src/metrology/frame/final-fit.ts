/**
 * The fit of all of a patch's pixels about the state of the bench that a first one found, W traced anew there; and what it is worth.
 */
import type { CameraFrame } from '../../scenario/camera-frame.ts';
import type { FrameMap } from '../location/frame-map.ts';
import { aliasVisibility, areStreaked, strongestFringes } from './aliased-fringes.ts';
import { type FringeFit, fitFringes, heldBy, squaresByFringes, startAt, unknownsOf } from './fringe-fit.ts';
import { type FitPixels, fitPixels, meanVisibility, residualsOf } from './fringe-model.ts';
import { mapDoubts } from './map-doubts.ts';
import { closestOf, type PixelFields } from './pixel-fields.ts';
import type { ReturnModel, ReturnState } from './return-model.ts';
import {
  type JoinedPixels,
  joinedByFour,
  pickedPixels,
  pixelContrast,
  seenPixels,
  someOf,
  structureOf,
} from './seen-pixels.ts';

export interface FinalFit {
  readonly fit: FringeFit;
  readonly readings: readonly number[];
  readonly uncertainties: readonly number[];
  /** What neighbouring residuals share, in units of the values. */
  readonly shared: number;
  /** Fringes per pixel. */
  readonly closest: number;
  /** How sure it is that there are fringes at all, in standard deviations. */
  readonly detected: number;
  /** The visibility that finer fringes would need to look the same: aliased-fringes.ts. */
  readonly aliasNeeds: number;
  /** Fringes across the patch by W's mean slope. */
  readonly tilted: number;
  /** Amplitude of fringes that the fit leaves, in units of the values. */
  readonly leftFringes: number;
}

/** Of the amplitude: fringes as strong that the fit does not take, of one half of a roof at least, leave a standard deviation of 0.35 and more. */
const MANY_LEFT = 0.2;
/** Pixels of a fit on the way. */
const COARSE = 600;
const TYPICAL_NOISE = 0.02;
/** Residuals larger than this many standard deviations are dust. */
const DUST = 4;
/** Fringes: nearer than this to where W was traced its first order will do. */
const NEAR = 0.3;
const ROUNDS = 3;
/** Fringes that light and a map's fault which are no polynomials of degree 2 over a whole ring leave, however little its pixels' noise: as traced frames show. */
const OVER_RING = 0.003;
/** Of the amplitude: no value fits better, and none tells more of the map than that. */
const UNMODELLED = 0.03;
/** Fringes, and parts of a reading: what polynomials for W and its first order in the amounts leave, however many pixels there are. */
const BY_MODEL = { always: 2e-4, partByLine: 2e-4, partByPlane: 1e-3 } as const;
/** Fringes by which whole grey levels move a reading, per part of the fringes' amplitude, where no noise scatters them. */
const BY_LEVELS = 0.15;
/** From where some of the pixels have led to one is enough, but for a picture of next to no fringes. */
const STEPS = 5;
/** And with a few pixels less. */
const WITHOUT_DUST = 2;

export function finalFit(
  model: ReturnModel,
  atPlace: ReturnState,
  found: readonly number[],
  frames: readonly CameraFrame[],
  map: FrameMap,
  fieldsAt: (state: ReturnState) => PixelFields | undefined,
): FinalFit | undefined {
  let start = found;
  let prepared: Prepared | undefined;
  for (let round = 0; round < ROUNDS; round++) {
    const state = model.linear ? atPlace : (model.about(start) ?? atPlace);
    prepared = prepare(model, state, frames, map, fieldsAt);
    if (prepared === undefined) return undefined;
    const from = start.map((amount, k) => amount - state.amounts[k]!);
    const { pixels } = prepared;
    const some = pickedPixels(pixels, someOf(pixels.count, COARSE / pixels.values.length));
    const doubts = pixels.shapes.length - from.length;
    const at = startAt(some, [...from, ...zeros(doubts)]);
    const fit = at && fitFringes(some, at, TYPICAL_NOISE, { steps: 15 });
    if (fit === undefined) return undefined;
    const moved = Math.max(...from.map((_, k) => Math.abs(fit.amounts[k]!)));
    start = from.map((_, k) => state.amounts[k]! + fit.amounts[k]!);
    prepared = { ...prepared, fit };
    if (model.linear || moved < NEAR) break;
  }
  return prepared && whole(prepared, model.linear ? OVER_RING : 0);
}

const zeros = (count: number): number[] => Array.from({ length: count }, () => 0);

interface Prepared {
  readonly state: ReturnState;
  readonly fields: PixelFields;
  readonly pixels: FitPixels;
  readonly fit?: FringeFit;
  /** Fringes: errors of the map that are too small to be unknowns of the fit. */
  readonly leftOut: number;
  readonly levelNoise: number;
}

function prepare(
  model: ReturnModel,
  state: ReturnState,
  frames: readonly CameraFrame[],
  map: FrameMap,
  fieldsAt: (state: ReturnState) => PixelFields | undefined,
): Prepared | undefined {
  const fields = fieldsAt(state);
  if (fields === undefined || fields.count < 3 * model.spread.length + 13) return undefined;
  const { values, used } = seenPixels(frames, fields);
  const { width, height, levels } = frames[0]!;
  const { count, u, v, waves, shapes } = fields;
  const { doubts, leftOut } = mapDoubts(fields, map, Math.min(width, height));
  return {
    state,
    fields,
    leftOut,
    pixels: fitPixels({
      ...{ count, values, u, v, waves, used, contrast: pixelContrast(fields) },
      clipped: frames[0]!.holds === 'phase' ? 0 : TYPICAL_NOISE,
      shapes: [...shapes, ...doubts],
      spread: [...model.spread, ...doubts.map(() => 1)],
      expected: [...state.amounts.map((amount) => -amount), ...doubts.map(() => 0)],
    }),
    levelNoise: levels === undefined ? 0 : 1 / (Math.sqrt(12) * levels),
  };
}

/**
 * Fringes by which a reading takes up of what neighbouring residuals share (diffraction, for the most part), per part of
 * the fringes' amplitude. The halves of a roof take up less. Found from diffracted pictures of the examples, Fresnel numbers from 7 to 21.
 */
const ABSORBED = { byLine: 0.25, byPlane: 1.6 } as const;

/** More pixels than this are joined by fours where fringes are no closer than that, fringes per pixel. */
const MANY = 2500;
const FAR_APART = 0.1;

function whole(
  { state, fields, pixels: single, fit: first, leftOut, levelNoise }: Prepared,
  leastOfAll: number,
): FinalFit | undefined {
  if (first === undefined) return undefined;
  const sigmaOf = ({ squares, values }: FringeFit): number =>
    Math.max(levelNoise, Math.sqrt(squares / Math.max(1, values - unknownsOf(single))), 1e-6);
  const closest = closestOf(fields);
  const seen = fitPixels({ ...single, clipped: single.clipped === 0 ? 0 : sigmaOf(first) });
  const isJoined = fields.count > MANY && closest < FAR_APART;
  const joined: JoinedPixels = isJoined
    ? joinedByFour(fields, seen)
    : { pixels: seen, column: fields.column, row: fields.row };
  const all = joined.pixels;
  const least = UNMODELLED * Math.abs(first.amplitude);
  const coarse = Math.max(least, isJoined ? sigmaOf(first) / 2 : sigmaOf(first));
  let fit = fitFringes(all, first.x, coarse, { steps: STEPS });
  if (fit === undefined) return undefined;
  let residuals = residualsOf(all, fit);
  const used = all.used.slice();
  let dusty = 0;
  const limit = DUST * Math.max(levelNoise, spreadOf(residuals[0]!, used));
  for (const residual of residuals)
    for (let i = 0; i < used.length; i++)
      if (used[i] === 1 && Math.abs(residual[i]!) > limit) {
        used[i] = 0;
        dusty++;
      }
  const clean = fitPixels({ ...all, used });
  if (dusty > 0) {
    fit = fitFringes(clean, fit.x, coarse, { steps: WITHOUT_DUST });
    if (fit === undefined) return undefined;
    residuals = residualsOf(clean, fit);
  }
  const sigma = sigmaOf(fit);
  const { excess, shared } = structureOf(joined, residuals, used, sigma ** 2);
  const own = Math.max(least, sigma * Math.sqrt(excess));
  const n = state.amounts.length;
  const held = heldBy(clean, fit, own, n);
  if (held === undefined) return undefined;
  const { amounts, inverse } = held;
  const absorbed = state.readings.length === 1 ? ABSORBED.byLine : ABSORBED.byPlane;
  const sumOver = (rates: readonly number[], of: (k: number) => number): number =>
    rates.reduce((sum, rate, k) => sum + rate * of(k), 0);
  const part = state.readings.length === 1 ? BY_MODEL.partByLine : BY_MODEL.partByPlane;
  const byLevels = (BY_LEVELS * levelNoise * (levelNoise / sigma)) / Math.abs(fit.amplitude);
  const fringesIn = (left: Float64Array): number =>
    areStreaked(fields, single.used, left) ? sigma * Math.SQRT2 : strongestFringes(fields, single.used, left);
  const readings = state.readings.map(
    (reading, row) => reading + sumOver(state.rates[row]!, (k) => amounts[k]!),
  );
  return {
    fit,
    readings,
    uncertainties: state.rates.map((rates, row) =>
      Math.hypot(
        own * Math.sqrt(sumOver(rates, (a) => sumOver(rates, (b) => inverse[a * n + b]!))),
        (absorbed * shared) / Math.abs(fit!.amplitude),
        leastOfAll,
        leftOut,
        BY_MODEL.always,
        part * readings[row]!,
        byLevels,
      ),
    ),
    shared,
    closest,
    leftFringes: sigma > MANY_LEFT * Math.abs(fit.amplitude) ? fringesIn(residualsOf(single, fit)[0]!) : 0,
    tilted: Math.hypot(meanOf(fields.perColumn), meanOf(fields.perRow)) * Math.sqrt(fields.count),
    aliasNeeds: aliasVisibility(fields, n, meanVisibility(clean, fit)),
    detected: Math.sqrt(squaresByFringes(clean, fit, own)) / own,
  };
}

const meanOf = (values: Float64Array): number =>
  values.reduce((sum, value) => sum + value, 0) / Math.max(1, values.length);

/** The standard deviation of normal values by their median size, which dust does not move. */
function spreadOf(residual: Float64Array, used: Uint8Array): number {
  const sizes = new Float64Array(residual.length);
  let count = 0;
  for (let i = 0; i < sizes.length; i++) if (used[i] === 1) sizes[count++] = Math.abs(residual[i]!);
  return (sizes.subarray(0, count).sort()[count >> 1] ?? 0) / 0.6745;
}
