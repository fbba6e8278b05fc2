/**
 * The explanations that several blocks of a table share, and the simplest of them: one misreading told once. A factor without a
 * name is shared where one number fits all blocks. Waves, mm.
 */
import type { Vec2 } from '../geometry/vector.ts';
import type { BlockMeaning } from './block-meaning.ts';
import { isNumber, RANGED_FACTORS, totalWeight } from './misreading.ts';
import type { Explanation } from './misreading-search.ts';

/** Explanations of equal weight, none better than another. */
export type Alternatives = readonly Explanation[];

/** A tie where weights differ by less. */
const TIE = 1e-9;
/** Two scales of lengths are one: what nine decimals of a few mm leave of them. */
const ONE_STRETCH = 1e-6;
/** Two shifts are one, mm: nine decimals of a table, generously. */
const ONE_SHIFT = 1e-6;
/** Two factors are one even where a block's bound leaves no room: digits of a coefficient. */
const ONE_FACTOR = 1e-9;

/** By key, what all of the blocks have in common; none where there are no blocks. */
export function commonExplanations(blocks: readonly BlockMeaning[]): ReadonlyMap<string, Explanation> {
  const common = new Map<string, Explanation>();
  const [first, ...others] = blocks;
  for (const [key, explanation] of first?.explanations() ?? []) {
    const theirs = others.map(({ explanations }) => explanations().get(key));
    if (key === '' || theirs.includes(undefined)) continue;
    const all = [explanation, ...(theirs as Explanation[])];
    const agreed = inCommon(all, blocks);
    if (agreed !== undefined) common.set(key, agreed);
  }
  return common;
}

/** The lightest of the explanations that all blocks have in common; causes before mere numbers. */
export function simplest(blocks: readonly BlockMeaning[]): Alternatives {
  // what rounding alone explains needs no misreading
  if (blocks.every(({ same, rounded }) => same || rounded)) return [];
  const all = [...commonExplanations(blocks).values()];
  // a roof is a height and a direction: two steps, one of them a number, would fit any other roof
  const onlyRoofs = blocks.every(({ block }) => block.basis === 'roof');
  return lightest(onlyRoofs ? all.filter(({ steps }) => !isNumber(steps) || steps.length === 1) : all);
}

function lightest(all: readonly Explanation[]): Alternatives {
  const causes = all.filter(({ steps }) => !isNumber(steps));
  const chosen = causes.length > 0 ? causes : all;
  const least = Math.min(...chosen.map(({ steps }) => totalWeight(steps)));
  return chosen.filter(({ steps }) => totalWeight(steps) <= least + TIE);
}

/** One explanation for all, with its one factor and its one scale; undefined where these differ. */
function inCommon(all: readonly Explanation[], blocks: readonly BlockMeaning[]): Explanation | undefined {
  const left = Math.max(...all.map((one) => one.left));
  const stretches = all.flatMap(({ stretch }) => stretch ?? []);
  if (stretches.some((own) => Math.abs(own / stretches[0]! - 1) > ONE_STRETCH)) return undefined;
  const [{ shift }] = all as [Explanation];
  const isOne = all.every(
    (own) => shift !== undefined && own.shift !== undefined && isNear(own.shift, shift),
  );
  const one = { ...all[0]!, left, shift: isOne ? shift : undefined };
  const bySmooth = agreedFactor(all, blocks, false);
  if (bySmooth !== undefined) return { ...one, ...bySmooth };
  const bySquare = agreedFactor(all, blocks, true);
  return bySquare && { ...one, ...bySquare };
}

const isNear = (a: Vec2, b: Vec2): boolean => Math.hypot(a[0] - b[0], a[1] - b[1]) <= ONE_SHIFT;

/** `wholeRoof`: all three numbers of a roof were scaled, so that its height is the square. */
function agreedFactor(
  all: readonly Explanation[],
  blocks: readonly BlockMeaning[],
  wholeRoof: boolean,
): Pick<Explanation, 'factor' | 'factorWithin'> | undefined {
  let [least, most] = [-Infinity, Infinity];
  let best: { readonly factor: number; readonly factorWithin: number } | undefined;
  all.forEach((own, k) => {
    if (own.factor === undefined) return;
    const root = wholeRoof && blocks[k]!.block.basis === 'roof';
    const factor = root ? Math.sign(own.factor) * Math.sqrt(Math.abs(own.factor)) : own.factor;
    const within =
      Math.max(own.factorWithin, ONE_FACTOR * Math.abs(own.factor)) / (root ? 2 * Math.abs(factor) : 1);
    [least, most] = [Math.max(least, factor - within), Math.min(most, factor + within)];
    if (best === undefined || within < best.factorWithin) best = { factor, factorWithin: within };
  });
  if (best === undefined) return { factor: undefined, factorWithin: 0 };
  for (const range of RANGED_FACTORS)
    if (all[0]!.steps.includes(range.step))
      [least, most] = [Math.max(least, range.least), Math.min(most, range.most)];
  return least <= most ? best : undefined;
}
