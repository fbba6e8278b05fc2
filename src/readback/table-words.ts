/** The words of what is said of a coefficient table that came back: what was misread, of which patches, by how much. Waves, mm. */
import type { Vec2 } from '../geometry/vector.ts';
import { trimmed } from '../quantity/format.ts';
import type { TableBasis, TableBlock } from '../scenario/coefficient-table.ts';
import type { BlockMeaning } from './block-meaning.ts';
import type { Alternatives } from './common-explanations.ts';
import { STEP_WORDS, type Step } from './misreading.ts';
import type { TermDifference } from './table-terms.ts';

export const BASIS_WORDS: Readonly<Record<TableBasis, string>> = {
  xy: 'polynomial',
  radial: 'radial polynomial',
  zernike: 'Zernike terms',
  roof: 'roof',
};
/** Patches named; of more, the count. */
const PATCHES_NAMED = 6;
/** Decimals of a scale of lengths, and the most of a factor. */
const STRETCH_DIGITS = 7;
const MOST_DIGITS = 9;

/** As the table's own formulas have it. */
export function termName(
  { i, j }: Pick<TermDifference, 'i' | 'j'>,
  { basis }: Pick<TableBlock, 'basis'>,
): string {
  if (basis === 'zernike') return `the Zernike term n = ${i}, m = ${j}`;
  if (basis === 'roof') return i + j === 0 ? 'c0' : i === 1 ? 'c1' : 'c2';
  return `the term ${basis === 'radial' ? `rho^${2 * i}` : `u^${i} v^${j}`}`;
}

/** `sign flipped`, or all names of what comes to the same here; and what is left once it is taken back. `roof`: of roofs alone. */
export function misreadWords(alternatives: Alternatives, bound: number, roof = false): string {
  const words = alternatives.map(({ steps, factor, factorWithin, stretch, shift }) => {
    const number =
      factor === undefined ? stretch && trimmed(stretch, STRETCH_DIGITS) : shortest(factor, factorWithin);
    if (roof && number !== undefined && steps.every((step) => step === 'scaled'))
      return `its height is ${number} times the design’s`;
    const words = stepsWords(steps);
    const by = steps.includes('centre-moved') && shift ? ` by ${shiftWords(shift)}` : '';
    return `${words}${by}${number === undefined ? '' : `, ${number}`}`;
  });
  const joined = words.join('; or ');
  const same = words.length === 1 ? '' : ' (equivalent here)';
  const left = Math.min(...alternatives.map((alternative) => alternative.left));
  return `${joined}${same}${left > bound ? `, and rounded too coarsely: ${shown(left)} waves remain after correction` : ''}`;
}

function stepsWords(steps: readonly Step[]): string {
  const turn = TURN_WORDS.find(({ of }) => of.every((step) => steps.includes(step)));
  const rest = steps.filter((step) => turn === undefined || !turn.of.includes(step));
  return [...(turn === undefined ? [] : [turn.words]), ...rest.map((step) => STEP_WORDS[step])].join(
    ', and ',
  );
}

const shiftWords = ([x, y]: Vec2): string => `(${trimmed(x, 6)}, ${trimmed(y, 6)}) mm`;

/** With no more decimals than it is known to, ±`within`. */
function shortest(factor: number, within: number): string {
  for (let digits = 0; digits < MOST_DIGITS; digits++) {
    const text = trimmed(factor, digits);
    if (Number(text) !== 0 && Math.abs(Number(text) - factor) <= within) return text;
  }
  return trimmed(factor, MOST_DIGITS);
}

/** Steps on the axes that come to a turn; the swap stands before the mirror. */
const TURN_WORDS: readonly { readonly of: readonly Step[]; readonly words: string }[] = [
  {
    of: ['x-y-swapped', 'x-mirrored', 'y-mirrored'],
    words: 'mirrored at the line y = -x (x and y swapped, and both mirrored)',
  },
  { of: ['x-mirrored', 'y-mirrored'], words: 'turned by 180° (x mirrored, and y mirrored)' },
  {
    of: ['x-y-swapped', 'x-mirrored'],
    words: 'turned by 90° counter-clockwise (x and y swapped, and x mirrored)',
  },
  { of: ['x-y-swapped', 'y-mirrored'], words: 'turned by 90° clockwise (x and y swapped, and y mirrored)' },
];

/** `patch a`, `patches a and b`, `all 9 patches`; with the basis where only its rows are meant. */
export function patchesWords(
  parts: readonly { readonly id: string; readonly basis: TableBasis | undefined }[],
  count: number,
): string {
  const bases = [...new Set(parts.map(({ basis }) => basis))];
  return bases
    .map((basis) => {
      const ids = parts.filter((part) => part.basis === basis).map(({ id }) => id);
      return `${idsWords(ids, count)}${basis === undefined ? '' : `, ${BASIS_WORDS[basis]}`}`;
    })
    .join('; ');
}

/** `count`: of all patches, where they may be told as such. */
export function idsWords(all: readonly string[], count?: number): string {
  const ids = [...new Set(all)];
  if (ids.length === 1) return `patch ${ids[0]}`;
  if (ids.length === count) return `all ${count} patches`;
  const named = ids.slice(0, ids.length > PATCHES_NAMED ? PATCHES_NAMED : ids.length - 1);
  const last = ids.length > PATCHES_NAMED ? `${ids.length - PATCHES_NAMED} more` : ids.at(-1)!;
  return `${ids.length} patches (${named.join(', ')} and ${last})`;
}

export const worstWords = ({ worst, worstAt }: BlockMeaning, bound: number): string =>
  `up to ${shown(worst)} waves off at x = ${trimmed(worstAt[0], 3)} mm, y = ${trimmed(worstAt[1], 3)} mm; the limit is ${shown(bound)}`;

export const shown = (value: number): string =>
  Math.abs(value) < 1e15 ? trimmed(Number(value.toPrecision(4)), 12) : value.toExponential(3);
export const signed = (order: number): string => (order > 0 ? `+${order}` : String(order));
