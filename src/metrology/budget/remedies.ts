/**
 * What would make a term of the budget smaller: in words, by which word of the scenario, and what its figure is today. One row for
 * each term; the terms of error sources take their figure from those sources, so a new term needs one row and no more.
 */
import type { Design } from '../../design/design.ts';
import { isReadBy } from '../../kinds/kinds.ts';
import { NM_PER_MM, PPM_PER_ONE, UM_PER_MM, URAD_PER_RAD } from '../../quantity/conversion.ts';
import { roundedDown, trimmed } from '../../quantity/format.ts';
import type { ErrorSource, Term } from './error-source.ts';
import { isAligned } from './hologram-alignment.ts';
import type { Practice } from './practice.ts';
import { RECTANGULAR } from './reference-errors.ts';

interface Remedy {
  /** What to make better. */
  readonly better: string;
  /** The word of the scenario that says how good it is; undefined where there is none. */
  readonly word?: string;
  /** Of the figure. `fraction`: only the factor is told; `none`: there is nothing to tell. */
  readonly unit: keyof typeof UNITS | 'fraction' | 'none';
  /** Where it is not what the term's error sources say: in the program's units. */
  readonly figures?: (design: Design, practice: Practice) => readonly number[];
  /** What patches can do instead, given the fraction that must remain of the term; undefined where they can do nothing. */
  readonly byPatches?: (to: number, design: Design) => string | undefined;
}

/** From the program's units. */
const UNITS = {
  um: { per: UM_PER_MM, shown: ' µm' },
  fringes: { per: 1, shown: ' fringes' },
  nm: { per: NM_PER_MM, shown: ' nm' },
  urad: { per: URAD_PER_RAD, shown: ' µrad' },
  pascal: { per: 1, shown: ' Pa' },
  waves: { per: 1, shown: ' waves' },
  plain: { per: 1, shown: '' },
  ppm: { per: PPM_PER_ONE, shown: ' ppm' },
  celsius: { per: 1, shown: ' °C' },
} as const;

/** How many times as wide or as many: rounded up. */
const timesFor = (to: number): string =>
  to < 1 / MOST_TIMES ? `over ${MOST_TIMES}` : trimmed(Math.ceil(10 / to) / 10, 1);

/** More than this is as good as never, whatever the number. */
const MOST_TIMES = 1_000_000;

const readable = ({ scenario }: Design): readonly number[] => [scenario.interferometer.readable];

/** Of the hologram's alignment where a return ring or the collimated beam's own reflection shows it. */
const ALIGNED: Remedy = {
  better: 'a finer reading of the hologram’s alignment',
  word: 'interferometer.readable',
  unit: 'fringes',
  figures: readable,
  byPatches: (to, { patches }) =>
    patches.some(({ reference }) => isReadBy(reference, 'alignment'))
      ? `a return ring ${timesFor(to)} times as wide`
      : undefined,
};

/** And where nothing shows it. */
const PLACED: Remedy = {
  better: 'a return ring to align the hologram by, or a hologram placed more accurately',
  word: 'interferometer.placed',
  unit: 'fraction',
};

const REMEDIES: Readonly<Record<Term, Remedy | ((design: Design) => Remedy)>> = {
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
  'hologram alignment': (design) => (isAligned(design) ? ALIGNED : PLACED),
  'laser wavelength': { better: 'a laser of better known wavelength', unit: 'ppm' },
  'wavelength as given': {
    better: 'a better known wavelength',
    word: 'light.uncertainty.wavelength',
    unit: 'nm',
    figures: ({ light, scenario }, { wavelengthInAir }) => [
      scenario.light.uncertainty?.wavelength ?? wavelengthInAir * light.wavelength,
    ],
  },
  'air index': { better: 'air temperature, pressure and humidity read more accurately', unit: 'fraction' },
  'site pressure': {
    better: 'a better known air pressure at the site',
    word: 'light.uncertainty.pressure',
    unit: 'pascal',
    figures: ({ scenario }, { sitePressure }) => [scenario.light.uncertainty?.pressure ?? sitePressure],
  },
  'glass thickness': {
    better: 'a better known thickness of the glass',
    word: 'substrate.tolerance.thickness',
    unit: 'um',
  },
  'glass index': {
    better: 'a better known index of the glass',
    word: 'substrate.tolerance.index',
    unit: 'plain',
  },
  wedge: { better: 'a glass with less wedge', word: 'substrate.tolerance.wedge', unit: 'urad' },
  'transmitted wavefront': {
    better: 'a glass of better transmitted wavefront',
    word: 'substrate.tolerance.wavefront',
    unit: 'waves',
  },
  'interferometer reference': {
    better: 'a better known reference wavefront',
    word: 'interferometer.wavefront',
    unit: 'waves',
    figures: ({ scenario }, { referenceWavefront }) => [
      scenario.interferometer.wavefront ?? referenceWavefront,
    ],
  },
  'glass expansion': {
    better: 'a better known hologram temperature',
    unit: 'celsius',
    figures: (_design, { glassTemperature }) => [glassTemperature],
  },
  'own figure': {
    better: 'a better known figure of the surface under test',
    word: 'test.ownFigure',
    unit: 'nm',
  },
  'setting by eye': {
    better: 'one more reference or patch that shows what is now set by eye',
    unit: 'none',
  },
};

function remedyOf(term: Term, design: Design): Remedy {
  const remedy = REMEDIES[term];
  return typeof remedy === 'function' ? remedy(design) : remedy;
}

/** Digits of a figure that is to be met: it is rounded down, so that meeting it is enough. */
const DIGITS = 2;
/** Figures that agree to this part of each other are one. */
const SAME = 1e-9;

/** Terms with the same cause come down together: those whose figure is one word of the scenario. */
export const causeOf = (term: Term, design: Design): string => remedyOf(term, design).word ?? term;

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
  const { better, word, unit, figures } = remedyOf(cause[0]![0], design);
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
  const byPatches = cause.filter(([term]) => remedyOf(term, design).byPatches?.(1, design) !== undefined);
  const changed = varianceOfCause(byPatches);
  const square = (allowed - varianceOfCause(cause) + changed) / changed;
  if (!(square > 0)) return '';
  return byPatches
    .flatMap(([term]) => remedyOf(term, design).byPatches!(Math.sqrt(square), design) ?? [])
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

const MOST_DECIMALS = 6;
/** The least figure that is written, in its unit: anything less is out of reach. */
const LEAST_FIGURE = 1e-6;

const figureWords = (value: number): string =>
  value < LEAST_FIGURE
    ? `less than ${trimmed(LEAST_FIGURE, MOST_DECIMALS)}`
    : trimmed(roundedDown(value, DIGITS), MOST_DECIMALS);
