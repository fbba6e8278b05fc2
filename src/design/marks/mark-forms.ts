/**
 * The forms of the marks on the glass, about their middle: crosses, the two arrows, texts, the frame for a serial number, lines and spaces.
 * mm, substrate frame. What is to be read is mirrored where the patterned face looks away from the part, so that it reads right on that face.
 */
import type { Vec2 } from '../../geometry/vector.ts';
import { DOTS_HIGH, dotsWide, rectangle, textPolygons } from './letters.ts';

type Polygon = readonly Vec2[];

export interface MarkForm {
  /** Counterclockwise; they abut or stand apart and never overlap. */
  readonly polygons: readonly Polygon[];
  /** Lines to measure widths by: rectangles that an edge shift of the patterns moves as well. */
  readonly lines: readonly Polygon[];
  readonly width: number;
  readonly height: number;
  /** The narrowest written width. */
  readonly stroke: number;
  /** The widths that rows of lines have, from the bottom row up. */
  readonly rows: readonly LineAndSpace[];
}

/** A line and the space beside it. */
export interface LineAndSpace {
  readonly line: number;
  readonly space: number;
}

/** Across a cross, and the width of its arms: found by eye, and aligned to under a microscope. Common practice, no source. */
export const CROSS = 2;
const ARM = 0.05;

export function crossForm(minFeature: number): MarkForm {
  const [far, near] = [CROSS / 2, Math.max(ARM, minFeature) / 2];
  const quarter: Vec2[] = [
    [far, -near],
    [far, near],
    [near, near],
  ];
  const corners = [0, 1, 2, 3].flatMap((turns) => quarter.map((corner) => turned(corner, turns)));
  return centred([corners], [], 2 * near);
}

/** By quarter turns. */
const turned = ([x, y]: Vec2, turns: number): Vec2 =>
  (
    [
      [x, y],
      [-y, x],
      [-x, -y],
      [y, -x],
    ] as const
  )[turns]!;

/** Letters of the height of seven dots. */
export const textForm = (text: string, dot: number, mirrored: boolean): MarkForm =>
  centred(textPolygons(text, [0, 0], dot, mirrored), [], dot);

/** Lengths of the arrows and of their heads, in dots: unequal, so that no turn and no mirror brings them onto each other. */
const ALONG = { x: 28, y: 17 } as const;
const HEAD = { long: 4, beside: 1.5 } as const;

/** An arrow along +x and a shorter one along +y, from one corner. No corner is sharper than a right angle, where a stroke would end in nothing. */
export function orientationForm(dot: number, mirrored: boolean): MarkForm {
  const { x, y } = ALONG;
  const { long, beside } = HEAD;
  const arrows: Vec2[] = [
    [0, 0],
    [x - long, 0],
    [x - long, -beside],
    [x - long + 1, -beside],
    [x, 0],
    [x, 1],
    [x - long + 1, 1 + beside],
    [x - long, 1 + beside],
    [x - long, 1],
    [1, 1],
    [1, y - long],
    [1 + beside, y - long],
    [1 + beside, y - long + 1],
    [1, y],
    [0, y],
    [-beside, y - long + 1],
    [-beside, y - long],
    [0, y - long],
  ];
  const letter = (text: string, [left, bottom]: Vec2): readonly Polygon[] =>
    textPolygons(text, [left * dot, bottom * dot], dot, mirrored);
  const scaled = arrows.map(([u, v]): Vec2 => [u * dot, v * dot]);
  return centred([scaled, ...letter('X', [x + 3, -3]), ...letter('Y', [-2, y + 3])], [], dot);
}

/** Inside of the frame, in dots. */
const FRAME = { wide: 70, high: 15 } as const;

/** `S/N` and an empty frame to write in. */
export function serialForm(dot: number, mirrored: boolean): MarkForm {
  const words = 'S/N';
  const { wide, high } = FRAME;
  const [left, bottom] = [dotsWide(words) + 3, -4];
  const [right, top] = [left + wide + 2, bottom + high + 2];
  const sides = [
    [left, bottom, right, bottom + 1],
    [left, top - 1, right, top],
    [left, bottom + 1, left + 1, top - 1],
    [right - 1, bottom + 1, right, top - 1],
  ] as const;
  const frame = sides.map(([l, b, r, t]) => {
    const [from, to] = mirrored ? [dotsWide(words) - r, dotsWide(words) - l] : [l, r];
    return rectangle(from * dot, b * dot, to * dot, t * dot);
  });
  return centred([...textPolygons(words, [0, 0], dot, mirrored), ...frame], [], dot);
}

/** Lines of a group, and how long they are at the least: room for a microscope's field. Common practice, no source. */
const LINES = 11;
const LEAST_LENGTH = 0.1;
const BETWEEN = 0.1;
/** Dots of the letters beside a group, mm: legible under a low power. */
const SMALL_DOT = 0.02;

/** Per pair of widths a row: lines along y, lines along x, and the widths in micrometres, `line/space`. */
export function barsForm(pairs: readonly LineAndSpace[], minFeature: number, mirrored: boolean): MarkForm {
  const dot = Math.max(SMALL_DOT, minFeature);
  const lines: Polygon[] = [];
  const polygons: Polygon[] = [];
  let y = 0;
  for (const { line, space } of pairs) {
    const period = line + space;
    const length = Math.max(LEAST_LENGTH, toNm(LINES * period));
    const across = toNm((LINES - 1) * period + line);
    const second = across + BETWEEN;
    for (let k = 0; k < LINES; k++) {
      const from = toNm(k * period);
      lines.push(rectangle(from, y, from + line, y + length));
      lines.push(rectangle(second, y + from, second + length, y + from + line));
    }
    const text = `${micrometres(line)}/${micrometres(space)}`;
    const left = mirrored ? -BETWEEN - dotsWide(text) * dot : second + length + BETWEEN;
    polygons.push(...textPolygons(text, [left, y], dot, mirrored));
    y += Math.max(length, across, DOTS_HIGH * dot) + BETWEEN;
  }
  return { ...centred(polygons, lines, Math.min(dot, ...pairs.map(({ line }) => line))), rows: pairs };
}

/** To the nanometre, mm. */
export const toNm = (length: number): number => Math.round(length * 1e6) / 1e6;
const micrometres = (length: number): string => String(Math.round(length * 1e6) / 1e3);

function centred(polygons: readonly Polygon[], lines: readonly Polygon[], stroke: number): MarkForm {
  const all = [...polygons, ...lines].flat();
  const ends = (axis: 0 | 1): readonly [number, number] =>
    all.reduce<readonly [number, number]>(
      ([least, most], point) => [Math.min(least, point[axis]), Math.max(most, point[axis])],
      [Number.POSITIVE_INFINITY, Number.NEGATIVE_INFINITY],
    );
  const [[left, right], [bottom, top]] = [ends(0), ends(1)];
  const [x, y] = [toNm((left + right) / 2), toNm((bottom + top) / 2)];
  const moved = (polygon: Polygon): Polygon => polygon.map(([u, v]): Vec2 => [toNm(u - x), toNm(v - y)]);
  // Half of it is whole nanometres, so that the box holds all of the mark.
  const around = (from: number, to: number, middle: number): number =>
    2 * Math.max(toNm(to - middle), toNm(middle - from));
  return {
    polygons: polygons.map(moved),
    lines: lines.map(moved),
    width: around(left, right, x),
    height: around(bottom, top, y),
    stroke,
    rows: [],
  };
}
