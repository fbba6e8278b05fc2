/**
 * layout.svg: the drawing at true scale, 1 user unit = 1 mm, one group a layer under the layer's name.
 *
 * Shapes lie in a group turned upside down (scale(1,-1)), so that their coordinates are those of the substrate frame and
 * of layout.dxf digit for digit; texts lie outside it, upright, at (x, -y). Written: fixed digits, LF, no script, no style
 * sheet, nothing fetched. An arc of the model is at most a third of a turn, so its large-arc flag is 0.
 */

import type { Vec2 } from '../../../geometry/vector.ts';
import { fixed, trimmed } from '../../../quantity/format.ts';
import { DRAFT_WORDS } from '../../convention.ts';
import { escapedMarkup } from '../../page/html.ts';
import { type Curves, type Drawing, isText, lineWidth, type Text } from '../drawing.ts';
import { DASHES, LAYERS, type Layer } from '../layers.ts';
import { drawable } from '../lettering.ts';
import { areaLoops, type Vertex, writeCurves } from '../outline-model.ts';

/** The picometre: far below any pattern's placement, and what the DXF carries too. */
const DIGITS = 9;
/** Height of a sans serif's capitals against its font size. */
const CAPITALS = 0.72;
const FONTS = 'Arial, Helvetica, Liberation Sans, DejaVu Sans, sans-serif';

export function layoutSvg(drawing: Drawing): string {
  const { left, bottom, right, top } = drawing.sheet;
  const [width, height] = [number(right - left), number(top - bottom)];
  const status = drawing.draft ? `${DRAFT_WORDS}. ` : '';
  return `${[
    '<?xml version="1.0" encoding="UTF-8"?>',
    `<svg xmlns="http://www.w3.org/2000/svg" version="1.1" role="img" aria-labelledby="title desc" width="${width}mm" height="${height}mm" viewBox="${number(left)} ${number(-top)} ${width} ${height}" font-family="${FONTS}">`,
    `<title id="title">${escaped(drawing.title)}</title>`,
    `<desc id="desc">${escaped(`${status}${drawing.description} 1 unit = 1 mm.`)}</desc>`,
    `<rect id="SHEET" x="${number(left)}" y="${number(-top)}" width="${width}" height="${height}" fill="#ffffff"/>`,
    ...LAYERS.flatMap((layer) => layerGroup(layer, drawing)),
    '</svg>',
  ].join('\n')}\n`;
}

function layerGroup(layer: Layer, drawing: Drawing): string[] {
  const items = drawing.layers.get(layer.name);
  if (items === undefined) return [];
  const width = lineWidth(layer, drawing);
  const dashes =
    layer.line === 'continuous' ? undefined : DASHES[layer.line].map((dash) => number(dash * width));
  const lines = items.flatMap((item) => {
    if (isText(item)) return [];
    return layer.filled ? [areaElement(item)] : curveElements(item);
  });
  const painted = layer.filled
    ? `fill="${layer.colour.css}"`
    : `fill="none" stroke="${layer.colour.css}" stroke-width="${number(width)}" stroke-linejoin="round"`;
  const texts = items.filter(isText).map(textElement);
  const opacity = layer.name === 'DRAFT_MARK' ? ' opacity="0.35"' : '';
  return [
    `<g id="${layer.name}"${opacity}>`,
    ...(lines.length === 0
      ? []
      : [
          `<g transform="scale(1,-1)" ${painted}${dashes ? ` stroke-dasharray="${dashes.join(' ')}"` : ''}>`,
          ...lines,
          '</g>',
        ]),
    ...(texts.length === 0 ? [] : [`<g fill="${layer.colour.css}">`, ...texts, '</g>']),
    '</g>',
  ];
}

function curveElements(curves: Curves): string[] {
  const owner = ownerAttribute(curves);
  return writeCurves(curves, {
    line: (from, to) => `<path${owner} d="M ${point(from)} L ${point(to)}"/>`,
    circle: ([x, y], radius) => `<circle${owner} cx="${number(x)}" cy="${number(y)}" r="${number(radius)}"/>`,
    loop: (vertices) => `<path${owner} d="${loopPath(vertices)}"/>`,
  });
}

/** Holes run the other way round than their outer loop, so that nothing more need be said for them to be left out. */
const areaElement = (area: Curves): string =>
  `<path${ownerAttribute(area)} d="${areaLoops(area).map(loopPath).join(' ')}"/>`;

const ownerAttribute = ({ owner }: Curves): string =>
  owner === undefined ? '' : ` data-id="${escaped(owner)}"`;

function loopPath(vertices: readonly Vertex[]): string {
  const runs = vertices.map(({ bulge, radius }, index) => {
    const next = point(vertices[(index + 1) % vertices.length]!.point);
    if (radius === undefined) return `L ${next}`;
    return `A ${number(radius)} ${number(radius)} 0 0 ${bulge > 0 ? 1 : 0} ${next}`;
  });
  return `M ${point(vertices[0]!.point)} ${runs.join(' ')} Z`;
}

function textElement({ text, at, height, align, angle }: Text): string {
  const [x, y] = [number(at[0]), number(-at[1])];
  const anchor = { left: '', centre: ' text-anchor="middle"', right: ' text-anchor="end"' }[align];
  const turn = angle === 0 ? '' : ` transform="rotate(${number((-angle * 180) / Math.PI)} ${x} ${y})"`;
  const size = fixed(height / CAPITALS, 3);
  return `<text x="${x}" y="${y}" font-size="${size}"${anchor}${turn}>${escaped(text)}</text>`;
}

const number = (value: number): string => trimmed(value, DIGITS);
const point = ([x, y]: Vec2): string => `${number(x)} ${number(y)}`;

/** Text for an element or an attribute: characters that XML forbids or reads as markup are gone or escaped. */
const escaped = (text: string): string => escapedMarkup(drawable(text));
