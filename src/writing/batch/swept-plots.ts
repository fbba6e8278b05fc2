/**
 * Plots of a batch's figures over what was swept: one for each figure and each numeric parameter that varies. A dot is a layout
 * without errors, a cross one that breaks a rule; wishes are not drawn. Axes run from the least to the largest value.
 */
import { type Html, html } from '../page/html.ts';
import { GREY, INK, RED } from '../palette.ts';
import type { BatchRow } from './batch-row.ts';

const FIGURES = [
  ['minPeriod_um', 'minimum period, µm'],
  ['worstResolution_um', 'coarsest reading, µm'],
  ['worstSigma_um', 'largest sigma of a reference, µm'],
  ['partTranslation_um', 'largest sigma of the part, µm'],
  ['partRotation_urad', 'largest sigma of the part, µrad'],
] as const;

/** More would be no overview. */
const MOST_PARAMETERS = 4;
/** User units of a plot: its size, and the room for its axes. */
const [WIDTH, HEIGHT] = [260, 150];
const [LEFT, RIGHT, TOP, BOTTOM] = [46, 10, 8, 30];

interface Point {
  readonly x: number;
  readonly y: number;
  readonly name: string;
  readonly isFine: boolean;
}

/** Nothing where no parameter has two values. */
export function sweptPlots(rows: readonly BatchRow[]): Html | undefined {
  const swept = parametersIn(rows).filter(({ values }) => values.size > 1);
  const plots = swept.slice(0, MOST_PARAMETERS).flatMap(({ name, unit }) =>
    FIGURES.flatMap(([figure, words]) => {
      const points = rows.flatMap((row): Point[] => {
        const x = row.parameters.find(
          (parameter) => parameter.name === name && parameter.unit === unit,
        )?.value;
        const y = row[figure];
        return x === undefined || y === null
          ? []
          : [{ x, y, name: row.name, isFine: row.outcome === 'fine' }];
      });
      return points.length < 2 ? [] : [plot(points, unit === '' ? name : `${name}, ${unit}`, words)];
    }),
  );
  return plots.length === 0 ? undefined : html`<div class="plots">\n${plots}</div>`;
}

export interface SeenParameter {
  readonly name: string;
  readonly unit: string;
  readonly values: ReadonlySet<number>;
}

/** Every parameter of the rows by name and unit, with the values that it takes. */
export function parametersIn(rows: readonly BatchRow[]): readonly SeenParameter[] {
  const seen = new Map<string, SeenParameter & { readonly values: Set<number> }>();
  for (const { name, unit, value } of rows.flatMap(({ parameters }) => parameters)) {
    const known = seen.get(`${name} ${unit}`) ?? { name, unit, values: new Set() };
    seen.set(`${name} ${unit}`, known);
    known.values.add(value);
  }
  return [...seen.values()];
}

function plot(points: readonly Point[], over: string, figure: string): Html {
  const [x0, x1] = rangeOf(points.map(({ x }) => x));
  const [y0, y1] = rangeOf(points.map(({ y }) => y));
  const across = (x: number): number => round(LEFT + ((x - x0) / (x1 - x0 || 1)) * (WIDTH - LEFT - RIGHT));
  const up = (y: number): number =>
    round(HEIGHT - BOTTOM - ((y - y0) / (y1 - y0 || 1)) * (HEIGHT - TOP - BOTTOM));
  const [[first, last], [low, high]] = [ends(x0, x1), ends(y0, y1)];
  const [floor, right] = [HEIGHT - BOTTOM, WIDTH - RIGHT];
  const label = (x: number, y: number, anchor: string, words: string | number): Html =>
    html`<text x="${x}" y="${y}" text-anchor="${anchor}">${words}</text>`;
  return html`<figure><svg viewBox="0 0 ${WIDTH} ${HEIGHT}" role="img" aria-label="${figure} over ${over}" font-size="10" fill="${INK}">
<path d="M${LEFT} ${TOP}V${floor}H${right}" fill="none" stroke="${GREY}"/>
${label(LEFT - 4, floor, 'end', low)}${y1 > y0 ? label(LEFT - 4, TOP + 8, 'end', high) : undefined}
${label(LEFT, floor + 12, 'start', first)}${label(right, floor + 12, 'end', last)}${label((LEFT + right) / 2, HEIGHT - 4, 'middle', over)}
${points.map((point) => mark(across(point.x), up(point.y), point))}</svg><figcaption>${figure}</figcaption></figure>
`;
}

const mark = (x: number, y: number, { name, isFine }: Point): Html =>
  isFine
    ? html`<circle cx="${x}" cy="${y}" r="2.5"><title>${name}</title></circle>\n`
    : html`<path d="M${x - 3} ${y - 3}l6 6m0 -6l-6 6" stroke="${RED}" stroke-width="1.5"><title>${name}: broken</title></path>\n`;

function rangeOf(values: readonly number[]): readonly [number, number] {
  return values.reduce<[number, number]>(
    ([least, most], value) => [Math.min(least, value), Math.max(most, value)],
    [Infinity, -Infinity],
  );
}

const round = (value: number): number => Number(value.toFixed(1));
/** The ends of an axis: three digits, or as many as tell them apart. */
function ends(least: number, most: number): readonly [number, number] {
  const larger = Math.max(Math.abs(least), Math.abs(most));
  const digits = most > least ? Math.ceil(Math.log10(larger / (most - least))) + 2 : 3;
  const shown = (value: number): number => Number(value.toPrecision(Math.min(Math.max(digits, 3), 12))) + 0;
  return [shown(least), shown(most)];
}
