/**
 * `overview.html`: a batch at a glance, the layouts side by side as small multiples, each with its name, what varies and its worst
 * figures. The pictures are the packages' own layout.svg, fetched as they come into view, so the page lies where the packages lie.
 */

import { type Html, html, trusted } from '../page/html.ts';
import { type BatchRow, figureText, OUTCOME_WORDS } from './batch-row.ts';

const STYLE = `
* { box-sizing: border-box; }
body { margin: 0; padding: 16px; font: 14px/1.4 "Liberation Sans", Arial, Helvetica, "DejaVu Sans", sans-serif; background: #fff; color: #111; }
h1 { font-size: 20px; margin: 0 0 4px; }
ol { list-style: none; margin: 16px 0 0; padding: 0; display: grid; gap: 12px; grid-template-columns: repeat(auto-fill, minmax(240px, 1fr)); }
li { border: 1px solid #9aa0a6; padding: 8px; overflow-wrap: anywhere; break-inside: avoid; }
li.broken, li.unusable, li.fault { border: 2px solid #b3261e; }
h2 { font-size: 14px; margin: 0 0 4px; }
img { display: block; width: 100%; height: 200px; object-fit: contain; background: #fff; }
.none { height: 200px; display: flex; align-items: center; justify-content: center; background: #f6f7f8; color: #555; }
p { margin: 4px 0 0; font-size: 12px; }
.bad { color: #b3261e; font-weight: 600; }
a { color: inherit; }
`;

export function overviewPage(rows: readonly BatchRow[]): string {
  const count = (outcome: BatchRow['outcome']): number =>
    rows.filter((row) => row.outcome === outcome).length;
  const tally = (['fine', 'broken', 'unusable', 'fault'] as const)
    .filter((outcome) => count(outcome) > 0)
    .map((outcome) => `${count(outcome)} ${OUTCOME_WORDS[outcome]}`);
  const varied = variedParameters(rows);
  return html`<!DOCTYPE html>
<html lang="en">
<head>
<meta charset="utf-8">
<meta name="viewport" content="width=device-width, initial-scale=1">
<title>Batch: ${rows.length} layouts</title>
<style>${trusted(STYLE)}</style>
</head>
<body>
<h1>${rows.length} layouts</h1>
<p>${tally.join(', ')}. The same figures stand in <a href="summary.csv">summary.csv</a>.</p>
<ol>
${rows.map((row) => tile(row, varied))}</ol>
</body>
</html>
`.text;
}

function tile(row: BatchRow, varied: ReadonlySet<string>): Html {
  const folder = row.name.split('/').map(encodeURIComponent).join('/');
  const values = row.parameters
    .filter(({ name }) => varied.has(name))
    .map(({ name, value, unit }) => `${name} = ${figureText(value)} ${unit}`.trim());
  const picture = row.written
    ? html`<a href="${folder}/sheet.html"><img loading="lazy" src="${folder}/layout.svg" alt="Layout of ${row.name}"></a>`
    : html`<div class="none">no package</div>`;
  const figures = [
    row.minPeriod_um === null ? '' : `least period ${figureText(row.minPeriod_um)} µm`,
    row.worstResolution_um === null ? '' : `worst resolution ${figureText(row.worstResolution_um)} µm`,
    row.worstSigma_um === null ? '' : `worst sigma ${figureText(row.worstSigma_um)} µm`,
  ].filter((text) => text !== '');
  const bad =
    row.outcome === 'fine'
      ? undefined
      : html`<p class="bad">${OUTCOME_WORDS[row.outcome]}: ${row.rules.join(', ')}</p>`;
  return html`<li class="${row.outcome}"><h2>${row.name}</h2>${picture}${bad}<p>${values.join(', ')}</p><p>${figures.join(', ')}</p></li>
`;
}

/** Parameters that are not the same in all rows that have them: what a reader compares the layouts by. */
function variedParameters(rows: readonly BatchRow[]): ReadonlySet<string> {
  const first = new Map<string, string>();
  const varied = new Set<string>();
  for (const row of rows) {
    for (const { name, value, unit } of row.parameters) {
      const seen = first.get(name) ?? `${value} ${unit}`;
      first.set(name, seen);
      if (seen !== `${value} ${unit}`) varied.add(name);
    }
  }
  return varied;
}
