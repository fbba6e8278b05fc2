/**
 * bench.svg read back from its text: the panels with their scale and view, and what is drawn in them, taken back to mm of the bench.
 * Knows nothing of how the drawing is made.
 */
export interface DrawnPanel {
  readonly view: string;
  readonly scale: number;
  /** mm of the bench: z to the right, x or y up. */
  readonly circles: readonly {
    readonly id: string;
    readonly at: readonly [number, number];
    readonly radius: number;
  }[];
  readonly paths: readonly { readonly id: string; readonly points: readonly (readonly [number, number])[] }[];
}

const attribute = (text: string, name: string): string =>
  new RegExp(`(?:^|\\s)${name}="([^"]*)"`).exec(text)?.[1] ?? '';

export function panelsOf(svg: string): readonly DrawnPanel[] {
  return [...svg.matchAll(/<svg (data-view[^>]*)>([\s\S]*?)<\/svg>/g)].map(([, head, body]) => {
    const scale = Number(attribute(head!, 'data-scale'));
    const circles = [...body!.matchAll(/<circle([^>]*)\/>/g)].map(([, text]) => ({
      id: attribute(text!, 'data-id'),
      at: [Number(attribute(text!, 'cx')) * scale, -Number(attribute(text!, 'cy')) * scale] as const,
      radius: Number(attribute(text!, 'r')) * scale,
    }));
    const paths = [...body!.matchAll(/<path([^>]*)\/>/g)].map(([, text]) => ({
      id: attribute(text!, 'data-id'),
      points: [...attribute(text!, 'd').matchAll(/(-?[\d.]+) (-?[\d.]+)/g)].map(
        ([, x, y]) => [Number(x) * scale, -Number(y) * scale] as const,
      ),
    }));
    return { view: attribute(head!, 'data-view'), scale, circles, paths };
  });
}

export interface DrawnText {
  readonly text: string;
  readonly left: number;
  readonly right: number;
  readonly top: number;
  readonly bottom: number;
}

/** Of a sans serif, per em: a mean letter is narrower, capitals and figures are about so wide. */
const EM_A_LETTER = 0.53;

/** Every upright text with the room it takes, mm on the page; nested panels taken to the page's coordinates. */
export function textsOf(svg: string): readonly DrawnText[] {
  const texts: DrawnText[] = [];
  let [dx, dy] = [0, 0];
  for (const [tag, head, , words] of svg.matchAll(/<(?:svg|\/svg|text)([^>]*)>(([^<]*)<\/text>)?/g)) {
    if (tag.startsWith('<svg data-view')) {
      const [left, top] = attribute(head!, 'viewBox').split(' ').map(Number);
      [dx, dy] = [Number(attribute(head!, 'x')) - left!, Number(attribute(head!, 'y')) - top!];
    } else if (tag.startsWith('</svg')) [dx, dy] = [0, 0];
    if (!tag.startsWith('<text') || head!.includes('rotate')) continue;
    const size = Number(attribute(head!, 'font-size'));
    const text = words!.replace(/&[a-z#0-9]+;/g, '?');
    const width = [...text].length * size * EM_A_LETTER;
    const x = Number(attribute(head!, 'x')) + dx;
    const before = { middle: width / 2, end: width }[attribute(head!, 'text-anchor')] ?? 0;
    const base = Number(attribute(head!, 'y')) + dy;
    texts.push({ text, left: x - before, right: x - before + width, top: base - 0.72 * size, bottom: base });
  }
  return texts;
}

export const overlaps = (texts: readonly DrawnText[]): readonly string[] =>
  texts.flatMap((a, k) =>
    texts
      .slice(k + 1)
      .filter((b) => a.left < b.right && b.left < a.right && a.top < b.bottom && b.top < a.bottom)
      .map((b) => `${a.text} | ${b.text}`),
  );
