/**
 * The ways in which a coefficient table is commonly misread, as elementary steps that combine: what each does to the
 * places, to the coefficients, and what factor it puts on the values. A table g was misread from the phase Φ by some of them where
 *   g(N Q) = k · Φ(Q) + c for all Q of the patch, N the steps on places, k the product of their factors.
 * Places mm, values waves. The steps on places are laid in layings.ts, those on coefficients in block-readings.ts.
 */
import type { Vec2 } from '../geometry/vector.ts';
import { NM_PER_MM, UM_PER_MM } from '../quantity/conversion.ts';
import { LENGTH_WORDS, type LengthStep } from './length-steps.ts';

/** In words: what is wrong with the table's numbers. */
const OWN_WORDS = {
  'x-mirrored': 'x mirrored',
  'y-mirrored': 'y mirrored',
  'x-y-swapped': 'x and y swapped',
  'centre-moved': 'the centre is shifted',
  'centre-left-out': 'the centre is left out: 0, 0',
  'centre-x-negated': 'the sign of centreX is flipped, the pattern itself is not mirrored',
  'centre-y-negated': 'the sign of centreY is flipped, the pattern itself is not mirrored',
  'centre-x-y-swapped': 'centreX and centreY are swapped',
  'radius-doubled': 'diameter given as radius: the normalisation radius is twice the design’s',
  'radius-halved': 'radius taken as diameter: the normalisation radius is half the design’s',
  'radius-scaled': 'the normalisation radius alone is scaled',
  magnified: 'magnified about the origin: all lengths are scaled by the same factor',
  'sign-flipped': 'sign flipped',
  'radians-for-waves': 'radians given as waves: 2 pi times too large',
  'waves-for-radians': 'waves given as radians: 2 pi times too small',
  'degrees-for-waves': 'degrees given as waves: 360 times too large',
  'thousandths-for-waves': 'thousandths of a wave given as waves: 1000 times too large',
  'order-ignored': 'order ignored: the phase is multiplied by the working order',
  'order-applied-twice': 'order applied twice: the phase is divided by the working order once more',
  'nanometres-for-waves': 'nanometres of path given as waves',
  'micrometres-for-waves': 'micrometres of path given as waves',
  'millimetres-for-waves': 'millimetres of path given as waves',
  'phase-doubled': 'phase doubled: as for a double pass, or half waves (fringes) given as waves',
  'phase-halved': 'phase halved: divided by 2 as if it were for a double pass',
  'vacuum-for-air': 'waves of the vacuum wavelength given for waves in air: too small by the index of air',
  'air-for-vacuum': 'multiplied by the index of air once more: the waves are those in air already',
  'unit-peak-zernikes': 'Zernike terms normalised to unit peak, not unit RMS',
  'zernikes-divided':
    'Zernike terms divided by their norms: taken for unit peak, they were of unit RMS already',
  'noll-order': 'Zernike coefficients in the order of Noll’s index',
  'fringe-order': 'Zernike coefficients in the order of the fringe index',
  'sines-for-cosines': 'Zernike sine and cosine terms exchanged: the sign of m',
  'powers-of-mm': 'coefficients of powers of x and y in mm: the normalisation radius was not applied',
  'normalised-twice': 'coefficients multiplied by the powers of the normalisation radius once more',
  'piston-lost': 'piston lost: the constant term is missing',
  'constant-added': 'a constant added',
  'minus-signs-lost': 'minus signs lost: every coefficient is positive',
  'decimal-points-lost': 'decimal points lost or shifted: the digits are right',
  'rows-shifted-down': 'coefficients one row too low',
  'rows-shifted-up': 'coefficients one row too high',
  scaled: 'every coefficient scaled by the same factor',
} as const;

export type Step = keyof typeof OWN_WORDS | LengthStep;
export const STEP_WORDS: Readonly<Record<Step, string>> = { ...OWN_WORDS, ...LENGTH_WORDS };

/** How much a step weighs when the simplest explanation is looked for: one that fits anything weighs more. */
const WEIGHTS: Partial<Record<Step, number>> = {
  'constant-added': 1.2,
  'centre-moved': 1.2,
  scaled: 1.5,
  magnified: 1.5,
  'radius-scaled': 1.5,
};
const weightOf = (step: Step): number => WEIGHTS[step] ?? 1;

