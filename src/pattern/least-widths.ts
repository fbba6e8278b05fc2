/**
 * The narrowest line and the narrowest space of patterns, between pattern lines, as designed or with their edges shifted. Where a pattern's
 * outline cuts a line it may be narrower. mm.
 */
import type { Pattern } from '../design/pattern.ts';
import { periodRange } from '../design/period-range.ts';
import { boundsOf } from '../geometry/extent.ts';
import { type Turned, type Turns, turnsOf } from './narrowest.ts';
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

/**
 * Of all patterns, with each edge of a written line moved outward by `shift`; undefined where no pattern has lines. Throws as
 * `turnsOf` does.
 */
export function leastWidth(
  patterns: readonly Pattern[],
  dutyCycle: number,
  kind: Turned['kind'],
  shift: number,
): LeastWidth | undefined {
  const widened = kind === 'line' ? 2 * shift : -2 * shift;
  const each = patterns
    .filter((pattern) => !isFlat(pattern))
    .map((pattern): LeastWidth => {
      const { width, ...where } = narrowestOf(pattern, dutyCycle, kind).narrowest;
      return { ...where, width: width + widened, pattern: pattern.id };
    });
  return each.reduce<LeastWidth | undefined>(
    (least, one) => (least === undefined || one.width < least.width ? one : least),
    undefined,
  );
}
