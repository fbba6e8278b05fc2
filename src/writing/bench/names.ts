/** Names on a panel before they have a place: what each belongs to. mm on paper, [right, up]. */
import { distance2, type Vec2 } from '../../geometry/vector.ts';
import { middleOf } from '../drawing/boxes.ts';
import type { Box } from '../drawing/drawing.ts';
import type { Shape } from './shapes.ts';

export interface Named {
  readonly text: string;
  /** What follows the names of several that stand together, such as `SMR Ø38.1`. */
  readonly suffix?: string;
  /** Names of one sort are written together where they stand together. */
  readonly sort: string;
  readonly at: Vec2;
  /** The edge of what is named. */
  readonly polygon: readonly Vec2[];
  /** Where its name belongs, the best first; elsewhere only where none of them is free. */
  readonly spots?: readonly Spot[];
}

/** A place for a name: for its middle, or its end. */
export interface Spot {
  readonly at: Vec2;
  readonly anchor: 'middle' | 'end';
}

/** What one part of a panel adds to it. */
export interface Drawn {
  readonly shapes: readonly Shape[];
  readonly named: readonly Named[];
}

/** Half the side of what stands for a point where names keep clear of it, mm. */
const POINT = 0.8;

export const pointNamed = (sort: string, text: string, at: Vec2): Named => ({
  ...{ text, sort, at },
  polygon: square(at, POINT),
});

const square = ([x, y]: Vec2, half: number): readonly Vec2[] =>
  rectangle({ left: x - half, right: x + half, bottom: y - half, top: y + half });

/** Counterclockwise from the lower left. */
export const rectangle = ({ left, right, bottom, top }: Box): readonly Vec2[] => [
  [left, bottom],
  [right, bottom],
  [right, top],
  [left, top],
];

/** How much of it counts as its upper end, mm. */
const END = 0.5;

/** What reaches highest of a closed shape. */
export function upperEnd(edge: readonly Vec2[]): readonly Vec2[] {
  const top = Math.max(...edge.map(([, y]) => y));
  const xs = edge.filter(([, y]) => y > top - END).map(([x]) => x);
  return rectangle({ left: Math.min(...xs) - END, right: Math.max(...xs) + END, bottom: top - END, top });
}

const CORNERS = 16;

export const disc = ([x, y]: Vec2, radius: number): readonly Vec2[] =>
  Array.from({ length: CORNERS }, (_, k): Vec2 => {
    const angle = (2 * Math.PI * k) / CORNERS;
    return [x + radius * Math.cos(angle), y + radius * Math.sin(angle)];
  });

/** The edge of a shape as names see it. */
export function edgeOf(shape: Shape): readonly Vec2[] {
  if ('closed' in shape) return shape.closed;
  if ('open' in shape) return shape.open;
  return disc(shape.circle, Math.max(shape.radius, POINT));
}

/** Names of things nearer to each other than this are written together, mm; no more than so many. */
const TOGETHER = 1.6;
const MOST_TOGETHER = 4;

/** Wishes for captions: one for all names of a sort that belong to things at one place of the view. */
export function together(
  named: readonly Named[],
  within: Box,
): readonly Pick<Named, 'text' | 'polygon' | 'spots'>[] {
  const groups: Named[][] = [];
  for (const one of named) {
    if (!holdsPoint(within, one.at)) continue;
    const group = groups.find(
      ([first]) =>
        first!.sort === one.sort && first!.suffix === one.suffix && distance2(first!.at, one.at) < TOGETHER,
    );
    if (group === undefined) groups.push([one]);
    else group.push(one);
  }
  return groups.map((group) => {
    const names = group.slice(0, MOST_TOGETHER).map(({ text }) => text);
    const more = group.length > names.length ? ` +${group.length - names.length}` : '';
    const { suffix, polygon, sort, spots = [] } = group[0]!;
    const before = sort === 'feature' ? 'datum ' : '';
    return {
      text: `${before}${names.join(', ')}${more}${suffix === undefined ? '' : `: ${suffix}`}`,
      polygon,
      spots,
    };
  });
}

const holdsPoint = ({ left, right, bottom, top }: Box, [x, y]: Vec2): boolean =>
  x >= left && x <= right && y >= bottom && y <= top;

export const middleOfShape = (shape: Shape): Vec2 => {
  if ('circle' in shape) return shape.circle;
  const points = edgeOf(shape);
  const [xs, ys] = [points.map(([x]) => x), points.map(([, y]) => y)];
  return middleOf({
    left: Math.min(...xs),
    right: Math.max(...xs),
    bottom: Math.min(...ys),
    top: Math.max(...ys),
  });
};
