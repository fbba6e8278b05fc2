/**
 * The narrowest written line and the narrowest space of a patch, as designed, and how sharply their edges bend. mm, waves.
 *
 * Between two levels Φ changes by the line's share of a wave, so that no line is narrower than that share of the least period, wherever
 * Φ rises from one edge to the other. Two places are not told by the period, since Φ turns back there: a stationary point, where the
 * line or space in the middle may be as small as chance has it (Φ ≈ Φ₀ + λu²/2 across, so 2√(2δ/λ) wide with its level δ off Φ₀),
 * and a ridge with Φ rising or falling on both sides and stationary along it (δ/g on each side, with g the slope there).
 */
import { covers } from '../geometry/contains.ts';
import { boundsOf } from '../geometry/extent.ts';
import { cross2, distance2, subtract2, type Vec2 } from '../geometry/vector.ts';
import { clearLevel } from './bands.ts';
import type { Line } from './cut-region.ts';
import { type PhasedOutline, regionsOf } from './regions.ts';
import { Probe, type SmoothPhase } from './smooth-phase.ts';
import { curvaturesAt } from './stationary-points.ts';

export interface Turned {
  readonly kind: 'line' | 'space';
  readonly width: number;
  readonly at: Vec2;
}

/** An edge where it bends most, beside a stationary point. */
interface Bend {
  readonly at: Vec2;
  readonly radius: number;
  /** From the stationary point. */
  readonly away: number;
  /** Whether an edge shift outward (positive) moves the edge toward the middle of its bend; else one inward does. */
  readonly closesOutward: boolean;
}

export interface Turns {
  readonly widths: readonly Turned[];
  readonly bends: readonly Bend[];
}

/** Points of a ridge that are looked at. */
const ON_RIDGE = 400;
/** Stationary points that the search finds from several sides, mm apart. */
const SAME_PLACE = 1e-7;
/** Second derivatives below this part of the larger one count as none: rounding of the difference quotient. */
const STRAIGHT = 1e-6;

/** What Φ leaves narrow or sharply bent where it turns back. Throws as `regionsOf` does, where Φ is stationary over a curve or an area. */
export function turnsOf(phased: PhasedOutline, dutyCycle: number): Turns {
  const { outline, phase, ridge } = phased;
  const found = regionsOf(phased)
    .flatMap((region) => region.stationaryAt.map((at) => ({ at, side: region.phase })))
    .filter(({ at }, n, all) => all.findIndex((one) => distance2(one.at, at) < SAME_PLACE) === n)
    .filter(
      ({ at, side }) => covers(outline, at) && (!ridge || isLeftOf(ridge.line, at) === (side === phase)),
    )
    .map(({ at, side }) => turnsAt(at, side, outline, dutyCycle));
  return {
    widths: [...found.flatMap(({ widths }) => widths), ...turnsOnRidge(phased, dutyCycle)],
    bends: found.flatMap(({ bends }) => bends),
  };
}

const isLeftOf = ({ at, along }: Line, point: Vec2): boolean => cross2(along, subtract2(point, at)) > 0;

function turnsAt(at: Vec2, phase: SmoothPhase, outline: PhasedOutline['outline'], dutyCycle: number): Turns {
  const probe = new Probe(phase);
  const value = probe.at(...at);
  const { minX, minY, maxX, maxY } = boundsOf(outline);
  const axes = curvaturesAt(at, Math.max(maxX - minX, maxY - minY), probe);
  const isLeast = axes.every(({ curvature }) => curvature > 0);
  const levels = levelsAbout(value, dutyCycle, isLeast, true);
  const strongest = Math.max(...axes.map(({ curvature }) => Math.abs(curvature)));
  const bent = axes.filter(({ curvature }) => Math.abs(curvature) > STRAIGHT * strongest);
  const widths = bent.map(({ curvature }): Turned => {
    const off = curvature > 0 ? levels.above[0]!.level - value : value - levels.below[0]!.level;
    return { kind: levels.kind, width: 2 * Math.sqrt((2 * off) / Math.abs(curvature)), at };
  });
  if (bent.length < 2) return { widths, bends: [] };
  const isSaddle = bent[0]!.curvature * bent[1]!.curvature < 0;
  const bends = bent.flatMap(({ curvature, along }, k) => {
    const other = Math.abs(bent[1 - k]!.curvature);
    return (curvature > 0 ? levels.above : levels.below).flatMap(({ level, risesOutward }): Bend[] => {
      const away = Math.sqrt((2 * Math.abs(level - value)) / Math.abs(curvature));
      const radius = (away * Math.abs(curvature)) / other;
      const tips = [1, -1].map(
        (sign): Vec2 => [at[0] + sign * away * along[0], at[1] + sign * away * along[1]],
      );
      // About an extreme the middle of the bend lies toward it, about a saddle away from it.
      const towardHigher = curvature > 0 === isSaddle;
      const tip = tips.find((one) => covers(outline, one));
      return tip === undefined
        ? []
        : [{ at: tip, radius, away, closesOutward: risesOutward === towardHigher }];
    });
  });
  return { widths, bends };
}

