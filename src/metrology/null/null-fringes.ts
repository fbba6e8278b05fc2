/**
 * Which fringes each motion of the part makes in the null of its surface: tilt, power, astigmatism and coma, each from its least to its
 * largest over the circle about the aperture. A height h is 2h/λ fringes. Ranges of the terms of ISO 24157, for a coefficient of 1:
 * tilt 2ρ cos θ 4; power √3(2ρ² − 1) 2√3; astigmatism √6ρ² cos 2θ 2√6; coma √8(3ρ³ − 2ρ) cos θ 2√8.
 */
import type { Design } from '../../design/design.ts';
import { dot2, type Vec2 } from '../../geometry/vector.ts';
import { DEGREES, type Degree } from '../../scenario/scenario.ts';
import { leftBy, motionMaps } from './motion-maps.ts';

export const FORMS = ['tilt', 'power', 'astigmatism', 'coma'] as const;
type Form = (typeof FORMS)[number];

interface NullFringes {
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

/** A motion along one degree. */
interface Along {
  readonly degree: Degree;
  /** mm, rad. */
  readonly amount: number;
}

/** One that makes fringes to be told apart by eye. */
export interface ShownMotion extends Along {
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
export const partMoved = ({ degree, amount }: Along) => {
  const along = (degrees: readonly [Degree, Degree, Degree]) =>
    degrees.map((one) => (one === degree ? amount : 0)) as unknown as readonly [number, number, number];
  return { part: { translation: along(['x', 'y', 'z']), rotation: along(['rx', 'ry', 'rz']) } };
};

/** A move and a turn of the part that together make no tilt. */
interface TiltlessPair {
  readonly move: Along;
  readonly turn: Along;
  /** What the two leave in the measured figure, mm rms. */
  readonly left: number;
}

/** Nearer to parallel than this, the tilts of two motions cancel. */
const PARALLEL = 0.99;

/** Of moves along x and y: what a flat null does not show. None where no turn undoes its tilt. */
export function tiltlessPairs(design: Design, amount: number): readonly TiltlessPair[] {
  const maps = motionMaps(design);
  if (maps === undefined) return [];
  const tilts = maps.maps.map(({ terms }): Vec2 => [terms[1]!, terms[2]!]);
  return [0, 1].flatMap((k) => {
    const along = (turn: number): number =>
      dot2(tilts[k]!, tilts[turn]!) / (Math.hypot(...tilts[k]!) * Math.hypot(...tilts[turn]!));
    const [turn] = [3, 4, 5].toSorted((a, b) => Math.abs(along(b) || 0) - Math.abs(along(a) || 0));
    if (!(Math.abs(along(turn!)) > PARALLEL)) return [];
    const by = (-amount * dot2(tilts[k]!, tilts[turn!]!)) / dot2(tilts[turn!]!, tilts[turn!]!);
    const motion = DEGREES.map((_, i) => (i === k ? amount : i === turn ? by : 0));
    return [
      {
        move: { degree: DEGREES[k]!, amount },
        turn: { degree: DEGREES[turn!]!, amount: by },
        left: Math.hypot(...leftBy(maps, motion)),
      },
    ];
  });
}
