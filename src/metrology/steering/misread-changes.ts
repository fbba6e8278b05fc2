/**
 * What an operator reads of a change on the bench who takes the camera's picture for turned otherwise than it is. S being the turn or
 * mirroring of the pattern plane that his error amounts to, he reads every fall of path as S times what it is. Power and spherical aberration
 * do not turn; astigmatism turns as a quadratic form. In the readings' own units, fringes or waves.
 *
 * He tells patches apart rightly, or by their places alone: then what he reads as patch P is of the patch that S takes to P's place. A ring
 * and the null are not mistaken for another patch.
 */
import type { Design, DesignedPatch } from '../../design/design.ts';
import { covers } from '../../geometry/contains.ts';
import type { Vec2 } from '../../geometry/vector.ts';
import type { BenchReading } from '../../scenario/bench-reading.ts';
import { apertureWindow } from '../camera/fringe-picture-window.ts';
import { shownPerMm } from '../null/null-terms.ts';
import { isRing } from '../rings/ring-trace.ts';
import { RING_COUNTS, rulerOf } from '../sensing/ring-count.ts';
import { type Sense, sensesOf } from '../sensing/sensitivity.ts';
import { fallOfTilts, tiltsOfFall } from './fall.ts';

/** Cosine of the most by which an eye takes another tilt for the one that a line focus shows: 60°. */
const NEAR = 0.5;

type NullTaken = Extract<BenchReading, { kind: 'null' }>;

/** What a reading is of. */
export type Subject =
  | { readonly kind: 'patch'; readonly patch: DesignedPatch; readonly senses: readonly Sense[] }
  | { readonly kind: 'ring'; readonly patch: DesignedPatch }
  | { readonly kind: 'null'; readonly reading: NullTaken };

/** One for each of a reading's values; undefined for one that is not compared. */
export type Change = readonly (number | undefined)[];

/** S as above. */
type Turn = (direction: Vec2) => Vec2;

export function subjectIn(design: Design, reading: Exclude<BenchReading, { kind: 'length' }>): Subject {
  if (reading.kind === 'null') return { kind: 'null', reading };
  const patch = design.patches.find(({ id }) => id === reading.patch)!;
  return isRing(patch) ? { kind: 'ring', patch } : { kind: 'patch', patch, senses: sensesOf(design, patch) };
}

/** How many values a reading of it may have. */
export function valuesOf(subject: Subject): number {
  if (subject.kind === 'patch') return subject.senses.length;
  return subject.kind === 'ring' ? RING_COUNTS.length : subject.reading.values.length;
}

/** For each subject the one whose picture stands in its place; undefined where they do not pair, or each is its own. */
export function sourcesByPlace<S extends { readonly subject: Subject }>(
  design: Design,
  all: readonly S[],
  turn: Turn,
): readonly S[] | undefined {
  const { centre } = apertureWindow(design, 1);
  const sources: S[] = [];
  for (const one of all) {
    const { subject } = one;
    const source = subject.kind === 'patch' ? all.find((other) => isInPlace(subject, other.subject)) : one;
    if (source === undefined) return undefined;
    sources.push(source);
  }
  return sources.every((source, k) => source === all[k]) ? undefined : sources;

  function isInPlace({ patch, senses }: Extract<Subject, { kind: 'patch' }>, other: Subject): boolean {
    if (other.kind !== 'patch' || other.senses.length !== senses.length) return false;
    const [dx, dy] = turn([other.patch.centre[0] - centre[0], other.patch.centre[1] - centre[1]]);
    return covers(patch.outline, [centre[0] + dx, centre[1] + dy]);
  }
}

/** What is read on a subject of a change of `source`; undefined where no one could take such a picture for what he expects. */
export function misread(
  design: Design,
  subject: Subject,
  source: Subject,
  change: Change,
  turn: Turn,
): Change | undefined {
  if (subject.kind === 'null') return nullMisread(design, subject.reading, change, turn);
  if (subject.kind === 'ring') {
    const [a, b, ...rest] = change;
    return [...pairTurned([a, b], rulerOf(subject.patch.outline).widths, turn), ...rest];
  }
  return source.kind === 'patch' ? patchMisread(subject, source, change, turn) : undefined;
}

function patchMisread(
  { patch, senses }: Extract<Subject, { kind: 'patch' }>,
  source: Extract<Subject, { kind: 'patch' }>,
  change: Change,
  turn: Turn,
): Change | undefined {
  const [own, theirs] = [tiltsOf(senses), tiltsOf(source.senses)];
  const counts = change.slice(0, theirs.length);
  const rest = change.slice(theirs.length);
  if (own.length === 1 && Math.abs(cosineOf(turn(flat(theirs[0]!)), flat(own[0]!))) < NEAR) return undefined;
  if (counts.some((count) => count === undefined)) return [...own.map(() => undefined), ...rest];
  const fall = turn(fallOfTilts(source.patch, theirs, counts as readonly number[]));
  return [...tiltsOfFall(patch, own, fall), ...rest];
}

/** Counted along x and y, each over its own measure of a like slope. */
function pairTurned([a, b]: Change, [alongX, alongY]: Vec2, turn: Turn): Change {
  if (a === undefined || b === undefined) return [undefined, undefined];
  const [x, y] = turn([a / alongX, b / alongY]);
  return [x * alongX, y * alongY];
}

/** Terms with an azimuth of once or twice around; of a pair with one part alone nothing can be said. */
function nullMisread(design: Design, { values, unit }: NullTaken, change: Change, turn: Turn): Change {
  const found = [...change];
  for (const term of ['tilt', 'coma', 'astigmatism'] as const) {
    const [first, second] = ([0, 1] as const).map((part) =>
      values.findIndex((value) => value.term === term && value.part === part),
    ) as [number, number];
    const scales = ([0, 1] as const).map((part) =>
      shownPerMm(design, design.main!, { term, part }, unit),
    ) as unknown as Vec2;
    const pair = [found[first], found[second]];
    const turned = term === 'astigmatism' ? formTurned(pair, turn) : pairTurned(pair, scales, turn);
    for (const [k, place] of [first, second].entries()) if (place >= 0) found[place] = turned[k];
  }
  return found;
}

/** a(x² − y²) + 2b xy. */
function formTurned([a, b]: Change, turn: Turn): Change {
  if (a === undefined || b === undefined) return [undefined, undefined];
  const [[px, py], [qx, qy]] = [turn([1, 0]), turn([0, 1])];
  return [a * (px * px - qx * qx) + 2 * b * px * qx, a * (px * py - qx * qy) + b * (px * qy + py * qx)];
}

const tiltsOf = (senses: readonly Sense[]): readonly Sense[] => senses.filter(({ kind }) => kind === 'tilt');
const flat = ({ direction: [x, y] }: Sense): Vec2 => [x, y];
const cosineOf = (a: Vec2, b: Vec2): number =>
  (a[0] * b[0] + a[1] * b[1]) / (Math.hypot(...a) * Math.hypot(...b));
