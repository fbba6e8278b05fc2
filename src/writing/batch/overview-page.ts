/**
 * `overview.html`: the layouts of a batch side by side, each with its name, the parameters that vary and its worst figures. The
 * pictures are the packages' own layout.svg, loaded as they come into view, so the page belongs beside the packages.
 */

import { type Html, html, page } from '../page/html.ts';
import { FACT_FILL, INK, QUIET_INK, RED, RULE } from '../palette.ts';
import { type BatchRow, figureText, OUTCOME_WORDS } from './batch-row.ts';
import { parametersIn, type SeenParameter, sweptPlots } from './swept-plots.ts';

const STYLE = `
* { box-sizing: border-box; }
body { margin: 0; padding: 16px; font: 14px/1.4 "Liberation Sans", Arial, Helvetica, "DejaVu Sans", sans-serif; background: #fff; color: ${INK}; }
h1 { font-size: 20px; margin: 0 0 4px; }
ol { list-style: none; margin: 16px 0 0; padding: 0; display: grid; gap: 12px; grid-template-columns: repeat(auto-fill, minmax(240px, 1fr)); }
li { border: 1px solid ${RULE}; padding: 8px; overflow-wrap: anywhere; break-inside: avoid; }
li.broken, li.unusable, li.fault { border: 2px solid ${RED}; }
h2 { font-size: 14px; margin: 0 0 4px; }
img { display: block; width: 100%; height: 200px; object-fit: contain; background: #fff; }
.none { height: 200px; display: flex; align-items: center; justify-content: center; background: ${FACT_FILL}; color: ${QUIET_INK}; }
p { margin: 4px 0 0; font-size: 12px; }
.bad { color: ${RED}; font-weight: 600; }
a { color: inherit; }
.plots { display: flex; flex-wrap: wrap; gap: 12px; margin-top: 12px; }
.plots figure { margin: 0; }
.plots svg { width: 260px; height: auto; display: block; }
.plots figcaption { font-size: 12px; }
`;

export function overviewPage(rows: readonly BatchRow[]): string {
  const count = (outcome: BatchRow['outcome']): number =>
    rows.filter((row) => row.outcome === outcome).length;
  const tally = (['fine', 'broken', 'unusable', 'fault'] as const)
    .filter((outcome) => count(outcome) > 0)
    .map((outcome) => `${count(outcome)} ${OUTCOME_WORDS[outcome]}`);
  const varied = variedNames(rows);
  return page(
    `Batch: ${rows.length} layouts`,
    STYLE,
    html`<h1>${rows.length} layouts</h1>
<p>${tally.join(', ')}. All digits are in <a href="summary.csv">summary.csv</a>.</p>
${sweptPlots(rows)}
<ol>
${rows.map((row) => tile(row, varied))}</ol>`,
  );
}

function tile(row: BatchRow, varied: ReadonlySet<string>): Html {
  const folder = row.name.split('/').map(encodeURIComponent).join('/');
  const values = row.parameters
    .filter(({ name }) => varied.has(name))
    .map(({ name, value, unit }) => `${name} = ${figureText(value)} ${unit}`.trim());
  const picture = row.written
    ? html`<a href="${folder}/sheet.html"><img loading="lazy" src="${folder}/layout.svg${holograms(row)}" alt="The hologram of ${row.name}, seen from the part side"></a>`
    : html`<div class="none">no package</div>`;
  const figures = [
    row.minPeriod_um === null ? '' : `minimum period ${figureText(row.minPeriod_um, SHORT)} µm`,
    row.worstResolution_um === null ? '' : `coarsest reading ${figureText(row.worstResolution_um, SHORT)} µm`,
    row.worstSigma_um === null ? '' : `largest sigma ${figureText(row.worstSigma_um, SHORT)} µm`,
  ].filter((text) => text !== '');
  const bad =
    row.outcome === 'fine'
      ? undefined
      : html`<p class="bad">${OUTCOME_WORDS[row.outcome]}: ${row.rules.join(', ')}</p>`;
  return html`<li class="${row.outcome}"><h2>${row.name}</h2>${picture}${bad}<p>${values.join(', ')}</p><p>${figures.join(', ')}</p></li>
`;
}

/** Of a figure that is compared by eye. */
const SHORT = 3;

/** Room around the substrate in its picture, of its longer side. */
const MARGIN = 0.06;

/** The part of a drawing that shows the hologram alone, as an SVG view; the drawing's y runs down. */
function holograms({ extent_mm: extent }: BatchRow): string {
  if (extent === null) return '';
  const [minX, minY, maxX, maxY] = extent;
  const margin = MARGIN * Math.max(maxX - minX, maxY - minY);
  const box = [minX - margin, -maxY - margin, maxX - minX + 2 * margin, maxY - minY + 2 * margin];
  return `#svgView(viewBox(${box.map((side) => Number(side.toFixed(3)) + 0).join(',')}))`;
}

/** Names of parameters that are not the same in all rows that have them: what a reader compares the layouts by. */
function variedNames(rows: readonly BatchRow[]): ReadonlySet<string> {
  const all = parametersIn(rows);
  const isVaried = ({ name, values }: SeenParameter): boolean =>
    values.size > 1 || all.some((other) => other.name === name && other.values !== values);
  return new Set(all.filter(isVaried).map(({ name }) => name));
}
