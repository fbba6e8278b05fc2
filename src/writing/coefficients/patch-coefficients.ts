/** What the coefficient sheet says of one patch. Waves at order 1, mm. */
import type { DesignedPattern } from '../../design/design.ts';
import { periodRange } from '../../design/period-range.ts';
import { polynomialPhases } from '../../design/phase-fit.ts';
import { kindOf } from '../../kinds/kinds.ts';
import { zernikeOrdersFromIndex } from '../../optics/zernike.ts';
import { fixed, trimmed } from '../../quantity/format.ts';
import { placedOutlineText } from '../drawing/sheet/patch-table.ts';
import { facts, type Html, html, table, trusted } from '../page/html.ts';
import { type PatchTable, roofTerms } from './coefficients.ts';
import { periodMap } from './period-map.ts';
import { periodField, phaseField } from './phase-columns.ts';
import { samplesOf } from './samples.ts';

const PLACE_DIGITS = 6;
const COEFFICIENT_DIGITS = 9;
/** Terms stand in so many columns side by side. */
const ABREAST = 3;

export function patchCoefficients(own: PatchTable): Html {
  const { patch, number, fit, zernike, closed } = own;
  const range = periodRange(patch);
  return html`<section class="patch" id="patch-${number}">
<h2>${number}. ${patch.id}</h2>
${facts([
  ['In words', wordsOf(patch)],
  ['Closed form', html`<span class="formula">${closed.formula}</span>`],
  ['Incident wave', html`<span class="formula">${closed.incident}</span>`],
  ['Outgoing wave', html`<span class="formula">${closed.leaving}</span>`],
  ['Fringes at null: tilt or roof B', html`<span class="formula">${closed.bias}</span>`],
  ['Working order m', patch.order > 0 ? `+${patch.order}` : String(patch.order)],
  ['Outline', `${placedOutlineText(patch.outline)} mm`],
  ['Centre x₀, y₀', `${fit.centre.map((value) => trimmed(value, 9)).join(', ')} mm`],
  ['Normalisation radius R (where u² + v² = 1)', `${trimmed(fit.unitRadius, 9)} mm`],
  [
    fit.basis === 'radial' ? 'Radial form' : 'Polynomial',
    `degree ${fit.degree}, within ${fit.residual.worst.toExponential(2)} waves of the ${'reference' in patch ? 'closed form over the whole patch' : 'phase over the whole pattern'}`,
  ],
  [
    'Smallest period',
    `${periodField(range.min)} µm at x = ${trimmed(range.minAt[0], 3)}, y = ${trimmed(range.minAt[1], 3)} mm, where the phase is steepest`,
  ],
  [
    'Largest period',
    Number.isFinite(range.max)
      ? `${periodField(range.max)} µm`
      : 'unbounded: the phase is stationary within the patch',
  ],
])}
<h3>Ten check points</h3>
${samplesTable(own)}
${periodMap(patch, range, `map-${number}`)}
${polynomialTable(fit)}
${roofTable(own)}${
  zernike === undefined
    ? ''
    : html`<h3>Zernike terms</h3>
<p>About (${zernike.outline.centre.map((value) => trimmed(value, 9)).join(', ')}) mm, radius ${trimmed(zernike.outline.radius, 9)} mm.</p>
${termsTable(
  ['index', 'n, m', 'c, waves'],
  Array.from(zernike.coefficients, (coefficient, index) => [
    index,
    zernikeOrdersFromIndex(index).join(', '),
    fixed(coefficient, COEFFICIENT_DIGITS),
  ]),
)}`
}</section>
`;
}

function polynomialTable({ basis, terms }: PatchTable['fit']): Html {
  const of = (coefficient: number): string => fixed(coefficient, COEFFICIENT_DIGITS);
  return basis === 'radial'
    ? html`<h3>Radial form</h3>
<p class="formula">Φ = Σ c · ρ²ⁱ, ρ² = u² + v²</p>
${termsTable(
  ['i', 'c, waves'],
  terms.map(({ i, coefficient }) => [i, of(coefficient)]),
)}`
    : html`<h3>Polynomial</h3>
${termsTable(
  ['i', 'j', 'c, waves'],
  terms.map(({ i, j, coefficient }) => [i, j, of(coefficient)]),
)}`;
}

