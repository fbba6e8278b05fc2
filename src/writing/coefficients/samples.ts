/**
 * `samples.csv`: phase and period at ten points of each patch, so that a reader of the coefficient table can prove their own
 * reading of it: the centre, points at the edge and points between, all inside the outline.
 */
import { type Design, patternsOf } from '../../design/design.ts';
import type { Pattern } from '../../design/pattern.ts';
import { contains } from '../../geometry/contains.ts';
import { boundaryPoints, interiorGrid, type Points, spacingFor } from '../../geometry/sampling.ts';
import type { Vec2 } from '../../geometry/vector.ts';
import { fixed } from '../../quantity/format.ts';
import { powerOfTen } from '../../quantity/power.ts';
import { conventionLines, type Draft, draftLines, mainLines } from '../convention.ts';
import { csvField } from '../csv.ts';
import { periodField, phaseField } from './phase-columns.ts';

const POINTS = 10;
const AT_EDGE = 4;
const PLACE_DIGITS = 6;

interface Sample {
  readonly at: Vec2;
  readonly phase: number;
  /** mm; Infinity where the phase is stationary. */
  readonly period: number;
}

/** Ten samples, at places rounded to a nanometre so that the written place is the one the phase is of. */
export function samplesOf(patch: Pattern): readonly Sample[] {
  return samplePlaces(patch).map((place) => {
    const at: Vec2 = [Number(fixed(place[0], PLACE_DIGITS)), Number(fixed(place[1], PLACE_DIGITS))];
    return { at, phase: patch.phase.phase(...at), period: patch.phase.period(...at) };
  });
}

function samplePlaces(patch: Pattern): Vec2[] {
  const { outline, centre } = patch;
  const places: Vec2[] = contains(outline, centre) ? [centre] : [];
  places.push(...spread(boundaryPoints(outline, 4 * AT_EDGE), AT_EDGE));
  const inside = without(interiorGrid(outline, spacingFor(outline, 4 * POINTS)), centre);
  places.push(...spread(inside, POINTS - places.length));
  return places;
}

/** Of the grid, a point that is the centre would stand there twice. */
function without({ xs, ys }: Points, [x, y]: Vec2): Points {
  const kept = Array.from(xs.keys()).filter(
    (k) => Math.hypot(xs[k]! - x, ys[k]! - y) > powerOfTen(-PLACE_DIGITS),
  );
  return kept.length < POINTS
    ? { xs, ys }
    : { xs: Float64Array.from(kept, (k) => xs[k]!), ys: Float64Array.from(kept, (k) => ys[k]!) };
}

/** `count` of the points, evenly through their list. */
function spread({ xs, ys }: { xs: Float64Array; ys: Float64Array }, count: number): Vec2[] {
  return Array.from({ length: count }, (_, k) => {
    const index = Math.floor(((k + 0.5) * xs.length) / count);
    return [xs[index], ys[index]] as const;
  });
}

export function samplesCsv(design: Design, { draft }: Draft): string {
  const lines = [
    ...draftLines(draft),
    'Datumlight samples of the phase of each patch, any roof or tilt included.',
    ...conventionLines(design),
    ...mainLines(design),
  ].map((line) => `# ${line}`);
  lines.push('patch,x_mm,y_mm,phase_waves,period_um');
  for (const { pattern: patch } of patternsOf(design)) {
    for (const { at, phase, period } of samplesOf(patch)) {
      lines.push(
        [
          csvField(patch.id),
          fixed(at[0], PLACE_DIGITS),
          fixed(at[1], PLACE_DIGITS),
          phaseField(phase),
          periodField(period),
        ].join(','),
      );
    }
  }
  return `${lines.join('\n')}\n`;
}
