/**
 * The readings that a patch's picture may be, from some of its pixels: found by a search, fitted, and each beside the one that shows W the
 * other way round, which one frame tells from it only by what the patch shows by itself. Best first.
 */
import { solveLeastSquares } from '../../algebra/least-squares.ts';
import { searchLine, searchPlane } from './carrier-search.ts';
import { searchFew } from './few-fringes-search.ts';
import { type FringeFit, fitFringes, heldBy, startAt, unknownsOf } from './fringe-fit.ts';
import { type FitPixels, fitPixels } from './fringe-model.ts';
import type { PixelFields } from './pixel-fields.ts';
import type { ReturnModel } from './return-model.ts';
import { picked, pickedPixels, type SeenPixels, someOf } from './seen-pixels.ts';

/** Pixels that are looked at. */
const COARSE = 800;
/** Of these, pixels of a fit. */
const FEW = 400;
/** Part of the best one's that another start has to explain. */
const ALIKE = 0.4;
/** A guess, of full scale. */
const TYPICAL_NOISE = 0.02;
const STEPS = 15;
/** Times the least squares of another fit: of some hundreds of values no fit comes back from there. */
const HOPELESS = 4;
/** Fringes: no two readings are nearer together. */
const SAME = 0.03;
/** Standard uncertainties. */
const OPEN = 3;
/** Less explained than this may be a picture of next to no fringes, where the search sees only its background. */
const PLAIN = 0.7;
const SMALL = 0.4;
/** From the design place. */
const FEW_FRINGES = 4;

export interface CoarseFit {
  readonly fit: FringeFit;
  /** Σ residual² beyond the best one's, in units of its variance, for all pixels of the patch. */
  readonly worse: number;
  /** The amounts that show −W as nearly as any do, and by how much more squares, in those units, they must miss it: less what W's first order, by which all are fitted, may leave out. */
  readonly otherWay: Float64Array;
  readonly otherWayWorse: number;
  /** By so much each amount may be off and be meant. */
  readonly open: readonly number[];
}

export function coarseFits(model: ReturnModel, fields: PixelFields, seen: SeenPixels): readonly CoarseFit[] {
  const all = allPixels(fields, seen, model.spread);
  const chosen = someOf(fields.count, COARSE).filter((index) => seen.used[index] === 1);
  if (chosen.length < 3 * model.spread.length + 13) return [];
  const some = pickedPixels(all, chosen);
  const searched = {
    count: chosen.length,
    column: picked(fields.column, chosen),
    row: picked(fields.row, chosen),
    waves: some.waves,
    shapes: some.shapes,
    part: Uint8Array.from(chosen, (index) => fields.part[index]!),
    values: withoutBackground(some),
  };
  const found = model.read === 1 ? searchLine(searched) : searchPlane(searched);
  const most = found[0]?.explained ?? 0;
  const starts = found.filter(({ explained }) => explained > ALIKE * most).map(({ amounts }) => amounts);
  const few = pickedPixels(some, someOf(some.count, FEW / some.values.length));
  if (!(most > PLAIN)) {
    const isBall = model.read === 3 && !model.linear;
    if (isBall && isFew(found[0]?.amounts))
      starts.push(...searchFew({ ...searched, u: some.u, v: some.v }).map(({ amounts }) => amounts));
    starts.push(...smallStarts(model));
  }
  const fits: FringeFit[] = [];
  const tryFrom = (amounts: ArrayLike<number>): void => {
    const start = startAt(few, amounts);
    const least = fits.reduce((most, { squares }) => Math.min(most, squares), Number.POSITIVE_INFINITY);
    const end = { steps: STEPS, hopeless: HOPELESS * least };
    const fit = start && fitFringes(few, start, TYPICAL_NOISE, end);
    if (fit === undefined || !Number.isFinite(fit.squares)) return;
    const open = openOf(model, few, fit);
    const same = fits.findIndex((other) => isWithin(other.amounts, fit.amounts, open));
    if (same < 0) fits.push(fit);
    else if (fit.squares < fits[same]!.squares) fits[same] = fit;
  };
  for (const start of starts) tryFrom(start);
  if (fits.length === 0) return [];
  bySquares(fits);
  const otherWayRound = otherWaysRound(few);
  for (const fit of fits.slice(0, 2)) tryFrom(otherWayRound(fit).amounts);
  bySquares(fits);
  const best = fits[0]!;
  const variance = Math.max(1e-12, best.squares / Math.max(1, best.values - unknownsOf(few)));
  const scale = fields.whole / few.count / variance;
  return fits.map((fit) => ({
    fit,
    worse: (fit.squares - best.squares) * scale,
    ...otherWayOf(fit),
    open: openOf(model, few, fit),
  }));

  function otherWayOf(fit: FringeFit): Pick<CoarseFit, 'otherWay' | 'otherWayWorse'> {
    const { amounts, missed } = otherWayRound(fit);
    const squares = squaresOf(fit, missed) - leftOut(model, fit);
    return { otherWay: amounts, otherWayWorse: Math.max(0, squares * scale) };
  }
}

