/**
 * Below the panels: what the signs and lines in them mean, and, where references go by numbers, what each number is. The legend has
 * only what a panel shows. mm on paper.
 */
import type { Design } from '../../design/design.ts';
import type { Vec2 } from '../../geometry/vector.ts';
import { trimmed } from '../../quantity/format.ts';
import { boxesMeet } from '../drawing/boxes.ts';
import { withMinus } from '../page/figures.ts';
import { type Html, html } from '../page/html.ts';
import { TEXT } from './name-placing.ts';
import { rectangle } from './names.ts';
import { MOST_NAMED, type Panel } from './panel.ts';
import { ORIGIN } from './panel-bodies.ts';
import { drawnShapes, number, text, widthOf } from './panel-svg.ts';
import {
  arrow,
  axis,
  boundsOfShape,
  cross,
  type Shape,
  STYLE_NAMES,
  type StyleName,
  styleOf,
} from './shapes.ts';
import { kindAndSize, shortName, standsInSpace } from './things.ts';

/** A part of the page, and how high it is. */
export interface Block {
  readonly svg: Html;
  readonly height: number;
}

interface Place {
  readonly left: number;
  readonly width: number;
  readonly top: number;
}

/** From base line to base line. */
export const LINE = 4.6;
const SAMPLE = 9;
/** From a sample to its words, and from them to the next sample. */
const GAPS = [2, 4] as const;
/** Of a sample, its origin at the left end of its middle. */
const MIDDLE: Vec2 = [SAMPLE / 2, 0];
const RADIUS = 1.4;

export function footOf(design: Design, panels: readonly Panel[], { left, width, top }: Place): Block {
  let [x, y] = [left, top + TEXT];
  const entries = STYLE_NAMES.flatMap((style) => {
    const words = styleOf(style).means;
    return words !== undefined && isShown(style, panels) ? [{ style, words }] : [];
  }).map(({ style, words }): Html => {
    const room = SAMPLE + GAPS[0] + widthOf(words) + GAPS[1];
    if (x > left && x + room > left + width) [x, y] = [left, y + LINE];
    const entry = html`<g transform="translate(${number(x)} ${number(y - TEXT / 2)})">
${drawnShapes(sampleOf(style))}</g>${text(words, x + SAMPLE + GAPS[0], y)}
`;
    x += room;
    return entry;
  });
  const key = keyOf(design, { left, width, top: y + LINE + 1 });
  return {
    svg: html`<g data-legend="legend">
${entries}</g>
${key.svg}`,
    height: y + key.height - top + 2,
  };
}

/** Whether any of its shapes reaches into its panel: what lies outside is cut off. */
const isShown = (style: StyleName, panels: readonly Panel[]): boolean =>
  panels.some(({ shapes, box }) =>
    shapes.some((shape) => shape.style === style && boxesMeet(boundsOfShape(shape), box)),
  );

function sampleOf(style: StyleName): Shape[] {
  const ring: Shape = { style: 'reference', circle: MIDDLE, radius: RADIUS };
  switch (style) {
    case 'seat':
      return [{ style, circle: MIDDLE, radius: RADIUS }];
    case 'ballSign':
      return [ring, ...cross(MIDDLE, 0.6 * RADIUS, style)];
    case 'cubeSign': {
      const [reach, [x]] = [RADIUS * Math.SQRT1_2, MIDDLE];
      return [ring, { style, open: [[x - reach, reach], MIDDLE, [x - reach, -reach]] }]; // biome-ignore format: one line
    }
    case 'screenSign':
      return [...cross(MIDDLE, RADIUS / 2, style), { style, open: [[MIDDLE[0], RADIUS], [MIDDLE[0], -RADIUS]] }]; // biome-ignore format: one line
    case 'feature':
      return [
        { style, open: [[0, -RADIUS], [SAMPLE, -RADIUS]] }, // biome-ignore format: one line
        ...arrow('mark', 'arrow', [SAMPLE / 2, -RADIUS], [SAMPLE / 2, RADIUS]),
      ];
    case 'frame':
      return [{ style, circle: [ORIGIN, 0], radius: ORIGIN }, ...axis(style, [ORIGIN, 0], [SAMPLE - 1, 0])];
    default: {
      const half = TEXT / 2;
      return styleOf(style).fill === undefined
        ? [{ style, open: [[0, 0], [SAMPLE, 0]] }] // biome-ignore format: one line
        : [{ style, closed: rectangle({ left: 0, right: SAMPLE, bottom: -half, top: half }) }];
    }
  }
}

function keyOf(design: Design, { left, width, top }: Place): Block {
  if (design.references.length <= MOST_NAMED) return { svg: html``, height: 0 };
  const words = design.references.flatMap((reference, k) =>
    standsInSpace(reference)
      ? [
          `${k + 1} ${shortName(reference.id)}: ${kindAndSize(reference)} at (${reference.at.map((each) => withMinus(trimmed(each, 1))).join(', ')})`,
        ]
      : [],
  );
  const room = Math.max(...words.map(widthOf)) + GAPS[1];
  const columns = Math.max(1, Math.floor(width / room));
  const rows = Math.ceil(words.length / columns);
  return {
    svg: html`${words.map((line, k) => html`${text(line, left + Math.floor(k / rows) * room, top + TEXT + (k % rows) * LINE)}\n`)}`,
    height: rows * LINE + 1,
  };
}
