/**
 * `coefficients.html`: the coefficient table for a reader. What coefficients.csv means, in words and symbols, and for each patch its
 * closed form, polynomial, Zernike terms and roof, ten points to prove an implementation against, and a map of its period. One
 * self-contained page without scripts, to be printed on A4 or Letter. Phases waves at order 1, places mm, substrate frame.
 */
import type { Design } from '../../design/design.ts';
import { conventionLines } from '../convention.ts';
import { DRAFT_WORDS, viewStatement } from '../drawing/sheet/title-block.ts';
import { facts, html, table, trusted } from '../page/html.ts';
import { STYLE } from '../page/style.ts';
import type { Provenance } from '../provenance.ts';
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
span.swatch { display: inline-block; width: 8mm; height: 3.5mm; border: 0.2mm solid #555; vertical-align: middle; }
`;

export function coefficientSheet(design: Design, tables: readonly PatchTable[], head: Provenance): string {
  const title = design.scenario.title || 'Reference patches';
  const { process, substrate } = design.scenario;
  const { drawing } = design.scenario;
  return html`<!DOCTYPE html>
<html lang="en">
<head>
<meta charset="utf-8">
<meta name="viewport" content="width=device-width, initial-scale=1">
<title>${title}: coefficients of the phase</title>
<style>${trusted(STYLE)}${trusted(OWN_STYLE)}</style>
</head>
<body>
${head.draft ? html`<p class="draft">${DRAFT_WORDS}</p>\n` : ''}<header>
<h1>${title}</h1>
<p>Coefficients of the phase, for the fabricator: ${tables.length} patches. The figures are those of coefficients.csv, rounded for reading: the file governs.</p>
</header>
<main>
<h2>What the phase is</h2>
<p>${conventionLines(design).join(' ')}</p>
${facts([
  [
    'Phase',
    'Φ(x, y) in waves at order 1. It grows where light of the working order has to arrive later: the path of the light that leaves is longer by m λ Φ.',
  ],
  [
    'Pattern',
    `Lines of equal Φ; fringe k lies where Φ = k. Written where the fractional part of Φ is under the duty cycle, ${process.dutyCycle}.`,
  ],
  [
    'Order',
    'The same Φ for every order: it is not to be multiplied or divided by the order when it is written.',
  ],
  [
    'Polynomial',
    html`<span class="formula">Φ = Σ c · uⁱ · vʲ, u = (x − x₀)/R, v = (y − y₀)/R</span>, R the normalisation radius (not a diameter), x₀, y₀ the centre given with it.`,
  ],
  [
    'Zernike terms',
    html`<span class="formula">Φ = Σ c · Zⱼ(u, v)</span>, ISO 24157 order, angle from +x toward +y, each of unit root mean square over the disc; of round patches only, another way to write the same phase, not to be added to the polynomial.`,
  ],
  [
    'Roof',
    html`<span class="formula">B = c₀ · |c₁ u + c₂ v|</span>, to be added to either. It has a crease and is in neither.`,
  ],
  ['View', viewStatement(substrate.patternFaces)],
  [
    'Drawing',
    `layout.dxf, layout.svg, layout.pdf${drawing?.number ? `; number ${drawing.number}` : ''}${drawing?.revision ? `, revision ${drawing.revision}` : ''}`,
  ],
])}
<h2>Prove your own reading</h2>
<p>Compute Φ from your import at the ten points of each patch: it has to come to the figures there within 0.001 waves, all of them. Nine right and one wrong is a wrong table.
Send your table back as CSV, and <span class="formula">datumlight check SCENARIO --table TABLE</span> tells whether it still means this, and if not, what was taken for what.</p>
<h2>All patches</h2>
${table(
  ['No.', 'Patch', 'Order', 'Degree', 'Terms', 'Zernike', 'Roof', 'Fit within, waves'],
  tables.map(({ patch, fit, zernike }, k) => [
    k + 1,
    html`<a href="#patch-${k + 1}">${patch.id}</a>`,
    patch.order > 0 ? `+${patch.order}` : patch.order,
    fit.degree,
    fit.terms.length,
    zernike === undefined ? '–' : zernike.coefficients.length,
    patch.bias?.shape === 'roof' ? 'yes' : '–',
    fit.residual.worst.toExponential(1),
  ]),
  [0, 2, 3, 4, 5, 7],
)}
${tables.map((own, k) => patchCoefficients(own, k + 1))}
</main>
<footer>datumlight ${head.version}; coefficients.csv SHA-256 ${head.tableHash}; scenario SHA-256 ${head.scenarioHash}</footer>
</body>
</html>
`.text;
}
