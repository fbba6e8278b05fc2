/**
 * The search for what could have been misread: every way to lay the places, and every factor and constant before the phase, with
 * which the design's phase gives a block of the table within the bound. Places mm, substrate frame; phases waves at order 1.
 */
import type { Pattern } from '../design/pattern.ts';
import { smoothPhases } from '../design/phase-fit.ts';
import { largestDistanceFrom } from '../geometry/extent.ts';
import { boundaryPoints, interiorGrid, joined, type Points, spacingFor } from '../geometry/sampling.ts';
import type { Vec2 } from '../geometry/vector.ts';
import { accumulateBias } from '../optics/bias.ts';
import { zernikeNorm } from '../optics/zernike.ts';
import { powerOfTen } from '../quantity/power.ts';
import type { TableBasis, TableBlock, TableConvention } from '../scenario/coefficient-table.ts';
import { namedFactors, STRETCHES, type Step, TURNS, totalWeight } from './misreading.ts';
import { fromUnitPeak, tablePhases } from './table-phase.ts';

export interface Explanation {
  readonly steps: readonly Step[];
  /** What is left of the difference once the steps are taken back, waves. */
  readonly left: number;
  /** Of a factor without a name. */
  readonly factor: number | undefined;
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
const SAME_PLACE = 1e-9;

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
    const readings: (readonly [TableBlock, readonly Step[]])[] = [[asGiven, []]];
    if (asGiven.basis === 'zernike') readings.push([fromUnitPeak(asGiven), ['unit-peak-zernikes']]);
    for (const [block, readingSteps] of readings) {
      const rounding = roundingOf(block);
      for (const { steps, laid } of layings(block)) {
        const found = tablePhases(block, convention, laid);
        for (const { steps: more, left, factor } of explained(found, rounding)) {
          const every = [...readingSteps, ...steps, ...more];
          if (totalWeight(every) <= MOST_WEIGHT) yield { steps: every, left, factor };
        }
      }
    }
  }

  /** Where the table would have each place, by each set of steps on places. */
  function* layings(block: TableBlock): Generator<{ steps: readonly Step[]; laid: Points }> {
    const { centre } = (block.basis === 'roof' ? patch.bias : undefined) ?? patch;
    const own: Vec2 = [convention.xRuns * block.centre[0], convention.yRuns * block.centre[1]];
    const radius = largestDistanceFrom(patch.outline, centre);
    const near = (a: Vec2, b: Vec2): boolean => Math.hypot(a[0] - b[0], a[1] - b[1]) <= SAME_PLACE * radius;
    for (const turn of TURNS) {
      const turned = laidBy(turn.apply);
      if (withinReach(turned, own, block.unitRadius)) yield { steps: turn.steps, laid: turned };
      const moved = near(own, centre) || near(own, turn.apply(centre)) ? [] : (['centre-moved'] as const);
      for (const stretch of STRETCHES) {
        const laid = laidBy(([x, y]) => {
          const [dx, dy] = turn.apply([x - centre[0], y - centre[1]]);
          return [own[0] + stretch.by * dx, own[1] + stretch.by * dy];
        });
        if (withinReach(laid, own, block.unitRadius))
          yield { steps: [...turn.steps, ...stretch.steps, ...moved], laid };
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
  function* explained(found: Float64Array, rounding: number): Generator<Explanation> {
    const { factor, constant } = regression(meant, found);
    if (!Number.isFinite(factor) || factor === 0) return;
    const boundOf = (by: number): number => {
      const own = bound * Math.abs(by);
      return Math.max(own, Math.min(rounding, WIDEST * range * Math.abs(by)));
    };
    const free = leftOf(found, factor, constant);
    // no factor and constant leave less than about this
    if (free > 2 * boundOf(factor)) return;
    let named = false;
    for (const { steps, by } of factors) {
      if (Math.abs(by - factor) * range > 2 * boundOf(by) + SAME_FACTOR * Math.abs(by) * range) continue;
      const plain = leftOf(found, by, 0);
      if (plain <= boundOf(by)) {
        named = true;
        yield { steps, left: plain / Math.abs(by), factor: undefined };
      }
      const offset = constant + (factor - by) * meanOf(meant);
      const added = leftOf(found, by, offset);
      if (Math.abs(offset) > boundOf(by) && added <= boundOf(by)) {
        named = true;
        yield { steps: [...steps, 'constant-added'], left: added / Math.abs(by), factor: undefined };
      }
    }
    if (!named && leftOf(found, factor, 0) <= boundOf(factor))
      yield { steps: ['scaled'], left: leftOf(found, factor, 0) / Math.abs(factor), factor };
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

/** The part of the patch's phase that a basis stands for. */
export function meantPhases(patch: Pattern, basis: TableBasis, { xs, ys }: Points): Float64Array {
  if (basis !== 'roof') return smoothPhases(patch, xs, ys);
  const roof = new Float64Array(xs.length);
  if (patch.bias?.shape === 'roof') accumulateBias(patch.bias, xs, ys, roof, xs.length);
  return roof;
}

/** About so many points inside and along the edge, every corner among them. */
export const pointsOf = ({ outline }: Pattern, inside: number, along: number): Points =>
  joined(interiorGrid(outline, spacingFor(outline, inside)), boundaryPoints(outline, along));
