/**
 * A panel as SVG: a nested `svg` whose units are mm on paper with the substrate frame's origin at 0, 0 (y down, as SVG has it), which
 * cuts off what lies outside; around it heading, scale bar and rulers in mm of the bench.
 */
import type { Vec2 } from '../../geometry/vector.ts';
import { trimmed } from '../../quantity/format.ts';
import { powerOfTen } from '../../quantity/power.ts';
import { roomFor } from '../drawing/lettering.ts';
import { type Html, type HtmlValue, html } from '../page/html.ts';
import { GREY, INK, QUIET_INK } from '../palette.ts';
import { type PlacedName, TEXT } from './name-placing.ts';
import type { Panel } from './panel.ts';
import { type Shape, STYLE_NAMES, type StyleName, styleOf } from './shapes.ts';

/** Height of a sans serif's capitals against its font size. */
const CAPITALS = 0.72;
/** Left of a panel, below it and above it: for the rulers, the heading and the bar. mm. */
const GUTTER = { left: 15, bottom: 6, top: 11, topOfWide: 6.5 } as const;
/** Least distances of marks on the rulers, along z and upright, and the longest scale bar, mm. */
const BETWEEN: Vec2 = [16, 8];
const LONGEST_BAR = 30;
const TICK = 1.2;

export interface Size {
  readonly width: number;
  readonly height: number;
}

/** With everything around it. */
export const sizeOf = (panel: Panel, name: string): Size => ({
  width: GUTTER.left + Math.max(panel.box.right - panel.box.left, BOLD * widthOf(headingOf(panel, name))),
  height: topOf(panel) + panel.box.top - panel.box.bottom + GUTTER.bottom,
});

/** A wide panel has its bar beside its heading, not below it. */
const WIDE = 130;
const isWide = ({ box }: Panel): boolean => box.right - box.left >= WIDE;
const topOf = (panel: Panel): number => (isWide(panel) ? GUTTER.topOfWide : GUTTER.top);

const headingOf = ({ scale }: Panel, name: string): string => `${name}, scale ${scaleWords(scale)}`;
/** What bold letters take more. */
const BOLD = 1.1;

/** With its upper left corner, rulers included, at (left, top) of the page. */
export function panelSvg(panel: Panel, name: string, left: number, top: number): Html {
  const { view, scale, box, shapes, captions } = panel;
  const [x, y] = [left + GUTTER.left, top + topOf(panel)];
  const [width, height] = [box.right - box.left, box.top - box.bottom];
  return html`<g>
${text(headingOf(panel, name), x, top + TEXT, 'start', 'bold')}
${isWide(panel) ? bar(scale, x + width, top + TEXT, 'left') : bar(scale, x, top + 8, 'right')}
<svg data-view="${view.name}" data-scale="${number(scale)}" x="${number(x)}" y="${number(y)}" width="${number(width)}" height="${number(height)}" viewBox="${[box.left, -box.top, width, height].map(number).join(' ')}">
${drawnShapes(shapes)}${captions.map(caption)}</svg>
<rect x="${number(x)}" y="${number(y)}" width="${number(width)}" height="${number(height)}" fill="none" stroke="${GREY}" stroke-width="0.2"/>
${rulers(panel, x, y)}</g>
`;
}

/** Layer by layer. */
export const drawnShapes = (shapes: readonly Shape[]): Html =>
  html`${STYLE_NAMES.map((style) => group(style, shapes))}`;

function group(style: StyleName, shapes: readonly Shape[]): HtmlValue {
  const own = shapes.filter((shape) => shape.style === style);
  if (own.length === 0) return undefined;
  const { stroke, width, dash, fill, fillOpacity } = styleOf(style);
  const dashes = dash === undefined ? '' : html` stroke-dasharray="${dash}"`;
  const opacity = fillOpacity === undefined ? '' : html` fill-opacity="${fillOpacity}"`;
  return html`<g data-layer="${style}" fill="${fill ?? 'none'}"${opacity} stroke="${stroke}" stroke-width="${width}" stroke-linejoin="round"${dashes}>
${own.map((shape) => html`${element(shape)}\n`)}</g>
`;
}

function element(shape: Shape): Html {
  const id = shape.id === undefined ? '' : html` data-id="${shape.id}"`;
  if ('circle' in shape) {
    const [x, y] = shape.circle;
    return html`<circle${id} cx="${number(x)}" cy="${number(-y)}" r="${number(shape.radius)}"/>`;
  }
  return 'closed' in shape
    ? html`<path${id} d="M ${points(shape.closed)} Z"/>`
    : html`<path${id} fill="none" d="M ${points(shape.open)}"/>`;
}

