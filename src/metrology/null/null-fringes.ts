/**
 * Which fringes each motion of the part makes in the null of its surface: tilt, power, astigmatism and coma, each from its least to its
 * largest over the circle about the aperture. A height h is 2h/λ fringes. Ranges of the terms of ISO 24157, for a coefficient of 1:
 * tilt 2ρ cos θ 4; power √3(2ρ² − 1) 2√3; astigmatism √6ρ² cos 2θ 2√6; coma √8(3ρ³ − 2ρ) cos θ 2√8.
 */
import type { Design } from '../../design/design.ts';
import type { Degree } from '../../scenario/scenario.ts';
import { motionMaps } from './motion-maps.ts';

export const FORMS = ['tilt', 'power', 'astigmatism', 'coma'] as const;
export type Form = (typeof FORMS)[number];

export interface NullFringes {
  readonly degree: Degree;
  /** Fringes for 1 mm or 1 rad of motion. */
  readonly forms: Readonly<Record<Form, number>>;
}

/** Indices j of the terms, and their range. */
const TERMS: Readonly<Record<Form, readonly [terms: readonly number[], range: number]>> = {
  tilt: [[1, 2], 4],
  power: [[4], 2 * Math.sqrt(3)],
  astigmatism: [[3, 5], 2 * Math.sqrt(6)],
  coma: [[7, 8], 2 * Math.sqrt(8)],
};

/** For each degree of the part; none where the scenario names no surface under test. */
export function nullFringes(design: Design): readonly NullFringes[] {
  const perHeight = 2 / design.light.wavelength;
  return (motionMaps(design)?.maps ?? []).map(({ degree, terms }) => {
    const fringes = (form: Form): number => {
      const [indices, range] = TERMS[form];
      return perHeight * range * Math.hypot(...indices.map((j) => terms[j]!));
    };
    const forms = Object.fromEntries(FORMS.map((form) => [form, fringes(form)])) as Record<Form, number>;
    return { degree, forms };
  });
}

/** A motion along a degree that makes fringes to be told apart by eye. */
export interface ShownMotion {
  readonly degree: Degree;
  /** mm, rad. */
  readonly amount: number;
  readonly forms: Readonly<Record<Form, number>>;
}

/** Of the form that shows most. */
const SHOWN = 3;
/** mm and rad: a part is set nearer than this by eye. */
const MOST = { move: 1, turn: 1e-3 } as const;
/** Fewer are not seen. */
const LEAST_SHOWN = 0.1;

/** Degrees that do not show are left out. */
export const shownMotions = (design: Design): readonly ShownMotion[] =>
  nullFringes(design).flatMap(({ degree, forms }) => {
    const most = Math.max(...Object.values(forms));
    const amount = Math.min(SHOWN / most, degree.startsWith('r') ? MOST.turn : MOST.move);
    if (!(amount * most >= LEAST_SHOWN)) return [];
    const shown = Object.fromEntries(FORMS.map((form) => [form, cleared(amount * forms[form])]));
    return [{ degree, amount, forms: shown as Record<Form, number> }];
  });

/** Fringes: rounding is no form. */
const NOTHING = 1e-6;
const cleared = (fringes: number): number => (fringes < NOTHING ? 0 : fringes);

/** The part moved so, and nothing else. */
export const partMoved = ({ degree, amount }: Pick<ShownMotion, 'degree' | 'amount'>) => {
  const along = (degrees: readonly [Degree, Degree, Degree]) =>
    degrees.map((one) => (one === degree ? amount : 0)) as unknown as readonly [number, number, number];
  return { part: { translation: along(['x', 'y', 'z']), rotation: along(['rx', 'ry', 'rz']) } };
};
