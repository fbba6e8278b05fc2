/**
 * Where the numbers of patches and the letters of seats stand in the operator's picture: inside an outline that has room for them, else
 * close beside it on free glass (but a ring's), else outside of the substrate with a leader, clear of each other and past as few other
 * patches as can be. Substrate frame, mm.
 */
import { covers } from '../../geometry/contains.ts';
import { boundsOf, largestDistanceFrom, narrowestWidth } from '../../geometry/extent.ts';
import type { Outline } from '../../geometry/outline.ts';
import { distance2, type Vec2 } from '../../geometry/vector.ts';

export interface Labelled {
  /** A number or a letter. */
  readonly words: string;
  readonly outline: Outline;
  readonly centre: Vec2;
}

export interface Label {
  readonly words: string;
  /** The middle of the text. */
  readonly at: Vec2;
  /** Of the digits. */
  readonly height: number;
  /** From the outline to the text; undefined for one that stands inside. */
  readonly leader?: readonly [Vec2, Vec2];
}

/** Of the substrate's size: the least height of digits that is read on paper (2 mm where it is 90 mm wide), that of labels outside, and the most. */
const LEAST = 0.022;
const OUTSIDE = 0.028;
const MOST = 0.08;
/** Of the same: how far outside of the substrate labels stand, where their leaders end, and the least between two. */
const STAND_OFF = 0.045;
const LEADER_END = 0.022;
const APART = 0.045;
/** The width of a digit against its height. */
const DIGIT = 0.62;
/** Of the room across an outline. */
const FILL = 0.75;

const DIRECTIONS = 72;
/** More than this many labels beside their outlines leave no room for each other: the rest stand inside, as small as they must. */
const MOST_MOVED = 36;

export function labelsOf(all: readonly Labelled[], substrate: Outline): readonly Label[] {
  const { minX, maxX, minY, maxY } = boundsOf(substrate);
  const size = Math.max(maxX - minX, maxY - minY);
  const moved: Label[] = [];
  return all.map((each): Label => {
    const height = Math.min(MOST * size, heightInside(each));
    const inside: Label = { words: each.words, at: middleOf(each.outline, each.centre), height };
    if (height >= LEAST * size || moved.length >= MOST_MOVED) return inside;
    const label =
      labelBeside(each, all, moved, substrate, size) ?? labelOutside(each, all, moved, substrate, size);
    moved.push(label);
    return label;
  });
}

const heightInside = ({ outline, words }: Labelled): number =>
  (FILL * narrowestWidth(outline)) / Math.max(1, DIGIT * words.length);

/** On free glass, touching neither an outline nor another label; undefined where there is no room, and for a ring. */
function labelBeside(
  { words, outline, centre }: Labelled,
  all: readonly Labelled[],
  there: readonly Label[],
  substrate: Outline,
  size: number,
): Label | undefined {
  if (outline.shape === 'ring') return undefined;
  const height = OUTSIDE * size;
  const away = largestDistanceFrom(outline, centre) + BESIDE * height;
  const isFree = (at: Vec2): boolean =>
    discOf(at, CLEAR * height).every(
      (point) => covers(substrate, point) && all.every((other) => !covers(other.outline, point)),
    ) && there.every((label) => distance2(label.at, at) >= APART * size);
  const at = Array.from({ length: DIRECTIONS }, (_, k) =>
    around(centre, away, (2 * Math.PI * k) / DIRECTIONS),
  ).find(isFree);
  return at === undefined ? undefined : { words, at, height };
}

/** Of the height of its digits: from the outline to the middle of a label beside it, and the room about that middle. */
const BESIDE = 0.8;
const CLEAR = 0.7;

const discOf = (at: Vec2, radius: number): readonly Vec2[] => [
  at,
  ...Array.from({ length: 8 }, (_, k) => around(at, radius, (Math.PI * k) / 4)),
];

