/** What is swapped for what: property names, functions of Math, words that a user reads, units at the end of a key. Data only. */

/** Each name with its opposite, both ways. */
const bothWays = (pairs: readonly (readonly [string, string])[]): ReadonlyMap<string, string> =>
  new Map(pairs.flatMap(([a, b]) => [[a, b] as const, [b, a] as const]));

export const PROPERTIES = bothWays([
  ['width', 'height'],
  ['inner', 'outer'],
  ['innerRadius', 'outerRadius'],
  ['from', 'to'],
  ['min', 'max'],
  ['least', 'most'],
  ['x', 'y'],
  ['rx', 'ry'],
  ['left', 'right'],
  ['top', 'bottom'],
  ['start', 'end'],
  ['first', 'last'],
  ['low', 'high'],
  ['before', 'after'],
  ['expected', 'allowed'],
]);

/** Functions of Math, and what stands in their place; an empty text leaves the argument alone. */
export const MATH: ReadonlyMap<string, string> = new Map([
  ...bothWays([
    ['min', 'max'],
    ['sin', 'cos'],
    ['asin', 'acos'],
    ['floor', 'ceil'],
  ]),
  ['tan', 'sin'],
  ['round', 'floor'],
  ['abs', ''],
  ['sqrt', ''],
]);

/** Words that point the wrong way when they are swapped. Longer ones stand before those that they contain. */
export const WORDS: readonly (readonly [string, string])[] = [
  ...bothWays([
    ['away from', 'toward'],
    ['counterclockwise', 'clockwise'],
    ['at least', 'at most'],
    ['interferometer side', 'part side'],
    ['left', 'right'],
    ['top', 'bottom'],
    ['upper', 'lower'],
    ['above', 'below'],
    ['inside', 'outside'],
    ['inner', 'outer'],
    ['before', 'after'],
    ['first', 'last'],
    ['more', 'less'],
    ['larger', 'smaller'],
    ['longer', 'shorter'],
    ['horizontal', 'vertical'],
    ['column', 'row'],
    ['width', 'height'],
    ['diameter', 'radius'],
    ['minimum', 'maximum'],
    ['min', 'max'],
    ['positive', 'negative'],
    ['error', 'warning'],
    ['waves', 'fringes'],
    ['even', 'odd'],
    ['opens', 'closes'],
    ['open out', 'close up'],
    ['start', 'end'],
    ['middle', 'edge'],
  ]),
  ['µm', 'mm'],
  ['um', 'mm'],
  ['mm', 'µm'],
  ['nm', 'µm'],
  ['mrad', 'µrad'],
  ['µrad', 'mrad'],
  ['urad', 'mrad'],
  ['deg', 'rad'],
  ['°', "'"],
];

/** Units that end a key of an output. */
export const KEY_UNITS: ReadonlyMap<string, string> = new Map([
  ['um', 'mm'],
  ['mm', 'um'],
  ['nm', 'um'],
  ['urad', 'mrad'],
  ['mrad', 'urad'],
  ['deg', 'rad'],
  ['waves', 'fringes'],
  ['fringes', 'waves'],
]);
