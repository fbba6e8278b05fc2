/**
 * layout.pdf: the drawing at true scale, one page as large as its sheet, a layer (optional content) each. PDF 1.5 (ISO 32000-1).
 *
 * Lengths are mm through the page's matrix, with nine decimals as in layout.svg; circles and arcs are cubic Bézier curves, each of an
 * eighth of a turn at most: with handles of 4/3·tan(θ/4) radii they leave the arc by less than 5e-6 of the radius
 * (T. Goldapp, Comput. Aided Geom. Des. 8, 227 (1991), from memory; a test measures it). Lettering in an embedded subset of one font (pdf-fonts.ts); a letter that it lacks shows as U+FFFD on
 * the page and is whole in the title of the document. Not written: compression (its bytes differ between machines), dates. Written here
 * because a library for it would load longer than all the rest of a package takes to make.
 */

import type { Vec2 } from '../../../geometry/vector.ts';
import { trimmed } from '../../../quantity/format.ts';
import { type Curves, type Drawing, isText, lineWidth, type Text } from '../drawing.ts';
import { DASHES, LAYERS, type Layer } from '../layers.ts';
import { areaLoops, type Vertex, writeCurves } from '../outline-model.ts';
import { PdfLettering, trueTypeOf } from './pdf-fonts.ts';

/** Points an inch over mm an inch. */
const POINTS_PER_MM = 72 / 25.4;
const DIGITS = 9;

/** Numbers of the objects before the layers'. */
const CATALOG = 1;
const PAGES = 2;
const PAGE = 3;
const CONTENT = 4;
const INFO = 5;
const PALE = 6;
const FONT = 7;
/** Objects of the font. */
const FONT_OBJECTS = 5;
const FIRST_LAYER = FONT + FONT_OBJECTS;

/** `font`: the TrueType font's bytes. */
export function layoutPdf(drawing: Drawing, font: Uint8Array): Uint8Array {
  const lettering = new PdfLettering(trueTypeOf(font));
  const { left, bottom, right, top } = drawing.sheet;
  const layers = LAYERS.filter(({ name }) => drawing.layers.has(name));
  const groups = layers.map((_, k) => `${FIRST_LAYER + k} 0 R`);
  const content = [
    `${number(POINTS_PER_MM)} 0 0 ${number(POINTS_PER_MM)} ${number(-left * POINTS_PER_MM)} ${number(-bottom * POINTS_PER_MM)} cm`,
    '1 j 1 J',
    ...layers.flatMap((layer, k) => layerContent(layer, k, drawing, lettering)),
  ].join('\n');
  const size = [right - left, top - bottom].map((length) => number(length * POINTS_PER_MM)).join(' ');
  const properties = groups.map((group, k) => `/L${k} ${group}`).join(' ');
  return pdfFile([
    `<< /Type /Catalog /Pages ${PAGES} 0 R /OCProperties << /OCGs [${groups.join(' ')}] /D << /Order [${groups.join(' ')}] >> >> /ViewerPreferences << /PrintScaling /None /DisplayDocTitle true >> >>`,
    `<< /Type /Pages /Kids [${PAGE} 0 R] /Count 1 >>`,
    `<< /Type /Page /Parent ${PAGES} 0 R /MediaBox [0 0 ${size}] /Contents ${CONTENT} 0 R /Resources << /Font << /F ${FONT} 0 R >> /ExtGState << /Pale ${PALE} 0 R >> /Properties << ${properties} >> >> >>`,
    `<< /Length ${content.length} >>\nstream\n${content}\nendstream`,
    `<< /Title ${utf16(drawing.title)} /Subject ${utf16(drawing.description)} /Producer (datumlight) >>`,
    '<< /Type /ExtGState /ca 0.35 /CA 0.35 >>',
    ...lettering.objects(FONT),
    ...layers.map(({ name }) => `<< /Type /OCG /Name (${name}) >>`),
  ]);
}

function layerContent(layer: Layer, index: number, drawing: Drawing, lettering: PdfLettering): string[] {
  const items = drawing.layers.get(layer.name) ?? [];
  const width = lineWidth(layer, drawing);
  const dashes = layer.line === 'continuous' ? [] : DASHES[layer.line].map((dash) => number(dash * width));
  const colour = [1, 3, 5]
    .map((at) => number(Number.parseInt(layer.colour.css.slice(at, at + 2), 16) / 255, 3))
    .join(' ');
  return [
    `/OC /L${index} BDC q`,
    ...(layer.name === 'DRAFT_MARK' ? ['/Pale gs'] : []),
    `${number(width)} w [${dashes.join(' ')}] 0 d ${colour} RG ${colour} rg`,
    ...items.flatMap((item) => {
      if (isText(item)) return textContent(item, lettering);
      return layer.filled ? areaContent(item) : curveContent(item);
    }),
    'Q EMC',
  ];
}

const curveContent = (curves: Curves): string[] =>
  writeCurves(curves, {
    line: (from, to) => `${point(from)} m ${point(to)} l S`,
    circle: (centre, radius) => `${circlePath(centre, radius).map(step).join(' ')} s`,
    loop: (vertices) => `${loopSteps(vertices)} s`,
  });

