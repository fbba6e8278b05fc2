/**
 * The search for what could have been misread: every way to lay the places, and every factor and constant before the phase, with
 * which the design's phase gives a block of the table within the bound. Places mm, substrate frame; phases waves at order 1.
 */
import type { Pattern } from '../design/pattern.ts';
import { smoothPhases } from '../design/phase-fit.ts';
import { largestDistanceFrom } from '../geometry/extent.ts';
import { boundaryPoints, interiorGrid, joined, type Points, spacingFor } from '../geometry/sampling.ts';
import type { Vec2 } from '../geometry/vector.ts';
import { BiasPhase } from '../optics/bias.ts';
import { zernikeNorm } from '../optics/zernike.ts';
import { powerOfTen } from '../quantity/power.ts';
import type { TableBasis, TableBlock, TableConvention } from '../scenario/coefficient-table.ts';
import { blockReadings } from './block-readings.ts';
import { layings } from './layings.ts';
import { namedFactors, RANGED_FACTORS, type Step, totalWeight } from './misreading.ts';
import { tablePhases } from './table-phase.ts';

export interface Explanation {
  readonly steps: readonly Step[];
  /** What is left of the difference once the steps are taken back, waves. */
  readonly left: number;
  /** The factor before the phase. */
  readonly by: number;
  /** Of a factor without a name, or with one for a range of them. */
  readonly factor: number | undefined;
  /** Around `factor`, ±: factors that leave no more than the bound. */
  readonly factorWithin: number;
  /** Of a scale of lengths without a name. */
  readonly stretch: number | undefined;
  /** Of a centre that is elsewhere, mm. */
  readonly shift: Vec2 | undefined;
}

/** Points of the search: enough to tell any two misreadings apart. */
const SEARCH_INSIDE = 160;
const SEARCH_ALONG = 80;
/** A term's polynomial is trusted up to here, as a multiple of its normalisation radius. */
const FARTHEST = 1.5;
/** A factor is the named one where it is so near to it. */
const SAME_FACTOR = 1e-3;
/** No more steps than this in one explanation: with more, about anything can be explained. */
export const MOST_WEIGHT = 3.7;
/** Roundings widen the bound of the search up to this part of the phase's range. */
export const WIDEST = 0.02;

interface MisreadingSearch {
  /** Of the phase that is meant, waves. */
  readonly range: number;
  readonly all: () => Generator<Explanation>;
}

/** Tries every way to lay the places, then every factor and constant that could stand before the phase. */
export function misreadingSearch(
  patch: Pattern,
  asGiven: TableBlock,
  convention: TableConvention,
  wavelength: number,
  bound: number,
): MisreadingSearch {
  const points = pointsOf(patch, SEARCH_INSIDE, SEARCH_ALONG);
  const meant = meantPhases(patch, asGiven.basis, points);
  const range = Math.max(...meant) - Math.min(...meant);
  const plain = namedFactors(patch.order, wavelength);
  // where a whole column was converted, the plain numbers of a roof went along with its height
  const factors =
    asGiven.basis === 'roof'
      ? plain.flatMap(({ steps, by }) => [
          { steps, by },
          { steps, by: by * Math.abs(by) },
        ])
      : plain;

  function* all(): Generator<Explanation> {
    const { centre, radius } = designFrame(patch, asGiven);
    const own: Vec2 = [convention.xRuns * asGiven.centre[0], convention.yRuns * asGiven.centre[1]];
    const frames = { own, ownRadius: asGiven.unitRadius, centre, radius };
    const readings = blockReadings(asGiven).map(
      ([block, steps]) => [block, steps, roundingOf(block)] as const,
    );
    for (const { names, apply, stretch, shift } of layings(frames)) {
      const laid = laidBy(apply);
      if (!withinReach(laid, own, asGiven.unitRadius)) continue;
      for (const [block, readingSteps, rounding] of readings)
        for (const one of explained(tablePhases(block, convention, laid), rounding))
          for (const steps of names) {
            const every = [...readingSteps, ...steps, ...one.steps];
            if (totalWeight(every) <= MOST_WEIGHT) yield { ...one, steps: every, stretch, shift };
          }
    }
  }

  function laidBy(by: (at: Vec2) => Vec2): Points {
    const { xs, ys } = points;
    const laid = { xs: new Float64Array(xs.length), ys: new Float64Array(xs.length) };
    xs.forEach((x, k) => {
      [laid.xs[k], laid.ys[k]] = by([x, ys[k]!]);
    });
    return laid;
  }

  /** Every factor and constant with which the phase gives `found`. */
  function* explained(
    found: Float64Array,
    rounding: number,
  ): Generator<Omit<Explanation, 'stretch' | 'shift'>> {
    const { factor, constant } = regression(meant, found);
    if (!Number.isFinite(factor) || factor === 0) return;
    const boundOf = (by: number): number => {
      const own = bound * Math.abs(by);
      return Math.max(own, Math.min(rounding, WIDEST * range * Math.abs(by)));
    };
    const free = leftOf(found, factor, constant);
    // no factor and constant leave less than about this
    if (free > 2 * boundOf(factor)) return;
    const named = { factor: undefined, factorWithin: 0 };
    for (const { steps, by } of factors) {
      if (Math.abs(by - factor) * range > 2 * boundOf(by) + SAME_FACTOR * Math.abs(by) * range) continue;
      const plain = leftOf(found, by, 0);
      if (plain <= boundOf(by)) yield { steps, by, left: plain / Math.abs(by), ...named };
      const offset = constant + (factor - by) * meanOf(meant);
      const added = leftOf(found, by, offset);
      if (Math.abs(offset) > boundOf(by) && added <= boundOf(by))
        yield { steps: [...steps, 'constant-added'], by, left: added / Math.abs(by), ...named };
    }
    const through = throughOrigin(meant, found);
    const left = leftOf(found, through, 0);
    if (!(left <= boundOf(through))) return;
    const factorWithin = (boundOf(through) - left) / Math.max(...meant.map(Math.abs));
    const scaled = { by: through, left: left / Math.abs(through), factor: through, factorWithin };
    yield { steps: ['scaled'], ...scaled };
    for (const { step, least, most } of RANGED_FACTORS)
      if (through + factorWithin >= least && through - factorWithin <= most)
        yield { steps: [step], ...scaled };
  }

  /** Largest |found − (by·meant + constant)|. */
  function leftOf(found: Float64Array, by: number, constant: number): number {
    let left = 0;
    for (let k = 0; k < found.length; k++) {
      const difference = Math.abs(found[k]! - by * meant[k]! - constant);
      if (!(difference <= left)) left = difference;
    }
    return left;
  }

  return { range, all };
}