const points = (all: readonly Vec2[]): string =>
  all.map(([x, y]) => `${number(x)} ${number(-y)}`).join(' L ');

/** On a white edge, so that it is read across lines. Its room is a generous one: it stands where it meets what it names. */
function caption({ text: words, at: [x, y], leader, height, anchor }: PlacedName): Html {
  const line =
    leader === undefined
      ? ''
      : html`<path d="M ${points(leader)}" fill="none" stroke="${QUIET_INK}" stroke-width="0.15"/>\n`;
  const start = x + { start: 0, middle: 0.5, end: 1 }[anchor] * roomFor(words, height);
  return html`${line}<text x="${number(start)}" y="${number(-y)}"${anchored(anchor)} font-size="${number(height / CAPITALS)}" fill="${INK}" stroke="#ffffff" stroke-width="0.7" stroke-linejoin="round" paint-order="stroke">${words}</text>
`;
}

const anchored = (anchor: PlacedName['anchor']): HtmlValue =>
  anchor === 'start' ? '' : html` text-anchor="${anchor}"`;

export function text(
  words: string,
  x: number,
  y: number,
  anchor: PlacedName['anchor'] = 'start',
  weight: 'bold' | 'normal' = 'normal',
): Html {
  const [side, heavy] = [anchored(anchor), weight === 'normal' ? '' : html` font-weight="bold"`];
  return html`<text x="${number(x)}" y="${number(y)}" font-size="${number(TEXT / CAPITALS)}"${side}${heavy} fill="${INK}">${words}</text>`;
}

const scaleWords = (scale: number): string =>
  scale >= 1 ? `1:${trimmed(scale, 4)}` : `${trimmed(1 / scale, 4)}:1`;

/** A bar of a round length of the bench, on the base line y, with its words: left or right of x. */
function bar(scale: number, x: number, y: number, side: 'left' | 'right'): Html {
  const length = roundBelow(LONGEST_BAR * scale);
  const said = `${trimmed(length, 6)} mm`;
  const start = side === 'right' ? x : x - widthOf(said) - BEFORE_WORDS - length / scale;
  const end = start + length / scale;
  const path = `M ${number(start)} ${number(y - TICK)} V ${number(y)} H ${number(end)} V ${number(y - TICK)}`;
  return html`<path data-bar="${number(length)}" d="${path}" fill="none" stroke="${INK}" stroke-width="0.5"/>
${text(said, end + BEFORE_WORDS, y)}`;
}

const BEFORE_WORDS = 2;

function rulers({ view, scale, box }: Panel, x: number, y: number): Html {
  const bottom = y + box.top - box.bottom;
  const name = html`${text('z, mm', x - 2, bottom + 4.3, 'end')}
${text(`${view.up}, mm`, x - 2, y - 1.4, 'end')}
`;
  const across = marks(box.left * scale, box.right * scale, roundAbove(BETWEEN[0] * scale)).map(
    (value): Html => {
      const at = x + value / scale - box.left;
      const isClear = at - widthOf(words(value)) / 2 > x - 1;
      return html`<path d="M ${number(at)} ${number(bottom)} v ${TICK}" stroke="${GREY}" stroke-width="0.2"/>${isClear ? text(words(value), at, bottom + 4.3, 'middle') : ''}
`;
    },
  );
  const up = marks((box.bottom + TEXT) * scale, (box.top - TEXT) * scale, roundAbove(BETWEEN[1] * scale)).map(
    (value): Html => {
      const at = y + box.top - value / scale;
      return html`<path d="M ${number(x)} ${number(at)} h -${TICK}" stroke="${GREY}" stroke-width="0.2"/>${text(words(value), x - 2, at + TEXT / 2, 'end')}
`;
    },
  );
  return html`${name}${across}${up}`;
}

const words = (value: number): string => trimmed(value, 6).replace('-', '−');

/** Multiples of `step` from one value to another. */
function marks(from: number, to: number, step: number): number[] {
  const first = Math.ceil(from / step);
  return Array.from({ length: Math.max(0, Math.floor(to / step) - first + 1) }, (_, k) => (first + k) * step);
}

/** The next of 1, 2, 5, 10, … that is not below the value, and the last that is not above it. */
function roundAbove(value: number): number {
  const decade = powerOfTen(Math.floor(Math.log10(value)));
  return ([1, 2, 5].find((step) => step * decade >= value) ?? 10) * decade;
}
function roundBelow(value: number): number {
  const decade = powerOfTen(Math.floor(Math.log10(value)));
  return [5, 2, 1].find((step) => step * decade <= value)! * decade;
}

export const number = (value: number): string => trimmed(value, 4);
export const widthOf = (string: string): number => roomFor(string, TEXT);