function wordsOf(patch: DesignedPattern): string {
  const { order, bias } = patch;
  const inOrder = `In order ${order > 0 ? `+${order}` : order}`;
  if (!('reference' in patch))
    return `The main pattern. ${inOrder}, light goes from the interferometer’s wave to the wave that meets surface ${patch.test.surface} square on; no tilt or roof added.`;
  const { reference, lineDirection } = patch;
  const biased =
    bias === undefined
      ? 'no tilt or roof added'
      : bias.shape === 'roof'
        ? 'a roof added, creased along a straight ridge'
        : 'a tilt added';
  const aim = lineDirection === undefined ? 'to a point' : 'to a line through a point';
  return `${inOrder}, light goes from the interferometer’s wave ${kindOf(reference).words.goes(aim)}, reference ${reference.id}; ${biased}.`;
}

function samplesTable({ patch, fit }: PatchTable): Html {
  const samples = samplesOf(patch);
  const smooth = polynomialPhases(
    fit,
    Float64Array.from(samples, ({ at }) => at[0]),
    Float64Array.from(samples, ({ at }) => at[1]),
  );
  const roof = roofAt(patch, fit);
  return table(
    ['x, mm', 'y, mm', 'u', 'v', 'polynomial', 'roof', 'Φ, waves', 'period, µm'],
    samples.map(({ at, phase, period }, k) => [
      fixed(at[0], PLACE_DIGITS),
      fixed(at[1], PLACE_DIGITS),
      fixed((at[0] - fit.centre[0]) / fit.unitRadius, PLACE_DIGITS),
      fixed((at[1] - fit.centre[1]) / fit.unitRadius, PLACE_DIGITS),
      fixed(smooth[k]!, PLACE_DIGITS),
      roof === undefined ? '–' : fixed(roof(at), PLACE_DIGITS),
      html`<strong>${fixed(Number(phaseField(phase)), PLACE_DIGITS)}</strong>`,
      periodField(period),
    ]),
    [0, 1, 2, 3, 4, 5, 6, 7],
  );
}

function roofAt(
  patch: DesignedPattern,
  fit: PatchTable['fit'],
): ((at: readonly number[]) => number) | undefined {
  const [c0, c1, c2] = roofTerms(patch, fit);
  if (c0 === undefined) return undefined;
  const [x0, y0] = patch.bias!.centre;
  return ([x, y]) => c0 * Math.abs((c1! * (x! - x0) + c2! * (y! - y0)) / fit.unitRadius);
}

function roofTable({ patch, fit }: PatchTable): Html | string {
  const terms = roofTerms(patch, fit).map((coefficient) => trimmed(coefficient, 12));
  if (terms.length === 0) return '';
  return html`<h3>Roof</h3>
<p class="formula">c₀ = ${terms[0]} waves, c₁ = ${terms[1]}, c₂ = ${terms[2]}; u and v from the ridge at (${patch.bias!.centre.map((value) => trimmed(value, 9)).join(', ')}) mm</p>
`;
}

/** Rows of three fields in columns side by side, read downward. */
function termsTable(heads: readonly string[], terms: readonly (readonly (string | number)[])[]): Html {
  const abreast = Math.min(ABREAST, terms.length);
  const high = Math.ceil(terms.length / abreast);
  const rows = Array.from({ length: high }, (_, row) =>
    Array.from({ length: abreast }, (__, column) => terms[column * high + row] ?? heads.map(() => '')).flat(),
  );
  const all = Array.from({ length: abreast }, () => heads).flat();
  const made = table(
    all,
    rows,
    all.map((_, k) => k),
  );
  return trusted(made.text.replace('<table>', '<table class="terms">'));
}
