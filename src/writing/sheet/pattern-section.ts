/** What the sheet says of the pattern files in the package: their layers, unit, cells and counts. */

import { significant } from '../page/figures.ts';
import { type Html, html } from '../page/html.ts';
import type { PatternReport } from '../pattern/pattern-files.ts';
import { edgeShiftWords, sliverWords } from '../pattern/pattern-notes.ts';

export function patternSection(pattern: PatternReport | undefined): Html {
  if (pattern === undefined) return html``;
  const thinned = pattern.thinned
    ? html`<p class="draft">THINNED: A PICTURE, NOT FOR FABRICATION</p>`
    : html``;
  return html`<h2>Pattern files</h2>
${thinned}<table><thead><tr><th>Layer</th><th>Datatype</th><th>Contents</th></tr></thead><tbody>
${pattern.layers.map(({ layer, datatype, meaning }) => html`<tr><td class="number">${layer}</td><td class="number">${datatype}</td><td>${meaning}</td></tr>\n`)}</tbody></table>
<p>Edge shift: ${edgeShiftWords(pattern.edgeShift_um, 'µm')}. Coordinates are ${pattern.mirrored ? 'mirrored, x to −x of the substrate frame: as the writer sees the patterned surface, not to be mirrored again' : 'in the substrate frame, seen from the part side'}.</p>
${pattern.files.map(
  ({ file, topCell, databaseUnit_um, patches }) => html`<h3>${file}</h3>
<p>Slivers: ${sliverWords(
    patches.reduce((sum, { slivers }) => sum + slivers, 0),
    pattern.slivers,
    pattern.minFeature_um,
    'µm',
  )}.</p>
<p>Top cell ${topCell}; database unit ${significant(databaseUnit_um)} µm.</p>
<table><thead><tr><th>Patch</th><th>Cell</th><th>Polygons</th><th>Vertices</th><th>Slivers</th><th>Area, mm²</th><th>Edge error bound, nm</th></tr></thead><tbody>
${patches.map(
  (patch) =>
    html`<tr><td>${patch.id}</td><td>${patch.cell}</td><td class="number">${patch.polygons}</td><td class="number">${patch.vertices}</td><td class="number">${patch.slivers}</td><td class="number">${patch.area_mm2.toFixed(6)}</td><td class="number">${significant(patch.bound_nm)}</td></tr>\n`,
)}</tbody></table>
`,
)}`;
}
