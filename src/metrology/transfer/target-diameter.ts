/**
 * One error of diameter common to all retroreflectors on the part: each stands off what it touches by half the difference, along the normals.
 * mm. `d` is what the scenario says, d + 2δ what fits.
 *
 * Where the touches face several ways no rigid motion looks like that: δ is fitted as a seventh unknown, χ²(δ) being a parabola once the
 * designs are linear in it. Where they face one way a move of the part along it looks the same, and nothing can tell the two apart; a part
 * that seems off by just half the difference between two common diameters, and that the other diameter puts in its place, is suspect.
 */
import type { Design } from '../../design/design.ts';
import type { Finding } from '../../finding/finding.ts';
import { directionToParent, placeFromParent } from '../../geometry/frame.ts';
import { add, cross, length, scale, subtract, type Vec3 } from '../../geometry/vector.ts';
import { trimmed } from '../../quantity/format.ts';
import type { Reference } from '../../scenario/scenario.ts';
import { placeReference } from '../../scenario/touch.ts';
import type { Displacement } from '../steering/steering-part.ts';
import type { Registration } from './registration.ts';
import type { RegistrationPoint } from './registration-points.ts';

export type DiameterError =
  | {
      readonly found: 'fitted';
      /** 2δ and its standard uncertainty. */
      readonly difference: number;
      readonly u: number;
      /** Of all the retroreflectors, as the scenario has it; undefined where they differ. */
      readonly said: number | undefined;
      /** A common one that it may be, 0 for points of the surface. */
      readonly likely: number | undefined;
      readonly chiSquared: number;
    }
  | {
      readonly found: 'by-place';
      readonly said: number;
      readonly likely: number;
      /** How far off the points on the part are, root of mean square: as they are, and with the likely diameter. */
      readonly off: number;
      readonly offThen: number;
    };

/** A point on the part and the reference it is of. */
interface TouchingPoint extends RegistrationPoint {
  readonly of: Reference;
}

/** Diameters of retroreflectors in use: 1/2, 7/8 and 1 1/2 in. Common practice, no source. 0: the table has points of the surface. */
const COMMON = [12.7, 22.225, 38.1, 0] as const;
/** δ has a figure of its own where the points hold it to this, mm; otherwise the part's place looks the same. */
const HELD = 0.5;
/** Between the three places of a parabola. */
const STEP = 0.1;
/** Quadratic but for turns of the second order. */
const ROUNDS = 4;
/** A difference smaller than so many of its standard uncertainties is none. */
const LEAST_SIGMAS = 3.29;
/** A fitted diameter is a common one within so many standard uncertainties, and this at least, mm. */
const LIKE_SIGMAS = 4;
const LIKE = 0.05;
/** A part farther off than this is suspect, mm, if another diameter leaves less than this share of it. */
const OFF = 2;
const EXPLAINS = 0.15;

export function diameterErrorOf(
  design: Design,
  points: readonly TouchingPoint[],
  part: Registration,
  registered: (points: readonly RegistrationPoint[]) => Registration,
  isFine: (registration: Registration) => boolean,
  displacementBy: (part: Registration) => Displacement | undefined,
): DiameterError | undefined {
  const directions = points.map((point) => outward(design, point.of));
  const touching = points.filter((_, k) => length(directions[k]!) > 0);
  const diameters = new Set((touching.length > 0 ? touching : points).map(({ of }) => diameterOf(of)));
  const said = diameters.size === 1 ? [...diameters][0] : undefined;
  const shifted = (along: readonly Vec3[], by: number): Registration =>
    registered(points.map((point, k) => ({ ...point, design: add(point.design, scale(along[k]!, by)) })));
  if (touching.length > 0) {
    const at = lowest((by) => shifted(directions, by).chiSquared);
    if (at !== undefined && at.u < HELD) {
      if (isFine(part) || Math.abs(at.by) < LEAST_SIGMAS * at.u) return undefined;
      const fitted = shifted(directions, at.by);
      if (!isFine(fitted)) return undefined;
      const [difference, u] = [2 * at.by, 2 * at.u];
      const near = (d: number): boolean =>
        said !== undefined && Math.abs(said + difference - d) < Math.max(LIKE_SIGMAS * u, LIKE);
      return {
        found: 'fitted',
        difference,
        u,
        said,
        likely: COMMON.find(near),
        chiSquared: fitted.chiSquared,
      };
    }
  }
  if (said === undefined || !isFine(part)) return undefined;
  const face = directionToParent(design.scenario.part.frame, [0, 0, 1]);
  const ways = touching.length > 0 ? [directions] : [1, -1].map((way) => points.map(() => scale(face, way)));
  const off = (registration: Registration): number | undefined => {
    const displacement = displacementBy(registration);
    return displacement === undefined ? undefined : offOf(design, points, displacement);
  };
  const now = off(part);
  if (now === undefined || now < OFF) return undefined;
  const trials = ways.flatMap((along) =>
    COMMON.filter((d) => Math.abs(d - said) > LIKE).map((likely) => {
      return { likely, offThen: off(shifted(along, (likely - said) / 2))! };
    }),
  );
  const best = trials.toSorted((a, b) => a.offThen - b.offThen)[0]!;
  if (best.offThen > EXPLAINS * now) return undefined;
  return { found: 'by-place', said, off: now, ...best };
}

