/**
 * `coefficients.csv` and `coefficients.json`: each patch's phase as a polynomial, for round patches in Zernike terms too, the
 * roof apart, and the closed form itself. Phases in waves at order 1, places in mm.
 *
 * The CSV's rows, by `basis`:
 *   xy       Φ = Σ c · u^i · v^j, u = (x − centreX)/unitRadius, v likewise; index counts the rows of the basis
 *   radial   Φ = Σ c · ρ^(2i), ρ² = u² + v², j = 0: in place of xy, of a main pattern that is the same all round its centre
 *   zernike  Φ = Σ c · Z_j(u, v), index = j in ISO 24157 order, i = n, j = m of the term, normalised to unit root mean square
 *   roof     B = c₀ · |c₁ u + c₂ v|, its centre a point of the ridge: index 0 is c₀ in waves (the bias at the far edge), 1 and 2 are plain numbers
 * What this writer does not write: the outline (layout.dxf has it).
 */
import { type Design, type DesignedPattern, patternsOf } from '../../design/design.ts';
import type { Pattern } from '../../design/pattern.ts';
import { FIT_BOUND, type FitBasis, fitPhase, type PhaseFit, smoothPhases } from '../../design/phase-fit.ts';
import type { CircleOutline } from '../../geometry/outline.ts';
import { zernikeCoefficients, zernikeOrdersFromIndex } from '../../optics/zernike.ts';
import { fixed, trimmed } from '../../quantity/format.ts';
import { conventionLines, type Draft, draftLines, mainLines } from '../convention.ts';
import { csvField } from '../csv.ts';
import { jsonText } from '../json.ts';
import { writtenLines } from '../written-areas.ts';
import { type ClosedForm, closedForm } from './closed-form.ts';

/** Decimals of a coefficient: 1e-12 waves, so that rounding a hundred terms stays a millionth of the fit's bound. */
const WAVE_DIGITS = 12;
const LENGTH_DIGITS = 9;

export interface PatchTable {
  readonly patch: DesignedPattern;
  /** As the drawing numbers it. */
  readonly number: string;
  readonly fit: PhaseFit;
  /** Only of a round patch that has no radial form; in ISO 24157 order. */
  readonly zernike: { readonly outline: CircleOutline; readonly coefficients: Float64Array } | undefined;
  readonly closed: ClosedForm;
}

export function patchTables(design: Design): readonly PatchTable[] {
  return patternsOf(design).map(({ pattern, number }) => {
    const fit = fitPhase(pattern);
    const zernike = fit.basis === 'radial' ? undefined : zernikeOf(pattern, fit.degree);
    return { patch: pattern, number, fit, zernike, closed: closedForm(design, pattern) };
  });
}

function zernikeOf(patch: Pattern, order: number): PatchTable['zernike'] {
  const { outline } = patch;
  if (outline.shape !== 'circle') return undefined;
  const phases = (xs: Float64Array, ys: Float64Array): Float64Array => smoothPhases(patch, xs, ys);
  return { outline, coefficients: zernikeCoefficients(phases, outline.centre, outline.radius, order) };
}

export function coefficientsCsv(design: Design, tables: readonly PatchTable[], { draft }: Draft): string {
  const lines = [
    ...draftLines(draft),
    'Datumlight coefficients of the phase of each patch.',
    ...conventionLines(design),
    ...writtenLines(design),
    'basis xy: Phi = sum of c * u^i * v^j, u = (x - centreX)/unitRadius, v = (y - centreY)/unitRadius.',
    ...radialLines(tables),
    'basis zernike (round patches): Phi = sum of c * Z, index = ISO 24157 index, i = n, j = m, each term of unit rms.',
    'A roof has a crease: xy and zernike leave it out, and it has rows of its own, to be added:',
    'basis roof: B = c0 * |c1*u + c2*v|, index 0 = c0 in waves, index 1 and 2 = c1 and c2, plain numbers.',
    'The centre of a roof is a point of its ridge: the centre of the patch, or beside it where glass shifts the light.',
    'An added tilt is smooth and is part of xy and zernike.',
    ...mainLines(design),
    ...tables.flatMap(closedFormLines),
  ].map((line) => `# ${line}`);
  lines.push('patch,basis,index,i,j,coefficient_waves,unitRadius_mm,centreX_mm,centreY_mm,order');
  for (const table of tables) lines.push(...rowsOf(table));
  return `${lines.join('\n')}\n`;
}

/** Only where a table has the basis. */
const radialLines = (tables: readonly PatchTable[]): readonly string[] =>
  tables.some(({ fit }) => fit.basis === 'radial')
    ? [
        'basis radial: Phi = sum of c * rho^(2i), rho = r/unitRadius, r the distance from the centre, i in column i, j = 0. It stands in place of xy.',
      ]
    : [];

