/**
 * Two layouts laid over each other: the old one in red, the new one in blue, at true scale, 1 user unit = 1 mm. Where nothing
 * moved the two together look dark. Made from two files layout.svg (drawing/formats/layout-svg.ts) as the program wrote them.
 */
import { html, trusted } from '../page/html.ts';

import { AFTER, BEFORE, QUIET_INK } from '../palette.ts';

interface Layer {
  readonly box: readonly [x: number, y: number, width: number, height: number];
  readonly content: string;
}

/** Whether a text starts as an overlay does. */
export const isLayoutOverlay = (head: string): boolean =>
  head.includes('<title id="overlay-title">') && head.includes(MEANING);

const MEANING = 'old layout in red, new layout in blue';

/** Undefined where one of the two is not a layout of ours. */
export function layoutOverlay(name: string, before: string, after: string): string | undefined {
  const [old, fresh] = [layerOf(before, BEFORE, 'old-'), layerOf(after, AFTER, 'new-')];
  if (old === undefined || fresh === undefined) return undefined;
  const left = Math.min(old.box[0], fresh.box[0]);
  const top = Math.min(old.box[1], fresh.box[1]);
  const right = Math.max(old.box[0] + old.box[2], fresh.box[0] + fresh.box[2]);
  const bottom = Math.max(old.box[1] + old.box[3], fresh.box[1] + fresh.box[3]);
  const [width, height] = [right - left, bottom - top];
  const line = height / 40;
  return html`<?xml version="1.0" encoding="UTF-8"?>
<svg xmlns="http://www.w3.org/2000/svg" version="1.1" role="img" aria-labelledby="overlay-title" width="${width}mm" height="${height + line}mm" viewBox="${left} ${top - line} ${width} ${height + line}" font-family="Arial, Helvetica, Liberation Sans, DejaVu Sans, sans-serif">
<title id="overlay-title">${name}: ${MEANING}</title>
<rect x="${left}" y="${top - line}" width="${width}" height="${height + line}" fill="#ffffff"/>
<text x="${left + line / 2}" y="${top - line / 3}" font-size="${line / 2}"><tspan fill="${BEFORE}">old</tspan> <tspan fill="${AFTER}">new</tspan> <tspan fill="${QUIET_INK}">${name}</tspan></text>
<g id="old" style="mix-blend-mode:multiply">
${trusted(old.content)}
</g>
<g id="new" style="mix-blend-mode:multiply">
${trusted(fresh.content)}
</g>
</svg>
`.text;
}

/** The drawing's shapes and texts in one colour, its ids made its own, the white sheet gone. */
function layerOf(svg: string, colour: string, prefix: string): Layer | undefined {
  const found =
    /<svg\b[^>]*\bviewBox="(-?[\d.]+) (-?[\d.]+) ([\d.]+) ([\d.]+)"[^>]*>([\s\S]*)<\/svg>\s*$/.exec(svg);
  if (found === null) return undefined;
  const box = found.slice(1, 5).map(Number) as unknown as Layer['box'];
  const content = found[5]!
    .replace(/<title\b[\s\S]*?<\/title>|<desc\b[\s\S]*?<\/desc>|<rect id="SHEET"[^>]*\/>/g, '')
    // areas in one dark colour would hide what lies on them
    .replace(/<g id="PATTERN_AREAS">\s*<g[^>]*>[\s\S]*?<\/g>\s*<\/g>/, '')
    .replace(/ (stroke|fill)="#[0-9a-fA-F]{3,8}"/g, ` $1="${colour}"`)
    .replace(/ id="/g, ` id="${prefix}`)
    .trim();
  return (content.match(/<[^>]*>?/g) ?? []).every(isDrawn) ? { box, content } : undefined;
}

/** Tags as layout-svg.ts writes them: the old layout comes from a file, and anything else in it has not been drawn. */
const DRAWN =
  /^<\/?(?:g|path|circle|text)(?: (?:id|d|c[xy]|r|[xy]|opacity|transform|fill|stroke[a-z-]*|data-id|font-size|text-anchor)="[^"<]*")*\/?>$/;
const isDrawn = (tag: string): boolean => DRAWN.test(tag);