const diameterOf = (reference: Reference): number =>
  'diameter' in reference ? (reference.diameter ?? 0) : 0;

/** Where the apex goes as the radius grows by 1 mm; zero where its place does not come from touches. */
function outward(design: Design, reference: Reference): Vec3 {
  if (reference.given !== 'touches') return [0, 0, 0];
  const { datums, frame } = design.scenario.part;
  const larger = placeReference(reference.touches, datums, diameterOf(reference) + 2 * STEP, frame);
  return 'at' in larger ? scale(subtract(larger.at, reference.at), 1 / STEP) : [0, 0, 0];
}

/** Where a near parabola is lowest, and the standard uncertainty of that place if it is a χ². */
function lowest(of: (at: number) => number): { readonly by: number; readonly u: number } | undefined {
  let [by, u] = [0, Number.POSITIVE_INFINITY];
  for (let round = 0; round < ROUNDS; round++) {
    const [below, here, above] = [of(by - STEP), of(by), of(by + STEP)];
    const curvature = (below + above - 2 * here) / STEP ** 2;
    if (!(curvature > 0)) return undefined;
    u = Math.sqrt(2 / curvature);
    if (!(u < HELD)) return { by, u };
    by -= (above - below) / (2 * STEP) / curvature;
  }
  return { by, u };
}

/** Root mean square of how far the points are carried by the part's displacement. */
function offOf(
  design: Design,
  points: readonly RegistrationPoint[],
  { translation, rotation }: Displacement,
): number {
  const { frame } = design.scenario.part;
  const squares = points.map(
    ({ design: at }) => length(add(translation, cross(rotation, placeFromParent(frame, at)))) ** 2,
  );
  return Math.sqrt(squares.reduce((sum, square) => sum + square, 0) / points.length);
}

const mm = (value: number, digits: number): string => `${trimmed(value, digits)} mm`;
const likelyWords = (likely: number, said: number): string =>
  likely === 0
    ? 'the table has points of the touched surface instead of the retroreflectors’ centres'
    : `the retroreflectors are ${mm(likely, 3)} in diameter, not ${mm(said, 3)}`;

/** A suggestion: no diameter is changed. */
export function diameterFinding(error: DiameterError, { points, chiSquared }: Registration): Finding {
  const where = points.map(({ name }) => name).join(', ');
  const { place } = points[0]!;
  const told = { rule: 'wrong-target', where, ...(place === undefined ? {} : { place }) };
  const hint =
    'measure a retroreflector’s diameter, and look which target is set in the tracker’s program; then correct `diameter` in the scenario, or export centres. A difference of some hundredths may be that of the touched surfaces';
  if (error.found === 'by-place') {
    const { said, likely, off, offThen } = error;
    const message =
      `the points on the part are ${mm(off, 3)} off, and only ${mm(offThen, 3)} if ${likelyWords(likely, said)}; ` +
      'from these points a wrong diameter cannot be told from a part that is off';
    return {
      severity: 'warning',
      ...told,
      message,
      hint,
      value: off,
      limit: OFF,
      unit: 'mm',
    };
  }
  const { difference, u, said, likely } = error;
  const larger = `${Math.abs(difference).toFixed(3)} ± ${u.toFixed(3)} mm ${difference < 0 ? 'smaller' : 'larger'} in diameter than the scenario says`;
  const named = likely === undefined ? '' : `: probably ${likelyWords(likely, said!)}`;
  const message = `the points on the part do not fit (χ² ${chiSquared.toPrecision(3)}), but do (χ² ${error.chiSquared.toPrecision(3)}) with all retroreflectors ${larger}${named}`;
  return {
    severity: 'error',
    ...told,
    message,
    hint,
    value: difference,
    limit: 0,
    unit: 'mm',
  };
}
