/**
 * Where the names of a panel stand: clear of the light and of the edges of everything, in the panel or just above and below it. mm on
 * paper, [right, up].
 */
import type { Vec2 } from '../../geometry/vector.ts';
import { boxesMeet, boxOf, edgeRuns, grown, holds, type Run, runMeetsBox, runOf } from '../drawing/boxes.ts';
import {
  alignOf,
  baselineOf,
  captionBox,
  type PlacedCaption,
  placeCaptions,
} from '../drawing/captions/caption-placing.ts';
import type { Box, Line } from '../drawing/drawing.ts';
import { roomFor } from '../drawing/lettering.ts';
import { edgeOf, type Named, type Spot, together } from './names.ts';
import { type Shape, type StyleName, styleOf } from './shapes.ts';

/** Height of a name's capitals, mm. */
export const TEXT = 2.5;
/** Where names find no place within a panel, it grows by so much above and below, mm. */
const MORE_ROOM = 9;
/** Clear space around a name on a spot of its own, mm. */
const CLEAR = 0.3;

export interface PlacedName extends PlacedCaption {
  /** Which part of its text stands at that part of its room. */
  readonly anchor: 'start' | 'middle' | 'end';
}

/** The room that a name takes. */
export const roomOf = ({ text, at, height }: PlacedCaption): Box =>
  captionBox(at, roomFor(text, height), height);

/**
 * First what has spots of its own, then all together, then one by one with more room. What finds no place then may stand across lines: a
 * white edge lets it be read.
 */
export function placedNames(
  named: readonly Named[],
  shapes: readonly Shape[],
  area: Box,
): readonly PlacedName[] {
  const strokes = shapes.filter(({ style }) => isStroked(style));
  const edges = strokes.flatMap((shape) => ('open' in shape ? [] : [edgeOf(shape)]));
  const lines = strokes.flatMap((shape) => ('open' in shape ? runsOf(shape.open) : []));
  const wishes = together(named, area);
  const hasSpots = wishes.some(({ spots }) => spots !== undefined && spots.length > 0);
  const runs = hasSpots ? [...edges.flatMap(edgeRuns), ...lines.map(([from, to]) => runOf(from, to))] : [];
  const spotted = onSpots(wishes, runs, area);
  const kept = spotted.filter((caption) => caption !== undefined);
  const asked = wishes
    .filter((_, k) => spotted[k] === undefined)
    .map(({ text, polygon }) => ({ text, short: text, patch: [polygon] }));
  const tall = grown(area, 0, MORE_ROOM);
  const place = (some: typeof asked, within: Box, isOverLines: boolean): PlacedName[] => {
    const leaders = kept.flatMap(({ leader }) => (leader === undefined ? [] : [leader]));
    const obstacles = {
      area: within,
      edges: isOverLines ? wishes.map(({ polygon }) => polygon) : edges,
      lines: isOverLines ? leaders : [...lines, ...leaders],
      boxes: kept.map(roomOf),
    };
    return placeCaptions(some, TEXT, obstacles, true).map((caption, k) =>
      anchored(caption, some[k]!.patch[0]!),
    );
  };
  const isIn = (within: Box, caption: PlacedName): boolean => holds(within, roomOf(caption));
  const first = place(asked, area, false);
  kept.push(...first.filter((caption) => isIn(area, caption)));
  for (const one of asked.filter((_, k) => !isIn(area, first[k]!))) {
    const [clear] = place([one], tall, false);
    kept.push(...(isIn(tall, clear!) ? [clear!] : place([one], tall, true)));
  }
  return kept;
}

/** Names that a spot of their own is free for; undefined for the others. */
function onSpots(
  wishes: readonly { readonly text: string; readonly spots?: readonly Spot[] | undefined }[],
  runs: readonly Run[],
  area: Box,
): (PlacedName | undefined)[] {
  const taken: Box[] = [];
  return wishes.map(({ text, spots = [] }) => {
    const found = spots
      .map(({ at, anchor }) => ({ anchor, box: boxAt(at, anchor, roomFor(text, TEXT)) }))
      .find(({ box }) => {
        const room = grown(box, CLEAR);
        return (
          holds(area, room) &&
          !taken.some((other) => boxesMeet(other, room)) &&
          !runs.some((run) => runMeetsBox(run, room))
        );
      });
    if (found === undefined) return undefined;
    const { box, anchor } = found;
    taken.push(box);
    return { text, at: baselineOf(box), leader: undefined, height: TEXT, anchor };
  });
}

function boxAt([x, y]: Vec2, anchor: Spot['anchor'], width: number): Box {
  const left = x - { end: width, middle: width / 2 }[anchor];
  const tall = 1.5 * TEXT;
  return { left, right: left + width, bottom: y - tall / 2, top: y + tall / 2 };
}

const anchored = (caption: PlacedCaption, edge: readonly Vec2[]): PlacedName => ({
  ...caption,
  anchor: ANCHORS[alignOf(caption, boxOf(edge))],
});

const ANCHORS = { left: 'start', centre: 'middle', right: 'end' } as const;

const isStroked = (style: StyleName): boolean => styleOf(style).stroke !== 'none';

const runsOf = (points: readonly Vec2[]): readonly Line[] =>
  points.slice(1).map((point, k): Line => [points[k]!, point]);