function closedFormLines({ patch, closed, fit }: PatchTable): string[] {
  return [
    `patch ${patch.id}: order ${patch.order}; ${closed.incident}; ${closed.leaving}; ${closed.bias}; ` +
      `degree ${fit.degree}, worst residual ${fit.residual.worst.toExponential(2)} waves`,
  ];
}

function rowsOf({ patch, fit, zernike }: PatchTable): string[] {
  const row = (
    basis: string,
    index: number,
    powers: readonly [number, number],
    coefficient: number,
    radius: number,
    centre: readonly [number, number],
  ): string =>
    [
      csvField(patch.id),
      basis,
      index,
      ...powers,
      fixed(coefficient, WAVE_DIGITS),
      trimmed(radius, LENGTH_DIGITS),
      trimmed(centre[0], LENGTH_DIGITS),
      trimmed(centre[1], LENGTH_DIGITS),
      patch.order,
    ].join(',');
  const rows = fit.terms.map(({ i, j, coefficient }, index) =>
    row(fit.basis, index, [i, j], coefficient, fit.unitRadius, fit.centre),
  );
  if (zernike !== undefined) {
    const { outline, coefficients } = zernike;
    coefficients.forEach((coefficient, index) => {
      rows.push(
        row('zernike', index, zernikeOrdersFromIndex(index), coefficient, outline.radius, outline.centre),
      );
    });
  }
  roofTerms(patch, fit).forEach((coefficient, k) => {
    const powers = [k === 1 ? 1 : 0, k === 2 ? 1 : 0] as const;
    rows.push(row('roof', k, powers, coefficient, fit.unitRadius, patch.bias!.centre));
  });
  return rows;
}

/** c₀, c₁, c₂ of B = c₀·|c₁u + c₂v|, u and v from a point of the ridge; none without a roof. */
export function roofTerms({ bias }: Pattern, fit: PhaseFit): readonly number[] {
  if (bias?.shape !== 'roof') return [];
  const perUnit = fit.unitRadius / bias.reach;
  return [bias.amplitude, perUnit * bias.direction[0], perUnit * bias.direction[1]];
}

const FORMULAS: Readonly<Record<FitBasis, string>> = {
  xy: 'u^i v^j, u = (x - centreX)/unitRadius, v = (y - centreY)/unitRadius',
  radial: 'rho^(2i), rho = r/unitRadius, r the distance from the centre',
};

export function coefficientsJson(design: Design, tables: readonly PatchTable[], { draft }: Draft): string {
  return jsonText({
    format: 'datumlight-coefficients/1',
    ...(draft ? { draft: draftLines(draft)[0] } : {}),
    convention: conventionLines(design),
    fabrication: writtenLines(design),
    fitBound_waves: FIT_BOUND,
    wavelength_mm: design.light.wavelength,
    patches: tables.map(({ patch, fit, zernike, closed }) => ({
      id: patch.id,
      order: patch.order,
      closedForm: closed,
      [fit.basis === 'radial' ? 'radial' : 'polynomial']: fitJson(fit),
      roof: roofJson(patch, fit),
      zernike: zernike && {
        basis: 'ISO 24157, each term of unit root mean square over the disc',
        centre_mm: zernike.outline.centre,
        unitRadius_mm: zernike.outline.radius,
        terms: Array.from(zernike.coefficients, (coefficient, index) => ({
          index,
          n: zernikeOrdersFromIndex(index)[0],
          m: zernikeOrdersFromIndex(index)[1],
          coefficient_waves: coefficient,
        })),
      },
    })),
  });
}

function fitJson({ basis, centre, unitRadius, degree, residual, terms }: PhaseFit): unknown {
  return {
    basis: FORMULAS[basis],
    centre_mm: centre,
    unitRadius_mm: unitRadius,
    degree,
    worstResidual_waves: residual.worst,
    terms: terms.map(({ i, j, coefficient }) => ({
      i,
      ...(basis === 'radial' ? {} : { j }),
      coefficient_waves: coefficient,
    })),
  };
}

function roofJson(patch: Pattern, fit: PhaseFit): unknown {
  const [c0, c1, c2] = roofTerms(patch, fit);
  if (c0 === undefined) return undefined;
  return {
    form: 'B = c0 |c1 u + c2 v|, u and v from centre_mm, a point of the ridge',
    centre_mm: patch.bias?.centre,
    unitRadius_mm: fit.unitRadius,
    c0_waves: c0,
    c1,
    c2,
  };
}
