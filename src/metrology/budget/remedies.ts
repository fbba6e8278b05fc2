/**
 * What would make a term of the budget smaller: in words, by which word of the scenario, and what its figure is today. One row for
 * each term; the terms of error sources take their figure from those sources, so a new term needs one row and no more.
 */
import type { Design } from '../../design/design.ts';
import { isReadBy } from '../../kinds/kinds.ts';
import { PPM_PER_ONE, UM_PER_MM } from '../../quantity/conversion.ts';
import { roundedDown, trimmed } from '../../quantity/format.ts';
import type { ErrorSource, Term } from './error-source.ts';
import type { Practice } from './practice.ts';
import { RECTANGULAR } from './reference-errors.ts';

interface Remedy {
  /** What to make better. */
  readonly better: string;
  /** The word of the scenario that says how good it is; undefined where there is none. */
  readonly word?: string;
  /** Of the figure. `fraction`: only the factor is told; `none`: there is nothing to tell. */
  readonly unit: keyof typeof UNITS | 'fraction' | 'none';
  /** Where it is not what the term's error sources say: mm, fringes, °C or a fraction. */
  readonly figures?: (design: Design, practice: Practice) => readonly number[];
  /** What patches can do instead, given the fraction that must remain of the term; undefined where they can do nothing. */
  readonly byPatches?: (to: number, design: Design) => string | undefined;
}

/** From the program's units. */
const UNITS = {
  um: { per: UM_PER_MM, shown: ' µm' },
  fringes: { per: 1, shown: ' fringes' },
  ppm: { per: PPM_PER_ONE, shown: ' ppm' },
  celsius: { per: 1, shown: ' °C' },
} as const;

/** How many times as wide or as many: rounded up. */
const timesFor = (to: number): string => trimmed(Math.ceil(10 / to) / 10, 1);

const readable = ({ scenario }: Design): readonly number[] => [scenario.interferometer.readable];

const REMEDIES: Readonly<Record<Term, Remedy>> = {
  reading: {
    better: 'a finer fringe reading',
    word: 'interferometer.readable',
    unit: 'fringes',
    figures: readable,
    byPatches: (to) => `patches ${timesFor(to)} times as wide along the sensed direction`,
  },
  'measured length': {
    better: 'more accurate measurements',
    word: 'uncertainty',
    unit: 'um',
    figures: ({ scenario }) => scenario.measurements.map(({ uncertainty }) => uncertainty),
  },
  'apex centring': { better: 'better centred retroreflectors', word: 'centring', unit: 'um' },
  'ball form': { better: 'rounder balls', word: 'form', unit: 'um' },
  'ball radius': { better: 'balls of better known radius', word: 'radiusTolerance', unit: 'um' },
  nest: { better: 'more repeatable seats', word: 'nest', unit: 'um' },
  'pattern placement': {
    better: 'a writer that places better',
    word: 'process.placement',
    unit: 'um',
    byPatches: (to) => `${timesFor(to * to)} times as many patches`,
  },
  'hologram alignment': {
    better: 'a finer reading of the hologram’s alignment',
    word: 'interferometer.readable',
    unit: 'fringes',
    figures: readable,
    byPatches: (to, { patches }) =>
      patches.some(({ reference }) => isReadBy(reference, 'alignment'))
        ? `a return ring ${timesFor(to)} times as wide`
        : undefined,
  },
  'laser wavelength': { better: 'a laser of better known wavelength', unit: 'ppm' },
  'air index': { better: 'air temperature, pressure and humidity read more accurately', unit: 'fraction' },
  'glass expansion': {
    better: 'a better known hologram temperature',
    unit: 'celsius',
    figures: (_design, { glassTemperature }) => [glassTemperature],
  },
  'setting by eye': {
    better: 'one more reference or patch that shows what is now set by eye',
    unit: 'none',
  },
};

/** Digits of a figure that is to be met: it is rounded down, so that meeting it is enough. */
const DIGITS = 2;
/** Figures that agree to this part of each other are one. */
const SAME = 1e-9;

/** Terms with the same cause come down together: those whose figure is one word of the scenario. */
export const causeOf = (term: Term): string => REMEDIES[term].word ?? term;

/** Terms of one cause with their variances, the largest first. */
export type Cause = readonly (readonly [Term, number])[];

export const varianceOfCause = (cause: Cause): number =>
  cause.reduce((sum, [, variance]) => sum + variance, 0);

/** What brings the variance of a cause down to what is allowed, in words; and whether patches can do it. */
export function remedyFor(
  cause: Cause,
  allowed: number,
  design: Design,
  sources: readonly ErrorSource[],
  practice: Practice,
): { readonly words: string; readonly byPatches: boolean } {
  const { better, word, unit, figures } = REMEDIES[cause[0]![0]];
  const found =
    figures?.(design, practice) ??
    figuresOf(sources.filter(({ term }) => cause.some(([name]) => name === term)));
  const named = word === undefined ? '' : ` (\`${word}\`)`;
  const to = Math.sqrt(allowed / varianceOfCause(cause));
  const words = `${better}${named}${changeWords(found, to, unit)}`;
  const patches = patchWords(cause, allowed, design);
  return { words: patches === '' ? words : `${words}, or ${patches}`, byPatches: patches !== '' };
}

/** Empty where the terms that no patch changes are too large already. */
function patchWords(cause: Cause, allowed: number, design: Design): string {
  const byPatches = cause.filter(([term]) => REMEDIES[term].byPatches?.(1, design) !== undefined);
  const changed = varianceOfCause(byPatches);
  const square = (allowed - varianceOfCause(cause) + changed) / changed;
  if (!(square > 0)) return '';
  return byPatches
    .flatMap(([term]) => REMEDIES[term].byPatches!(Math.sqrt(square), design) ?? [])
    .join(' and ');
}

/** Tolerances where the sources are taken as rectangular, else standard uncertainties. */
const figuresOf = (sources: readonly ErrorSource[]): number[] =>
  sources.map(({ u, distribution }) => (distribution === 'rectangular' ? u / RECTANGULAR : u));

function changeWords(figures: readonly number[], to: number, unit: Remedy['unit']): string {
  if (unit === 'none') return '';
  const share = `, ${figureWords(to)} times what it is`;
  if (unit === 'fraction' || figures.length === 0) return share;
  const { per, shown } = UNITS[unit];
  const [least, most] = [Math.min(...figures) * per, Math.max(...figures) * per];
  if (most - least > SAME * most)
    return `${share} (now ${trimmed(least, MOST_DECIMALS)} to ${trimmed(most, MOST_DECIMALS)}${shown})`;
  return ` of ${figureWords(most * to)}${shown} (now ${trimmed(most, MOST_DECIMALS)}${shown})`;
}

const figureWords = (value: number): string => trimmed(roundedDown(value, DIGITS), MOST_DECIMALS);

const MOST_DECIMALS = 6;
