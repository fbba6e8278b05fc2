/**
 * `sheet.html`: the setup sheet for the bench. One self-contained page without scripts or anything fetched, to be printed on A4 or
 * Letter. The same design gives the same bytes. It says what report.json says, for a person; places in mm, substrate frame.
 */
import type { Design } from '../../design/design.ts';
import { conventionLines } from '../convention.ts';
import { DRAFT_WORDS, viewStatement } from '../drawing/title-block.ts';
import type { ReportHead } from '../report.ts';
import { cautions } from './cautions.ts';
import { drawingFigure } from './drawing-figure.ts';
import { findingsList } from './findings-list.ts';
import { html, trusted } from './html.ts';
import { jobTable } from './job.ts';
import { patchSection } from './patch-section.ts';
import { referenceTable } from './reference-table.ts';
import { asReported } from './reported.ts';
import { STYLE } from './style.ts';

/** `report` is that of `reportOf` for the same design; `svg` its layout drawing. */
export function sheetHtml(
  design: Design,
  report: Record<string, unknown>,
  head: ReportHead,
  svg: string,
): string {
  const reported = asReported(report);
  const title = design.scenario.title || 'Reference patches';
  return html`<!DOCTYPE html>
<html lang="en">
<head>
<meta charset="utf-8">
<meta name="viewport" content="width=device-width, initial-scale=1">
<title>${title}: setup sheet</title>
<style>${trusted(STYLE)}</style>
</head>
<body>
${head.draft ? html`<p class="draft">${DRAFT_WORDS}</p>\n` : ''}<header>
<h1>${title}</h1>
<p>Setup sheet for the bench: ${design.patches.length} patches, ${design.references.length} references.</p>
</header>
<main>
<h2>Cautions</h2>
${cautions(design)}
<h2>The job</h2>
${jobTable(design)}
<h2>What was found</h2>
${findingsList(reported)}
<h2>Layout</h2>
${drawingFigure(svg, 'layout-', `${viewStatement(design.scenario.substrate.patternFaces)}. Not to scale here; layout.svg and layout.dxf are at true scale.`)}
<h2>References</h2>
<p>Ball centres, cube apexes and spots as designed, mm: x, y, z in the substrate frame, then in the part frame.</p>
${referenceTable(design)}
<h2>Patches</h2>
${design.patches.map((patch, k) => patchSection(design, patch, reported.patches[k]!, k + 1))}
<h2>Frames and signs</h2>
<p>${conventionLines(design).join(' ')}</p>
</main>
<footer>datumlight ${head.version}; scenario SHA-256 ${head.scenarioHash}</footer>
</body>
</html>
`.text;
}
