/**
 * The words of a drawing as its three files bring them, where they stand (mm, y up, the anchor of each text) and whether they are
 * turned; signs that DXF lacks are written as it writes them (x for ×, - for –, u for µ). And tables read from where the words stand.
 */
import type { PatchWords } from '../../independent/scene.ts';
import { firstOf, readDxf, readXml, valuesOf } from './drawing-readers.ts';

export interface DrawnWord {
  readonly text: string;
  readonly x: number;
  readonly y: number;
  /** Read from the right. */
  readonly turned: boolean;
  readonly layer: string;
}

const LIKE_DXF: Readonly<Record<string, string>> = { '×': 'x', '–': '-', '−': '-', µ: 'u' };
const plain = (text: string): string => text.replace(/[×–−µ]/g, (sign) => LIKE_DXF[sign]!);

export const svgWords = (svg: string): DrawnWord[] =>
  readXml(svg)
    .filter(({ name }) => name === 'text')
    .map(({ text, attributes, groups }) => ({
      text: plain(text),
      x: Number(attributes.get('x')),
      y: 0 - Number(attributes.get('y')),
      turned: attributes.get('transform')?.startsWith('rotate(-90') ?? false,
      layer: groups[0]!,
    }));

export const dxfWords = (dxf: string): DrawnWord[] =>
  readDxf(dxf)
    .entities.filter(({ type }) => type === 'TEXT')
    .map((entity) => ({
      text: firstOf(entity, 1).replaceAll('%%c', 'Ø').replaceAll('%%d', '°').replaceAll('%%p', '±'),
      x: Number(firstOf(entity, 10)),
      y: Number(firstOf(entity, 20)),
      turned: Math.abs(Number(valuesOf(entity, 50)[0] ?? 0) - 90) < 1e-9,
      layer: firstOf(entity, 8),
    }));

/** Of the PDF the words alone, layer by layer as SVG has them: by its own map from codes to letters. */
export function pdfWords(pdf: string): string[] {
  const letters = new Map(
    [...pdf.matchAll(/^<([0-9a-f]{4})> <([0-9a-f]+)>$/gm)].map(([, code, units]) => [
      code,
      Buffer.from(units!, 'hex').swap16().toString('utf16le'),
    ]),
  );
  return [...pdf.matchAll(/^BT .*? Tm .*<([0-9a-f]*)> Tj ET$/gm)].map(([, shown]) =>
    plain((shown!.match(/.{4}/g) ?? []).map((code) => letters.get(code)!).join('')),
  );
}

/** Rows of the table whose first column is headed so: each by the heads over its columns, words of one cell joined in their order. */
export function tableUnder(words: readonly DrawnWord[], first: string): Record<string, string>[] {
  const corner = words.find(({ text }) => text === first);
  if (corner === undefined) throw new Error(`no table with a column ${first}`);
  const block = words.find(({ text }) => text === 'TITLE')!.x;
  const own = words.filter(
    ({ layer, turned, x }) => layer === corner.layer && !turned && (corner.x >= block || x < block),
  );
  const numbers = own.filter(({ x, y, text }) => x === corner.x && y < corner.y && /^\d+$/.test(text));
  const tops = numbers.map(({ y }) => y).sort((a, b) => b - a);
  const columns = [...new Set(own.filter(({ y }) => y === corner.y).map(({ x }) => x))].sort((a, b) => a - b);
  const join = (cell: readonly DrawnWord[]): string =>
    [...cell]
      .sort((a, b) => b.y - a.y)
      .map(({ text }) => text)
      .join(' ');
  const heads = columns.map((x) =>
    join(own.filter((word) => word.x === x && word.y <= corner.y && word.y > tops[0]!)),
  );
  return tops.map((top, row) => {
    const below = tops[row + 1] ?? Number.NEGATIVE_INFINITY;
    const inRow = own.filter(({ y }) => y <= top && y > below && y > top - DEEPEST_ROW);
    return Object.fromEntries(columns.map((x, k) => [heads[k]!, join(inRow.filter((word) => word.x === x))]));
  });
}

/** mm: the last row of a table ends with it, and not with what stands below. */
const DEEPEST_ROW = 40;

/** Fields of a title block: the words beside each name, to the next name. */
export function fieldsBeside(words: readonly DrawnWord[], first: string): ReadonlyMap<string, string> {
  const corner = words.find(({ text }) => text === first);
  if (corner === undefined) throw new Error(`no title block with a field ${first}`);
  const lines = words
    .filter(({ layer, x }) => layer === corner.layer && x >= corner.x)
    .sort((a, b) => b.y - a.y || a.x - b.x);
  const fields = new Map<string, string>();
  let name = '';
  for (const { text, x } of lines) {
    if (x === corner.x) name = text;
    else fields.set(name, `${fields.get(name) ?? ''} ${text}`.trim());
  }
  return fields;
}

export const numbersIn = (text: string): number[] => (text.match(/-?\d+(?:\.\d+)?/g) ?? []).map(Number);

/** What the table says of a size, by the words of the scene: Ø, width before height, a turn, corners. */
export function sizeOf({ outline, centre }: PatchWords): { form: RegExp; numbers: readonly number[] } {
  const { circle, rectangle, ring, polygon } = outline;
  if (circle) return { form: /^Ø[\d.]+$/, numbers: [circle.diameter] };
  if (ring) return { form: /^ring Ø[\d.]+ to Ø[\d.]+$/, numbers: [ring.inner, ring.outer] };
  if (rectangle) {
    const { width, height, rotation = 0 } = rectangle;
    return rotation === 0
      ? { form: /^[\d.]+ x [\d.]+$/, numbers: [width, height] }
      : { form: /^[\d.]+ x [\d.]+ at -?[\d.]+°$/, numbers: [width, height, rotation] };
  }
  return {
    form: /^polygon(?: \([-\d.]+,[-\d.]+\))+$/,
    numbers: polygon!.points.flatMap(([x, y]) => [x + centre[0], y + centre[1]]),
  };
}
