/**
 * bench.svg read back by layers, as an eye sees it: every stroke and every name of a panel in the panel's own mm on paper, y up, and
 * what the panel shows of it. Knows nothing of how the drawing is made.
 */
export type Point = readonly [number, number];

export interface Stroke {
  readonly layer: string;
  readonly id: string;
  /** A closed shape ends where it begins; a circle as a polygon of 0.1 mm or less off it. */
  readonly points: readonly Point[];
}

export interface Box {
  readonly left: number;
  readonly right: number;
  readonly bottom: number;
  readonly top: number;
}

export interface Name extends Box {
  readonly text: string;
}

export interface LayeredPanel {
  readonly view: string;
  readonly scale: number;
  readonly heading: string;
  readonly seen: Box;
  readonly strokes: readonly Stroke[];
  readonly names: readonly Name[];
  readonly leaders: readonly (readonly Point[])[];
}

const attribute = (text: string, name: string): string =>
  new RegExp(`(?:^|\\s)${name}="([^"]*)"`).exec(text)?.[1] ?? '';

const pointsOf = (d: string): Point[] => {
  const points = [...d.matchAll(/(-?[\d.]+) (-?[\d.]+)/g)].map(([, x, y]): Point => [Number(x), -Number(y)]);
  return d.includes('Z') ? [...points, points[0]!] : points;
};

function circleOf(text: string): Point[] {
  const [x, y, r] = ['cx', 'cy', 'r'].map((name) => Number(attribute(text, name))) as [
    number,
    number,
    number,
  ];
  return Array.from({ length: 65 }, (_, k): Point => {
    const angle = (2 * Math.PI * k) / 64;
    return [x + r * Math.cos(angle), -y + r * Math.sin(angle)];
  });
}

/** A mean letter of a sans serif is narrower than so many em. */
const EM_A_LETTER = 0.53;
/** Height of capitals, in em. */
const CAPITALS = 0.72;

function nameOf(head: string, words: string): Name {
  const size = Number(attribute(head, 'font-size'));
  const text = words.replace(/&[a-z#0-9]+;/g, '?');
  const width = [...text].length * size * EM_A_LETTER;
  const before = { middle: width / 2, end: width }[attribute(head, 'text-anchor')] ?? 0;
  const [x, base] = [Number(attribute(head, 'x')), -Number(attribute(head, 'y'))];
  return { text, left: x - before, right: x - before + width, bottom: base, top: base + CAPITALS * size };
}

export function layersOf(svg: string): readonly LayeredPanel[] {
  return [
    ...svg.matchAll(/<g>\n<text[^>]*>([^<]*)<\/text>[\s\S]*?<svg (data-view[^>]*)>([\s\S]*?)<\/svg>/g),
  ].map(([, heading, head, body]) => {
    const [left, top, width, height] = attribute(head!, 'viewBox').split(' ').map(Number) as number[];
    const groups = [...body!.matchAll(/<g data-layer="(\w+)"[^>]*>([\s\S]*?)<\/g>/g)];
    const strokes = groups.flatMap(([, layer, shapes]) =>
      [...shapes!.matchAll(/<(path|circle)([^>]*)\/>/g)].map(([, tag, text]): Stroke => {
        const points = tag === 'circle' ? circleOf(text!) : pointsOf(attribute(text!, 'd'));
        return { layer: layer!, id: attribute(text!, 'data-id'), points };
      }),
    );
    const rest = body!.replace(/<g data-layer[\s\S]*?<\/g>/g, '');
    return {
      view: attribute(head!, 'data-view'),
      scale: Number(attribute(head!, 'data-scale')),
      heading: heading!,
      seen: { left: left!, right: left! + width!, bottom: -top! - height!, top: -top! },
      strokes,
      names: [...rest.matchAll(/<text([^>]*)>([^<]*)<\/text>/g)].map(([, own, words]) =>
        nameOf(own!, words!),
      ),
      leaders: [...rest.matchAll(/<path([^>]*)\/>/g)].map(([, own]) => pointsOf(attribute(own!, 'd'))),
    };
  });
}

/** Words of the legend, each after its sample. */
export function legendOf(svg: string): readonly string[] {
  const legend = svg.slice(svg.indexOf('data-legend='));
  return [...legend.matchAll(/<\/g><text[^>]*>([^<]*)<\/text>/g)].map(([, words]) => words!);
}

/** Points along a stroke, no farther from each other than `step`, mm on paper. */
export function along(points: readonly Point[], step: number): Point[] {
  return points.slice(1).flatMap((to, k): Point[] => {
    const from = points[k]!;
    const count = Math.min(1e4, Math.ceil(Math.hypot(to[0] - from[0], to[1] - from[1]) / step));
    return Array.from({ length: count + 1 }, (_, i) => [
      from[0] + ((to[0] - from[0]) * i) / Math.max(1, count),
      from[1] + ((to[1] - from[1]) * i) / Math.max(1, count),
    ]);
  });
}

export const isIn = ({ left, right, bottom, top }: Box, [x, y]: Point): boolean =>
  x > left && x < right && y > bottom && y < top;
