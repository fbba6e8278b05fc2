/**
 * The narrowest line and the narrowest space of patterns, between pattern lines, as designed or with their edges shifted. Where a pattern's
 * outline cuts a line it may be narrower. mm.
 */
import type { Pattern } from '../design/pattern.ts';
import { periodRange } from '../design/period-range.ts';
import { boundsOf } from '../geometry/extent.ts';
import { type Turned, type Turns, turnsOf, turnsOnRidge } from './narrowest.ts';
import { phasedOutlineOf } from './regions.ts';

export interface Narrowest {
  readonly narrowest: Turned;
  readonly turns: Turns;
}

/** Under this many waves across the patch there are no lines to speak of, and nothing to look for. */
const FLAT = 1e-3;

/** Of one kind. Throws as `turnsOf` does. */
export function narrowestOf(patch: Pattern, dutyCycle: number, kind: Turned['kind']): Narrowest {
  const { min, minAt } = periodRange(patch);
  const share = kind === 'line' ? dutyCycle : 1 - dutyCycle;
  const byPeriod: Turned = { kind, width: share * min, at: minAt };
  const turns = isFlat(patch) ? { widths: [], bends: [] } : turnsOf(phasedOutlineOf(patch), dutyCycle);
  const all = [byPeriod, ...turns.widths.filter((turned) => turned.kind === kind)];
  return { narrowest: all.reduce((least, one) => (one.width < least.width ? one : least)), turns };
}

function isFlat(patch: Pattern): boolean {
  const { minX, minY, maxX, maxY } = boundsOf(patch.outline);
  return Math.hypot(maxX - minX, maxY - minY) < FLAT * periodRange(patch).min;
}

export interface LeastWidth extends Turned {
  /** Id of its pattern. */
  readonly pattern: string;
}

interface LeastWidths {
  readonly line: LeastWidth;
  readonly space: LeastWidth;
}

/** Of all patterns, with each edge of a written line moved outward by `shift`; undefined where no pattern has lines. */
export function leastWidths(
  patterns: readonly Pattern[],
  dutyCycle: number,
  shift: number,
): LeastWidths | undefined {
  const all = patterns
    .filter((pattern) => !isFlat(pattern))
    .flatMap((pattern) => widthsOf(pattern, dutyCycle));
  const least = (kind: Turned['kind'], widened: number): LeastWidth => {
    const own = all.filter((one) => one.kind === kind);
    const narrowest = own.reduce((a, b) => (b.width < a.width ? b : a));
    return { ...narrowest, width: narrowest.width + widened };
  };
  return all.length === 0 ? undefined : { line: least('line', 2 * shift), space: least('space', -2 * shift) };
}

function widthsOf(pattern: Pattern, dutyCycle: number): readonly LeastWidth[] {
  const { min, minAt } = periodRange(pattern);
  const byPeriod: readonly Turned[] = [
    { kind: 'line', width: dutyCycle * min, at: minAt },
    { kind: 'space', width: (1 - dutyCycle) * min, at: minAt },
  ];
  return [...byPeriod, ...whereTurned(pattern, dutyCycle)].map((one) => ({ ...one, pattern: pattern.id }));
}

/**
 * Where Φ turns back; the costly search for stationary points only where the period says that there are some. Where they fill a curve or an
 * area no pattern can be written, and none is looked for.
 */
function whereTurned(pattern: Pattern, dutyCycle: number): readonly Turned[] {
  const phased = phasedOutlineOf(pattern);
  if (Number.isFinite(periodRange(pattern).max)) return turnsOnRidge(phased, dutyCycle);
  try {
    return turnsOf(phased, dutyCycle).widths;
  } catch (error) {
    if (error instanceof RangeError) return [];
    throw error;
  }
}