/** Whether what the search found, if it did, has so few fringes that the background has a part in them. */
const isFew = (amounts: readonly number[] | undefined): boolean =>
  amounts === undefined || Math.hypot(...amounts.slice(0, 3)) < FEW_FRINGES;

/** Fringes by which W at amounts n is missed: a part of n², common to all kinds, but for a fixed one; no more than that is borne. */
const MISSED = { always: 0.003, bySquare: 0.002, most: 0.05 } as const;

function leftOut({ read, linear }: ReturnModel, { amounts, amplitude, values }: FringeFit): number {
  if (linear) return 0;
  const square = amounts.subarray(0, read).reduce((sum, amount) => sum + amount * amount, 0);
  const missed = Math.min(MISSED.most, MISSED.always + MISSED.bySquare * square);
  return squaresOf({ amplitude, values }, missed);
}

/** Σ residual² of W missed by so many fringes, rms. */
const squaresOf = ({ amplitude, values }: Pick<FringeFit, 'amplitude' | 'values'>, missed: number): number =>
  (values * (2 * Math.PI * missed * amplitude) ** 2) / 2;

const bySquares = (fits: FringeFit[]): FringeFit[] => fits.sort((a, b) => a.squares - b.squares);

/** What the values leave open of each amount: where next to no fringes are seen, a fit ends before the very bottom. */
function openOf({ read }: ReturnModel, pixels: FitPixels, fit: FringeFit): readonly number[] {
  const sigma = Math.sqrt(fit.squares / Math.max(1, fit.values - unknownsOf(pixels)));
  const held = heldBy(pixels, fit, sigma, read);
  return Array.from({ length: read }, (_, k) =>
    Math.max(SAME, held === undefined ? 0 : OPEN * sigma * Math.sqrt(held.inverse[k * read + k]!)),
  );
}

const isWithin = (a: ArrayLike<number>, b: ArrayLike<number>, open: readonly number[]): boolean =>
  open.every((most, k) => Math.abs(a[k]! - b[k]!) <= most);

/** The whole of the patch's pixels, contrast left as it is. */
const allPixels = (
  { count, u, v, waves, shapes }: PixelFields,
  { values, used }: SeenPixels,
  spread: readonly number[],
): FitPixels =>
  fitPixels({
    ...{ count, values, u, v, waves, shapes, spread, used },
    expected: spread.map(() => 0),
    contrast: new Float64Array(count).fill(1),
    clipped: TYPICAL_NOISE,
  });

/** Half a fringe of tilt all round, and of power; of a ring, whose narrow band bends under its fringes, one and two of tilt as well. */
function smallStarts({ read, spread, linear }: ReturnModel): number[][] {
  const start = (...first: number[]): number[] => spread.map((_, k) => first[k] ?? 0);
  if (read === 1) return [start(0), start(SMALL)];
  // One frame shows −W as it shows W: half a turn is enough.
  const round = (tilt: number, count: number): number[][] =>
    Array.from({ length: count }, (_, k) => (k * Math.PI) / count).map((angle) =>
      start(tilt * Math.cos(angle), tilt * Math.sin(angle)),
    );
  const more = linear ? [...round(1, 4), ...round(2, 8)] : [];
  return [...round(SMALL, 4), ...more, start(0, 0, SMALL), start(0, 0, -SMALL)];
}

/** The first frame's values less a smooth background. */
export function withoutBackground({
  count,
  u,
  v,
  values,
}: Pick<FitPixels, 'count' | 'u' | 'v' | 'values'>): Float64Array {
  const rows = new Float64Array(count * 6);
  for (let i = 0; i < count; i++) {
    const [p, q] = [u[i]!, v[i]!];
    rows.set([1, p, q, p * p, p * q, q * q], i * 6);
  }
  return solveLeastSquares(rows, 6, values[0]!).residuals;
}

/** The amounts that show −W as nearly as any do: of what the patch shows by itself they can undo only what has their shapes. Fringes, rms. */
function otherWaysRound({
  count,
  waves,
  shapes,
}: FitPixels): (fit: FringeFit) => { readonly amounts: Float64Array; readonly missed: number } {
  const n = shapes.length;
  const rows = new Float64Array(count * (n + 1));
  for (let i = 0; i < count; i++) {
    for (let k = 0; k < n; k++) rows[i * (n + 1) + k] = shapes[k]![i]!;
    rows[i * (n + 1) + n] = 1;
  }
  const { solution, residuals } = solveLeastSquares(rows, n + 1, waves);
  const squares = residuals.reduce((sum, each) => sum + each * each, 0);
  return ({ amounts }) => ({
    amounts: amounts.map((amount, k) => -amount - 2 * solution[k]!),
    missed: 2 * Math.sqrt(squares / count),
  });
}