/** The direction whose leader crosses the fewest others, keeps the label apart from those there are, and is short. */
function labelOutside(
  own: Labelled,
  all: readonly Labelled[],
  there: readonly Label[],
  substrate: Outline,
  size: number,
): Label {
  let best: { readonly label: Label; readonly cost: number } | undefined;
  for (let k = 0; k < DIRECTIONS; k++) {
    // From the diagonal on: patches seldom stand there.
    const angle = Math.PI / 4 + (2 * Math.PI * k) / DIRECTIONS;
    const direction: Vec2 = [Math.cos(angle), Math.sin(angle)];
    const edge = edgeAlong(substrate, direction);
    const middle = middleOfBounds(substrate);
    const beyond = (by: number): Vec2 => [
      middle[0] + (edge + by * size) * direction[0],
      middle[1] + (edge + by * size) * direction[1],
    ];
    const end = beyond(LEADER_END);
    const start = startToward(own, end);
    const label = {
      words: own.words,
      at: beyond(STAND_OFF),
      height: OUTSIDE * size,
      leader: [start, end],
    } as const;
    const crossed = all.filter((other) => other !== own && isCrossed(other.outline, start, end)).length;
    const close = there.filter(({ at }) => distance2(at, label.at) < APART * size).length;
    const cost = CLOSE * close + crossed + (LENGTH * distance2(start, end)) / size;
    if (best === undefined || cost < best.cost) best = { label, cost };
  }
  return best!.label;
}

/** What a label over another costs, and a leader as long as the substrate, in leaders that cross a patch. */
const CLOSE = 100;
const LENGTH = 8;

/** Of a ring, the place in its band nearest to the label; else the middle. */
function startToward({ outline, centre }: Labelled, end: Vec2): Vec2 {
  if (outline.shape !== 'ring') return middleOf(outline, centre);
  const [x, y] = outline.centre;
  const angle = Math.atan2(end[1] - y, end[0] - x);
  return around(outline.centre, (outline.inner + outline.outer) / 2, angle);
}

const STEPS = 16;
const isCrossed = (outline: Outline, start: Vec2, end: Vec2): boolean =>
  Array.from({ length: STEPS }, (_, k) => (k + 0.5) / STEPS).some((t) =>
    covers(outline, [start[0] + t * (end[0] - start[0]), start[1] + t * (end[1] - start[1])]),
  );

function middleOfBounds(outline: Outline): Vec2 {
  const { minX, maxX, minY, maxY } = boundsOf(outline);
  return [(minX + maxX) / 2, (minY + maxY) / 2];
}

/** How far the substrate reaches from its middle: a round one its radius, any other the box about it. */
function edgeAlong(outline: Outline, [x, y]: Vec2): number {
  if (outline.shape === 'circle') return outline.radius;
  const { minX, maxX, minY, maxY } = boundsOf(outline);
  return Math.min((maxX - minX) / 2 / Math.abs(x), (maxY - minY) / 2 / Math.abs(y));
}

/** A place inside the outline with room around it. */
function middleOf(outline: Outline, centre: Vec2): Vec2 {
  switch (outline.shape) {
    case 'ring':
      return around(outline.centre, (outline.inner + outline.outer) / 2, RING_NUMBER_AT);
    case 'sector':
      return around(outline.centre, (outline.inner + outline.outer) / 2, (outline.from + outline.to) / 2);
    case 'polygon':
      return centre;
    default:
      return outline.centre;
  }
}

const around = ([x, y]: Vec2, radius: number, angle: number): Vec2 => [
  x + radius * Math.cos(angle),
  y + radius * Math.sin(angle),
];

/** On a ring, where patches seldom stand: on the diagonal. */
const RING_NUMBER_AT = Math.PI / 4;

/** `a` to `z`, then `aa`: seats carry letters, since patches carry numbers. */
export const letterOf = (index: number): string =>
  (index < LETTERS.length ? '' : letterOf(Math.floor(index / LETTERS.length) - 1)) +
  LETTERS[index % LETTERS.length];
const LETTERS = 'abcdefghijklmnopqrstuvwxyz';