interface Levels {
  /** Of what is written, or left, where Φ has the value. */
  readonly kind: Turned['kind'];
  /** The next two levels above and below, the nearest first. An edge rises outward if an outward shift moves it toward higher Φ. */
  readonly above: readonly { readonly level: number; readonly risesOutward: boolean }[];
  readonly below: readonly { readonly level: number; readonly risesOutward: boolean }[];
}

/** `isLeast`: Φ rises from the value all round. The levels are moved off it as those that are traced. */
function levelsAbout(value: number, dutyCycle: number, isLeast: boolean, isStationary: boolean): Levels {
  const limits = isLeast ? [value, Infinity] : [-Infinity, value];
  const forbidden = {
    limits: Float64Array.from(limits),
    stationary: Float64Array.from(isStationary ? [value] : []),
  };
  const order = Math.floor(value);
  const levels = [-2, -1, 0, 1, 2].flatMap((k) => [
    { level: clearLevel(order + k, forbidden), risesOutward: false },
    { level: clearLevel(order + k + dutyCycle, forbidden), risesOutward: true },
  ]);
  const above = levels.filter(({ level }) => level > value).slice(0, 2);
  const below = levels
    .filter(({ level }) => level <= value)
    .slice(-2)
    .reverse();
  return { kind: above[0]!.risesOutward ? 'line' : 'space', above, below };
}

/** Widths across a ridge from which Φ rises, or falls, to both sides, where it is stationary along the ridge. */
export function turnsOnRidge({ outline, phase, ridge }: PhasedOutline, dutyCycle: number): readonly Turned[] {
  if (ridge === undefined) return [];
  const { at, along } = ridge.line;
  const { minX, minY, maxX, maxY } = boundsOf(outline);
  const middle: Vec2 = [(minX + maxX) / 2, (minY + maxY) / 2];
  const reach = Math.hypot(maxX - minX, maxY - minY) + distance2(at, middle);
  const [left, right] = [new Probe(phase), new Probe(ridge.rightPhase)];
  const points = Array.from({ length: ON_RIDGE + 1 }, (_, k) => {
    const run = reach * ((2 * k) / ON_RIDGE - 1);
    const point: Vec2 = [at[0] + run * along[0], at[1] + run * along[1]];
    const value = left.at(...point);
    right.at(...point);
    // Slopes away from the ridge, to the left of it and to the right.
    const slopes = [
      along[0] * left.gy - along[1] * left.gx,
      along[1] * right.gx - along[0] * right.gy,
    ] as const;
    return { point, value, slopes, isInside: covers(outline, point) };
  });
  return points.flatMap(({ point, value, slopes: [one, other], isInside }, k): Turned[] => {
    const [before, after] = [points[k - 1], points[k + 1]];
    if (!isInside || before === undefined || after === undefined || one * other <= 0) return [];
    if ((value - before.value) * (after.value - value) > 0) return [];
    const { kind, above, below } = levelsAbout(value, dutyCycle, one > 0, false);
    const off = one > 0 ? above[0]!.level - value : value - below[0]!.level;
    return [{ kind, width: off / Math.abs(one) + off / Math.abs(other), at: point }];
  });
}
