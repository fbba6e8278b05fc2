/**
 * A null test whose hologram has moved, by a ray: from the beam's focus through the moved hologram, whose pattern keeps the phase it was
 * drawn with, to the surface that has stayed, mirrored there, back through the pattern and to the focus. Optical path against the design's.
 * mm. Shares no code with src/.
 */
import { type Place, pathFromEntry, pathThroughEntry } from './fermat.ts';
import { type Glass, movedSheet, pathAt, reached, type Standing, turned } from './null-traced.ts';
import { dot, fromCosines, minus, normed, refract, toPlane, type Vector } from './ray.ts';
import { followedBack, squareOn } from './surface-sheets.ts';

export interface NullBench {
  readonly standing: Standing;
  /** A focus, before the hologram or beyond it, or the unit direction of a collimated beam. */
  readonly beam: { readonly focus: Vector } | { readonly direction: Vector };
  readonly glass?: Glass & { readonly side: 'before' | 'after' };
}

const STILL = [0, 0, 0, 0, 0, 0];
const STEP = 0.02;
const plus = (a: Vector, b: Vector, times: number): Vector => [
  a[0] + times * b[0],
  a[1] + times * b[1],
  a[2] + times * b[2],
];

/** Path of the beam at a place P of the pattern, hologram frame; 0 at its focus, or at the bench's origin. */
function arriving({ beam, glass }: NullBench, motion: readonly number[], [x, y]: Vector): number {
  const back = motion.slice(3).map((angle) => -angle);
  const shift = motion.slice(0, 3) as unknown as Vector;
  const at: Place = [x, y, 0];
  const before = glass?.side === 'before' ? glass : undefined;
  if ('focus' in beam) {
    const focus = turned(minus(beam.focus, shift), back);
    const sign = beam.focus[2] < 0 ? 1 : -1;
    return before === undefined
      ? sign * Math.hypot(...minus(at, focus))
      : pathThroughEntry(focus, sign, at, before.thickness, before.index);
  }
  const direction = turned(beam.direction, back);
  const inAir = (q: Vector): number => dot(direction, q) + dot(beam.direction, shift);
  return before === undefined ? inAir(at) : pathFromEntry(at, before.thickness, before.index, inAir);
}

/** Of the return, for the light whose ray by design meets the surface at (x, y): −2h of a height h, to first order. */
export function returnOf(bench: NullBench, motion: readonly number[], x: number, y: number): number {
  const { standing, glass } = bench;
  const after = glass?.side === 'after' ? glass : undefined;
  const sheet = movedSheet(standing, STILL);
  const frozen = (place: Vector): number =>
    -pathAt(sheet, place, x, y, after) - arriving(bench, STILL, place);
  const leaving = (place: Vector): number => arriving(bench, motion, place) + frozen(place);
  const [px, py] = followedBack(sheet, x, y, after).on;
  const slope = (dx: number, dy: number): number =>
    (leaving([px + dx, py + dy, 0]) - leaving([px - dx, py - dy, 0])) / (2 * STEP);
  const index = after?.index ?? 1;
  const inside = fromCosines(slope(STEP, 0), slope(0, STEP), index);
  // Hologram frame to the bench and back.
  const back = motion.slice(3).map((angle) => -angle);
  const shift = motion.slice(0, 3) as unknown as Vector;
  const exit = toPlane([px, py, 0], inside, after?.thickness ?? 0);
  const out = turned(refract(inside, index, 1), motion.slice(3));
  const from = plus(turned(exit.at, motion.slice(3)), shift, 1);
  const hit = reached(standing, STILL, from, out);
  const { at: met, back: normal } = squareOn(sheet, hit.x, hit.y);
  const mirrored = normed(plus(out, normal, -2 * dot(out, normal)));
  const home = toPlane(turned(minus(met, shift), back), turned(mirrored, back), after?.thickness ?? 0);
  const down = toPlane(home.at, refract(turned(mirrored, back), 1, index), 0);
  const way = index * exit.way + hit.way + home.way + index * down.way;
  return leaving([px, py, 0]) + way + leaving(down.at);
}