/** Steps that are a number and no cause: named only where no cause explains the same. */
const NUMBERS: readonly Step[] = ['scaled', 'magnified', 'radius-scaled'];
export const isNumber = (steps: readonly Step[]): boolean => steps.some((step) => NUMBERS.includes(step));

/** An involution or quarter turn of the axes about the origin. */
interface Turn {
  readonly steps: readonly Step[];
  readonly apply: (at: Vec2) => Vec2;
}

/** The eight ways to lay x and y onto themselves; a half turn is both mirrored, a quarter turn swapped and mirrored. */
export const TURNS: readonly Turn[] = [false, true].flatMap((swapped) =>
  [1, -1].flatMap((sx) =>
    [1, -1].map((sy): Turn => {
      const steps: Step[] = [];
      if (swapped) steps.push('x-y-swapped');
      if (sx < 0) steps.push('x-mirrored');
      if (sy < 0) steps.push('y-mirrored');
      return { steps, apply: ([x, y]) => (swapped ? [sx * y, sy * x] : [sx * x, sy * y]) };
    }),
  ),
);

interface Factor {
  readonly steps: readonly Step[];
  readonly by: number;
}

/** The factors with a name, for a patch of working order `order`; `wavelength` mm. */
export function namedFactors(order: number, wavelength: number): readonly Factor[] {
  const units: readonly Factor[] = [
    { steps: [], by: 1 },
    { steps: ['radians-for-waves'], by: 2 * Math.PI },
    { steps: ['waves-for-radians'], by: 1 / (2 * Math.PI) },
    { steps: ['degrees-for-waves'], by: 360 },
    { steps: ['thousandths-for-waves'], by: 1000 },
    { steps: ['nanometres-for-waves'], by: wavelength * NM_PER_MM },
    { steps: ['micrometres-for-waves'], by: wavelength * UM_PER_MM },
    { steps: ['millimetres-for-waves'], by: wavelength },
    { steps: ['phase-doubled'], by: 2 },
    { steps: ['phase-halved'], by: 0.5 },
  ];
  const orders: readonly Factor[] = [
    { steps: [], by: 1 },
    { steps: ['order-ignored'], by: order },
    { steps: ['order-applied-twice'], by: 1 / order },
  ];
  const signs: readonly Factor[] = [
    { steps: [], by: 1 },
    { steps: ['sign-flipped'], by: -1 },
  ];
  return signs.flatMap((sign) =>
    orders.flatMap((times) =>
      units.map((unit) => ({
        steps: [...sign.steps, ...times.steps, ...unit.steps],
        by: sign.by * times.by * unit.by,
      })),
    ),
  );
}

/**
 * Index of air, as a range: from a site at 2500 m to a cold day at high pressure, visible to near infrared
 * (Ciddor 1996 gives 1.00027 at 20 °C and 101325 Pa, 1.00020 at 75 kPa).
 */
const AIR_INDEX = [1.00019, 1.0003] as const;

/** Factors that have a name within a range: the index is the fabricator's, and the design need not state its air. */
export const RANGED_FACTORS: readonly {
  readonly step: Step;
  readonly least: number;
  readonly most: number;
}[] = [
  { step: 'vacuum-for-air', least: 1 / AIR_INDEX[1], most: 1 / AIR_INDEX[0] },
  { step: 'air-for-vacuum', least: AIR_INDEX[0], most: AIR_INDEX[1] },
];

/** Whether a step tells a number: a factor before the phase, a scale of lengths. */
export const hasFactor = (step: Step): boolean =>
  step === 'scaled' || RANGED_FACTORS.some((one) => one.step === step);
export const hasStretch = (step: Step): boolean => step === 'magnified' || step === 'radius-scaled';

/** One name for a set of steps, whatever the order in which they were found. */
export const keyOf = (steps: readonly Step[]): string => [...steps].sort().join(' ');
export const totalWeight = (steps: readonly Step[]): number =>
  steps.reduce((sum, step) => sum + weightOf(step), 0);
