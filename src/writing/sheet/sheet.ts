/**
 * `sheet.html`: the setup sheet for the bench. One self-contained page without scripts or anything fetched, to be printed on A4 or
 * Letter. The same design gives the same bytes. It says what report.json says, for a person; places in mm, substrate frame.
 */
import type { Design } from '../../design/design.ts';
import { type CameraOrientation, isPlain, PLAIN_ORIENTATION } from '../../scenario/camera-orientation.ts';
import type { BenchDrawing } from '../bench/bench-svg.ts';
import { conventionLines, DRAFT_WORDS } from '../convention.ts';
import { viewStatement } from '../drawing/sheet/title-block.ts';
import { type Html, html, page } from '../page/html.ts';
import { STYLE, titleInMargin } from '../page/style.ts';
import type { Provenance } from '../provenance.ts';
import type { Report } from '../report/report-form.ts';
import { budgetSection } from './budget-section.ts';
import { cautions } from './cautions.ts';
import { benchFigures, drawingFigure } from './drawing-figure.ts';
import { findingsList } from './findings-list.ts';
import { jobTable } from './job.ts';
import { orderOfWork } from './order-of-work.ts';
import { MOST_IN_DETAIL, patchSection } from './patch-section.ts';
import { patchTable } from './patch-table.ts';
import { referenceTables } from './reference-table.ts';
import { verb } from './step-lists.ts';
import { surfaceSection } from './surface-section.ts';
import { viewSection } from './view-section.ts';

interface Drawings {
  /** layout.svg and the bench of the same design. */
  readonly layout: string;
  readonly bench: BenchDrawing;
}

/** `report` is that of `reportOf` for the same design; pictures and clock directions are as the camera shows them. */
export function sheetHtml(
  design: Design,
  report: Report,
  head: Provenance,
  drawings: Drawings,
  orientation: CameraOrientation = PLAIN_ORIENTATION,
): string {
  const title = design.scenario.title || 'Reference patches';
  return page(
    `${title}: setup sheet`,
    STYLE + titleInMargin(title),
    html`${head.draft ? html`<p class="draft">${DRAFT_WORDS}</p>\n` : ''}<header>
<h1>${title}</h1>
<p>Setup sheet for the bench: ${counted(design.patches.length, 'patch', 'patches')}, ${counted(design.references.length, 'reference', 'references')}.</p>
</header>
<main>
<h2>Cautions</h2>
${cautions(design)}
<h2>Setup</h2>
${jobTable(design)}
<h2>Bench</h2>
${benchFigures(drawings.bench)}
<h2>Findings</h2>
${findingsList(report)}
<h2>Order of work</h2>
${orderOfWork(design, report)}
${viewSection(design, report.camera.orientation, orientation)}${surfaceSection(design, report, orientation)}<h2>References</h2>
${referenceTables(design, report)}
<h2>Patches</h2>
${patchTable(design, report)}
${patchDetails(design, report, orientation)}
<h2>Budget</h2>
${budgetSection(design, report)}
<h2>Frames and signs</h2>
<p>${conventionLines(design).join(' ')}</p>
<div class="whole">
<h2>Layout</h2>
${drawingFigure(drawings.layout, 'layout-', `${viewStatement(design.scenario.substrate.patternFaces)}. Reduced here; layout.pdf, layout.svg and layout.dxf are full scale.`)}
<footer>datumlight ${head.version}; scenario SHA-256 ${head.scenarioHash}</footer>
</div>
</main>`,
  );
}

const counted = (count: number, one: string, more: string): string => `${count} ${verb(count, one, more)}`;

function patchDetails(design: Design, report: Report, orientation: CameraOrientation): Html {
  const { patches } = design;
  if (patches.length > MOST_IN_DETAIL) {
    return html`<p>This sheet has no pictures for more than ${MOST_IN_DETAIL} patches; <code>datumlight fringes</code> makes them.</p>`;
  }
  // Screens send nothing back, and have no pictures.
  const pictured = report.patches.some(({ mark }) => mark === null);
  return html`${pictured ? pictureWords(orientation) : ''}
${patches.map((patch, k) => patchSection(design, patch, report.patches[k]!, k + 1, orientation))}`;
}

const pictureWords = (orientation: CameraOrientation): Html =>
  html`<p>Pictures are ${isPlain(orientation) ? 'seen from the interferometer' : 'as the camera shows them'}, bright where the light is in phase; directions are clock positions in them. Fringe counts beneath them
are changes from the aligned picture. The opposite move has the opposite effect. By ray tracing; <code>datumlight fringes --diffraction</code> includes diffraction, <code>--way-in</code> shows
how they change on the way in.</p>`;
