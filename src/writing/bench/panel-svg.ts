/**
 * A panel as SVG: a nested `svg` whose units are mm on paper with the substrate frame's origin at 0, 0 (y down, as SVG has it), which
 * cuts off what lies outside; around it heading, scale bar and rulers in mm of the bench.
 */
import type { Vec2 } from '../../geometry/vector.ts';
import { trimmed } from '../../quantity/format.ts';
import { powerOfTen } from '../../quantity/power.ts';
import type { PlacedCaption } from '../drawing/captions/caption-placing.ts';
import { roomFor } from '../drawing/lettering.ts';
import { type Html, type HtmlValue, html } from '../page/html.ts';
import { GREY, INK, QUIET_INK } from '../palette.ts';
import { type Panel, TEXT } from './panel.ts';
import { type Shape, STYLE_NAMES, type StyleName, styleOf } from './shapes.ts';

/** Height of a sans serif's capitals against its font size. */
const CAPITALS = 0.72;
/** Left of a panel, below it and above it: for the rulers, the heading and the bar. mm. */
const GUTTER = { left: 15, bottom: 9, top: 11 } as const;
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
  height: GUTTER.top + panel.box.top - panel.box.bottom + GUTTER.bottom,
});

const headingOf = ({ scale }: Panel, name: string): string => `${name}, scale ${scaleWords(scale)}`;
/** What bold letters take more. */
const BOLD = 1.1;

/** With its upper left corner, rulers included, at (left, top) of the page. */
export function panelSvg(panel: Panel, name: string, left: number, top: number): Html {
  const { view, scale, box, shapes, captions } = panel;
  const [x, y] = [left + GUTTER.left, top + GUTTER.top];
  const [width, height] = [box.right - box.left, box.top - box.bottom];
  return html`<g>
${text(headingOf(panel, name), x, top + TEXT, 'start', 'bold')}
${bar(scale, x, top + 8)}
<svg data-view="${view.name}" data-scale="${number(scale)}" x="${number(x)}" y="${number(y)}" width="${number(width)}" height="${number(height)}" viewBox="${[box.left, -box.top, width, height].map(number).join(' ')}">
${STYLE_NAMES.map((style) => group(style, shapes))}${captions.map(caption)}</svg>
<rect x="${number(x)}" y="${number(y)}" width="${number(width)}" height="${number(height)}" fill="none" stroke="${GREY}" stroke-width="0.2"/>
${rulers(panel, x, y)}</g>
`;
}

function group(style: StyleName, shapes: readonly Shape[]): HtmlValue {
  const own = shapes.filter((shape) => shape.style === style);
  if (own.length === 0) return undefined;
  const { stroke, width, dash, fill, fillOpacity } = styleOf(style);
  const dashes = dash === undefined ? '' : html` stroke-dasharray="${dash}"`;
  const opacity = fillOpacity === undefined ? '' : html` fill-opacity="${fillOpacity}"`;
  return html`<g fill="${fill ?? 'none'}"${opacity} stroke="${stroke}" stroke-width="${width}" stroke-linejoin="round"${dashes}>
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

/** On a white edge, so that it is read across lines. */
function caption({ text: words, at: [x, y], leader, height }: PlacedCaption): Html {
  const line =
    leader === undefined
      ? ''
      : html`<path d="M ${points(leader)}" fill="none" stroke="${QUIET_INK}" stroke-width="0.15"/>\n`;
  // The room is a generous one: a name left of what it belongs to ends where its leader begins.
  const room = roomFor(words, height);
  const isLeft = leader !== undefined && leader[0][0] > x + room / 2;
  const [start, anchor] = isLeft ? [x + room, html` text-anchor="end"`] : [x, ''];
  return html`${line}<text x="${number(start)}" y="${number(-y)}"${anchor} font-size="${number(height / CAPITALS)}" fill="${INK}" stroke="#ffffff" stroke-width="0.7" stroke-linejoin="round" paint-order="stroke">${words}</text>
`;
}

export function text(
  words: string,
  x: number,
  y: number,
  anchor: 'start' | 'middle' | 'end' = 'start',
  weight: 'bold' | 'normal' = 'normal',
): Html {
  const [side, heavy] = [
    anchor === 'start' ? '' : html` text-anchor="${anchor}"`,
    weight === 'normal' ? '' : html` font-weight="bold"`,
  ];
  return html`<text x="${number(x)}" y="${number(y)}" font-size="${number(TEXT / CAPITALS)}"${side}${heavy} fill="${INK}">${words}</text>`;
}

const scaleWords = (scale: number): string =>
  scale >= 1 ? `1:${trimmed(scale, 4)}` : `${trimmed(1 / scale, 4)}:1`;

/** A bar of a round length of the bench, on the base line y. */
function bar(scale: number, x: number, y: number): Html {
  const length = roundBelow(LONGEST_BAR * scale);
  const end = x + length / scale;
  const path = `M ${number(x)} ${number(y - TICK)} V ${number(y)} H ${number(end)} V ${number(y - TICK)}`;
  return html`<path data-bar="${number(length)}" d="${path}" fill="none" stroke="${INK}" stroke-width="0.5"/>
${text(`${trimmed(length, 6)} mm`, end + 2, y)}`;
}

function rulers({ view, scale, box }: Panel, x: number, y: number): Html {
  const [bottom, right] = [y + box.top - box.bottom, x + box.right - box.left];
  const name = html`${text('z, mm', right, bottom + 7.6, 'end')}
${text(`${view.up}, mm`, x - 2, y - 1.4, 'end')}
`;
  const across = marks(box.left * scale, box.right * scale, roundAbove(BETWEEN[0] * scale)).map(
    (value): Html => {
      const at = x + value / scale - box.left;
      return html`<path d="M ${number(at)} ${number(bottom)} v ${TICK}" stroke="${GREY}" stroke-width="0.2"/>${text(words(value), at, bottom + 4.3, 'middle')}
`;
    },
  );
  const up = marks(box.bottom * scale, (box.top - TEXT) * scale, roundAbove(BETWEEN[1] * scale)).map(
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
