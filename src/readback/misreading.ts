/**
 * The ways in which a coefficient table is commonly misread, as elementary steps that combine: what each does to the
 * places, and what factor it puts on the values. A table g was misread from the phase Φ by some of them where
 *   g(N Q) = k · Φ(Q) + c for all Q of the patch, N the steps on places, k the product of their factors.
 * Places mm, values waves.
 */
import type { Vec2 } from '../geometry/vector.ts';
import { NM_PER_MM, UM_PER_MM } from '../quantity/conversion.ts';

/** In words: what is wrong with the table's numbers. */
export const STEP_WORDS = {
  'x-mirrored': 'x mirrored',
  'y-mirrored': 'y mirrored',
  'x-y-swapped': 'x and y swapped',
  'centre-moved': 'the centre is shifted',
  'radius-doubled': 'diameter given as radius: the normalisation radius is twice the design’s',
  'radius-halved': 'radius taken as diameter: the normalisation radius is half the design’s',
  'sign-flipped': 'sign flipped',
  'radians-for-waves': 'radians given as waves: 2 pi times too large',
  'waves-for-radians': 'waves given as radians: 2 pi times too small',
  'degrees-for-waves': 'degrees given as waves: 360 times too large',
  'order-ignored': 'order ignored: the phase is multiplied by the working order',
  'order-applied-twice': 'order applied twice: the phase is divided by the working order once more',
  'nanometres-for-waves': 'nanometres of path given as waves',
  'micrometres-for-waves': 'micrometres of path given as waves',
  'millimetres-for-waves': 'millimetres of path given as waves',
  'unit-peak-zernikes': 'Zernike terms normalised to unit peak, not unit RMS',
  'piston-lost': 'piston lost: the constant term is missing',
  'constant-added': 'a constant added',
  scaled: 'every coefficient scaled by the same factor',
} as const;

export type Step = keyof typeof STEP_WORDS;

/** How much a step weighs when the simplest explanation is looked for: one that fits anything weighs more. */
const weightOf = (step: Step): number =>
  ({ 'constant-added': 1.2, 'centre-moved': 1.2, scaled: 1.5 })[step as string] ?? 1;

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

export const STRETCHES: readonly { readonly steps: readonly Step[]; readonly by: number }[] = [
  { steps: [], by: 1 },
  { steps: ['radius-doubled'], by: 2 },
  { steps: ['radius-halved'], by: 0.5 },
];

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
    { steps: ['nanometres-for-waves'], by: wavelength * NM_PER_MM },
    { steps: ['micrometres-for-waves'], by: wavelength * UM_PER_MM },
    { steps: ['millimetres-for-waves'], by: wavelength },
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

/** One name for a set of steps, whatever the order in which they were found. */
export const keyOf = (steps: readonly Step[]): string => [...steps].sort().join(' ');
export const totalWeight = (steps: readonly Step[]): number =>
  steps.reduce((sum, step) => sum + weightOf(step), 0);