/**
 * The most that the digits which were not written can make, waves, where |u| and |v| stay within 1. Numbers are written with
 * so many decimals or with so many digits: the larger of the two, each taken from the number that shows most, since
 * trailing zeros may be gone.
 */
export function roundingOf({ basis, terms }: TableBlock): number {
  const leastDigit = terms.reduce((least, { lastDigit }) => Math.min(least, lastDigit), Infinity);
  const mostDigits = terms.reduce((most, { digits }) => Math.max(most, digits), 0);
  let [decimals, significant] = [0, 0];
  for (const { i, j, lastDigit, digits } of terms) {
    const most = basis === 'zernike' ? zernikeNorm([i, j]) : 1;
    decimals += most * leastDigit;
    if (digits > 0) significant += most * lastDigit * powerOfTen(digits - mostDigits);
  }
  return Math.max(decimals, significant) / 2;
}

function withinReach({ xs, ys }: Points, [x0, y0]: Vec2, radius: number): boolean {
  const far = FARTHEST * radius;
  return xs.every((x, k) => Math.hypot(x - x0, ys[k]! - y0) <= far);
}

const meanOf = (values: Float64Array): number =>
  values.reduce((sum, value) => sum + value, 0) / values.length;

/** found ≈ factor · meant + constant by least squares. */
function regression(meant: Float64Array, found: Float64Array): { factor: number; constant: number } {
  const [meanMeant, meanFound] = [meanOf(meant), meanOf(found)];
  let [across, squares] = [0, 0];
  meant.forEach((value, k) => {
    across += (value - meanMeant) * (found[k]! - meanFound);
    squares += (value - meanMeant) ** 2;
  });
  const factor = across / squares;
  return { factor, constant: meanFound - factor * meanMeant };
}

/** found ≈ factor · meant by least squares. */
function throughOrigin(meant: Float64Array, found: Float64Array): number {
  let [across, squares] = [0, 0];
  meant.forEach((value, k) => {
    across += value * found[k]!;
    squares += value * value;
  });
  return across / squares;
}

/** Centre and radius that the package gives a block of this basis. */
export function designFrame(
  patch: Pattern,
  { basis }: TableBlock,
): { readonly centre: Vec2; readonly radius: number } {
  const { outline } = patch;
  const { centre } = (basis === 'roof' ? patch.bias : undefined) ?? patch;
  if (basis === 'zernike' && outline.shape === 'circle') return outline;
  return { centre, radius: largestDistanceFrom(outline, patch.centre) };
}

/** The part of the patch's phase that a basis stands for. */
export function meantPhases(patch: Pattern, basis: TableBasis, { xs, ys }: Points): Float64Array {
  if (basis !== 'roof') return smoothPhases(patch, xs, ys);
  const roof = new Float64Array(xs.length);
  if (patch.bias?.shape === 'roof') new BiasPhase(patch.bias).accumulate(xs, ys, roof, xs.length);
  return roof;
}

/** About so many points inside and along the edge, every corner among them. */
export const pointsOf = ({ outline }: Pattern, inside: number, along: number): Points =>
  joined(interiorGrid(outline, spacingFor(outline, inside)), boundaryPoints(outline, along));