const areaContent = (area: Curves): string =>
  `${areaLoops(area)
    .map((loop) => `${loopSteps(loop)} h`)
    .join(' ')} f*`;

function loopSteps(vertices: readonly Vertex[]): string {
  const runs = vertices.map(({ point: from, bulge }, k) => {
    const to = vertices[(k + 1) % vertices.length]!.point;
    return bulge === 0 ? `${point(to)} l` : arcPath(from, to, bulge).map(step).join(' ');
  });
  return `${point(vertices[0]!.point)} m ${runs.join(' ')}`;
}

function textContent({ text, at, height, align, angle }: Text, lettering: PdfLettering): string {
  const size = height / lettering.capitals;
  const back = { left: 0, centre: 0.5, right: 1 }[align] * lettering.width(text) * size;
  const [c, s] = [Math.cos(angle), Math.sin(angle)];
  const matrix = [c, s, -s, c, at[0] - back * c, at[1] - back * s].map((value) => number(value)).join(' ');
  return `BT ${matrix} Tm /F ${number(size)} Tf <${lettering.codes(text)}> Tj ET`;
}

const number = (value: number, digits = DIGITS): string => trimmed(value, digits);
const point = ([x, y]: readonly [number, number]): string => `${number(x)} ${number(y)}`;
const step = (numbers: readonly number[]): string =>
  `${numbers.map((value) => number(value)).join(' ')} ${numbers.length === 2 ? 'm' : 'c'}`;

/** A text string with its byte order mark, as hexadecimal digits. */
export function utf16(text: string): string {
  const units = Array.from({ length: text.length }, (_, k) =>
    text.charCodeAt(k).toString(16).padStart(4, '0'),
  );
  return `<feff${units.join('')}>`;
}

/** A comment with a zero byte, by which git knows a binary file: it would convert the line ends of others, and the offsets below count bytes. */
const BINARY = '%\0\n';

/** The objects, numbered from 1 (the catalogue) on, the fifth the file's description, with their table of offsets; all ASCII, so characters are bytes. */
export function pdfFile(objects: readonly string[]): Uint8Array {
  let text = `%PDF-1.5\n${BINARY}`;
  const offsets = objects.map((object, k) => {
    const at = text.length;
    text += `${k + 1} 0 obj\n${object}\nendobj\n`;
    return at;
  });
  const entries = offsets.map((at) => `${String(at).padStart(10, '0')} 00000 n \n`).join('');
  const count = objects.length + 1;
  text += `xref\n0 ${count}\n0000000000 65535 f \n${entries}trailer\n<< /Size ${count} /Root ${CATALOG} 0 R /Info ${INFO} 0 R >>\nstartxref\n${text.length}\n%%EOF\n`;
  return new TextEncoder().encode(text);
}

/** A start [x, y], or a curve's two handles and end [x1, y1, x2, y2, x3, y3]. */
export type PathStep = readonly number[];

const LONGEST = Math.PI / 4;

/** A whole circle, from its rightmost point counterclockwise; its start comes first. */
export function circlePath([x, y]: Vec2, radius: number): PathStep[] {
  return [[x + radius, y], ...curves([x, y], radius, 0, 2 * Math.PI)];
}

/** From one point to another along an arc of bulge tan(sweep/4), positive counterclockwise; without its start. */
export function arcPath(from: Vec2, to: Vec2, bulge: number): PathStep[] {
  const sweep = 4 * Math.atan(bulge);
  // the centre lies (1 − b²)/(4b) of the chord to its left
  const reach = (1 - bulge * bulge) / (4 * bulge);
  const centre: Vec2 = [
    (from[0] + to[0]) / 2 - reach * (to[1] - from[1]),
    (from[1] + to[1]) / 2 + reach * (to[0] - from[0]),
  ];
  const radius = Math.hypot(from[0] - centre[0], from[1] - centre[1]);
  const start = Math.atan2(from[1] - centre[1], from[0] - centre[0]);
  const steps = curves(centre, radius, start, sweep);
  const [x1, y1, x2, y2] = steps.at(-1)! as [number, number, number, number];
  return [...steps.slice(0, -1), [x1, y1, x2, y2, ...to]];
}

function curves([x, y]: Vec2, radius: number, start: number, sweep: number): PathStep[] {
  const count = Math.max(1, Math.ceil(Math.abs(sweep) / LONGEST - 1e-9));
  const turn = sweep / count;
  const handle = (4 / 3) * Math.tan(turn / 4);
  return Array.from({ length: count }, (_, k) => {
    const [a, b] = [start + k * turn, start + (k + 1) * turn];
    const [ca, sa, cb, sb] = [Math.cos(a), Math.sin(a), Math.cos(b), Math.sin(b)];
    return [
      x + radius * (ca - handle * sa),
      y + radius * (sa + handle * ca),
      x + radius * (cb + handle * sb),
      y + radius * (sb - handle * cb),
      x + radius * cb,
      y + radius * sb,
    ];
  });
}
