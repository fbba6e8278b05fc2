/**
 * `coefficients.html`: the coefficient table for a reader. What coefficients.csv means, in words and symbols, and for each patch its
 * closed form, polynomial, Zernike terms and roof, ten points to prove an implementation against, and a map of its period. One
 * self-contained page without scripts, to be printed on A4 or Letter. Phases waves at order 1, places mm, substrate frame.
 */

import type { Design } from '../../design/design.ts';
import { conventionLines, DRAFT_WORDS } from '../convention.ts';
import { viewStatement } from '../drawing/sheet/title-block.ts';
import { facts, html, page, table } from '../page/html.ts';
import { STYLE } from '../page/style.ts';
import { QUIET_INK } from '../palette.ts';
import type { Provenance } from '../provenance.ts';
import { faceWords, writtenAreas, zoneWords } from '../written-areas.ts';
import type { PatchTable } from './coefficients.ts';
import { patchCoefficients } from './patch-coefficients.ts';

/** What this sheet adds to the looks of the bench's sheet. */
const OWN_STYLE = `
section.patch { break-inside: auto; break-before: page; }
table.terms { font-size: 7.5pt; }
table.terms td, table.terms th { padding: 0.3mm 1.2mm; }
.formula { font-family: "Liberation Mono", "DejaVu Sans Mono", Consolas, monospace; font-size: 8.5pt; }
div.map { display: flex; gap: 6mm; align-items: flex-start; break-inside: avoid; }
div.map svg { width: 82mm; height: auto; flex: none; }
div.map table { width: auto; }
span.swatch { display: inline-block; width: 8mm; height: 3.5mm; border: 0.2mm solid ${QUIET_INK}; vertical-align: middle; }
`;

const SHEET_NAMES = {
  WRITTEN: 'Written areas',
  DEPTH: 'Depth',
  DENSITY: 'Optical density',
  WIDTH: 'Line width',
  DATA: 'Mirroring',
  'EDGE SHIFT': 'Edge shift',
  LAYERS: 'Layers',
} as const;

export function coefficientSheet(design: Design, tables: readonly PatchTable[], head: Provenance): string {
  const title = design.scenario.title || 'Reference patches';
  const { drawing, substrate } = design.scenario;
  return page(
    `${title}: coefficients of the phase`,
    STYLE + OWN_STYLE,
    html`${head.draft ? html`<p class="draft">${DRAFT_WORDS}</p>\n` : ''}<header>
<h1>${title}</h1>
<p>Coefficients of the phase, for the fabricator: ${design.main === undefined ? '' : 'the main pattern and '}${design.patches.length === 1 ? '1 patch' : `${design.patches.length} patches`}. The values are those of coefficients.csv, rounded for reading; coefficients.csv takes precedence.</p>
</header>
<main>
<h2>Phase convention</h2>
<p>${conventionLines(design).join(' ')}</p>
${facts([
  [
    'Phase',
    'Φ(x, y) in waves at order 1. In working order m the pattern adds the optical path m λ Φ to the light that leaves it.',
  ],
  [
    'Pattern',
    `Lines of equal Φ; pattern line k lies where Φ = k. ${zoneWords(design).replaceAll('Phi', 'Φ')}`,
  ],
  [
    'Order',
    'Φ is the same for every order. Do not multiply or divide it by the order when you write the pattern.',
  ],
  [
    'Polynomial',
    html`<span class="formula">Φ = Σ c · uⁱ · vʲ, u = (x − x₀)/R, v = (y − y₀)/R</span>, R the normalisation radius (where u² + v² = 1; not a diameter), x₀, y₀ the centre given with it.`,
  ],
  ...(tables.some(({ fit }) => fit.basis === 'radial')
    ? [
        [
          'Radial form',
          html`<span class="formula">Φ = Σ c · ρ²ⁱ, ρ = r/R</span>, r the distance from the centre given with it; it stands in place of the polynomial of a pattern that is the same all round.`,
        ] as const,
      ]
    : []),
  [
    'Zernike terms',
    html`<span class="formula">Φ = Σ c · Zⱼ(u, v)</span>, ISO 24157 order, angle from +x toward +y, each of unit root mean square over the disc; for circular patches only. They describe the same phase as the polynomial: use one or the other, never their sum.`,
  ],
  [
    'Roof',
    html`<span class="formula">B = c₀ · |c₁ u + c₂ v|</span>, to be added to the polynomial or to the Zernike terms. It has a crease, so neither contains it.`,
  ],
  ...writtenAreas(design, head.patternFiles).map(({ name, text }) => [SHEET_NAMES[name], text] as const),
  ['Acceptance', 'See fabrication.pdf.'],
  ['Patterned side', faceWords(design)],
  ['View', viewStatement(substrate.patternFaces)],
  [
    'Drawing',
    `layout.dxf, layout.svg, layout.pdf${drawing?.number ? `; number ${drawing.number}` : ''}${drawing?.revision ? `, revision ${drawing.revision}` : ''}`,
  ],
])}
<h2>Check your import</h2>
<p>Compute Φ from your imported table at the ten points of each patch. Every value must agree with the one listed within 0.001 waves; if one of the ten differs, the import is wrong.
If you return your table as CSV, <span class="formula">datumlight check SCENARIO --table TABLE</span> compares it with this design and names the likely mistake, such as a flipped sign or a diameter taken for a radius.</p>
<h2>All patches</h2>
${table(
  ['No.', 'Patch', 'Order', 'Degree', 'Terms', 'Zernike', 'Roof', 'Largest fit error, waves'],
  tables.map(({ patch, number, fit, zernike }) => [
    number,
    html`<a href="#patch-${number}">${patch.id}</a>`,
    patch.order > 0 ? `+${patch.order}` : patch.order,
    fit.degree,
    fit.terms.length,
    zernike === undefined ? '–' : zernike.coefficients.length,
    patch.bias?.shape === 'roof' ? 'yes' : '–',
    fit.residual.worst.toExponential(1),
  ]),
  [0, 2, 3, 4, 5, 7],
)}
${tables.map((own) => patchCoefficients(own))}
</main>
<footer>datumlight ${head.version}; coefficients.csv SHA-256 ${head.tableHash}; scenario SHA-256 ${head.scenarioHash}</footer>`,
  );
}
