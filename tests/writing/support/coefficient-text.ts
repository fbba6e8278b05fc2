/**
 * The names that columns and keys of the coefficient files have, in one place, and the phase that stands under them, by the head's own
 * words: u = (x − centreX)/radius, v likewise; basis xy Σ c u^i v^j, radial Σ c ρ^(2i), zernike Σ c Z, roof c0 |c1 u + c2 v|. Waves, mm.
 */
import type { PrintedForm } from '../../independent/closed-form-reader.ts';
import type { Field } from '../../independent/scene-phase.ts';
import { zernike } from '../../independent/zernike.ts';

export const COLUMNS = {
  patch: 'patch',
  basis: 'basis',
  index: 'index',
  i: 'i',
  j: 'j',
  coefficient: 'coefficient_waves',
  radius: 'unitRadius_mm',
  centreX: 'centreX_mm',
  centreY: 'centreY_mm',
  order: 'order',
} as const;
export const SAMPLE_COLUMNS = {
  patch: 'patch',
  x: 'x_mm',
  y: 'y_mm',
  phase: 'phase_waves',
  period: 'period_um',
} as const;
const RADIUS_KEY = 'unitRadius_mm';

export type Row = Readonly<Record<string, string>>;
type Place = readonly [number, number];

/** A CSV file of these: its head, and its rows by the names of their columns. */
export function csvRows(text: string): { readonly head: string; readonly rows: readonly Row[] } {
  const lines = text.trimEnd().split('\n');
  const [columns, ...rows] = lines.filter((line) => !line.startsWith('#')).map((line) => line.split(','));
  return {
    head: lines.filter((line) => line.startsWith('#')).join('\n'),
    rows: rows.map((fields) => Object.fromEntries(columns!.map((name, k) => [name, fields[k]!]))),
  };
}

/** A number of a row; throws where the column is missing, instead of counting on NaN. */
export function num(row: Row, key: string): number {
  const value = Number(row[key] ?? 'missing');
  if (Number.isNaN(value)) throw new Error(`no number in the column ${key}`);
  return value;
}

interface Term {
  readonly i: number;
  readonly j: number;
  readonly c: number;
}

export type Basis = 'xy' | 'radial' | 'zernike' | 'roof';

/** The phase of one basis from its terms. */
function fieldOf(basis: Basis, terms: readonly Term[], centre: Place, radius: number): Field {
  return (x, y) => {
    const [u, v] = [(x - centre[0]) / radius, (y - centre[1]) / radius];
    if (basis === 'roof') return terms[0]!.c * Math.abs(terms[1]!.c * u + terms[2]!.c * v);
    if (basis === 'radial') return terms.reduce((sum, { i, c }) => sum + c * Math.hypot(u, v) ** (2 * i), 0);
    return terms.reduce(
      (sum, { i, j, c }) => sum + c * (basis === 'xy' ? u ** i * v ** j : zernike(i, j, u, v)),
      0,
    );
  };
}

/** The phase by a patch's rows of one basis; undefined where it has none. */
export function rowsPhase(rows: readonly Row[], patch: string, basis: Basis): Field | undefined {
  const own = rows
    .filter((row) => row[COLUMNS.patch] === patch && row[COLUMNS.basis] === basis)
    .toSorted((a, b) => num(a, COLUMNS.index) - num(b, COLUMNS.index));
  if (own.length === 0) return undefined;
  const terms = own.map((row) => ({
    i: num(row, COLUMNS.i),
    j: num(row, COLUMNS.j),
    c: num(row, COLUMNS.coefficient),
  }));
  const centre = [num(own[0]!, COLUMNS.centreX), num(own[0]!, COLUMNS.centreY)] as const;
  return fieldOf(basis, terms, centre, num(own[0]!, COLUMNS.radius));
}

interface JsonPatch {
  readonly id: string;
  readonly order: number;
  readonly closedForm: {
    readonly formula: string;
    readonly incident: string;
    readonly leaving: string;
    readonly bias: string;
    readonly order: number;
    readonly centre_mm: Place;
    readonly target_mm: readonly [number, number, number];
    readonly lineDirection: readonly [number, number, number] | null;
  };
  readonly polynomial: {
    readonly centre_mm: Place;
    readonly [RADIUS_KEY]: number;
    readonly worstResidual_waves: number;
    readonly terms: readonly {
      readonly i: number;
      readonly j: number;
      readonly coefficient_waves: number;
    }[];
  };
  readonly roof?: {
    readonly [RADIUS_KEY]: number;
    readonly centre_mm: Place;
    readonly c0_waves: number;
    readonly c1: number;
    readonly c2: number;
  };
  readonly zernike?: {
    readonly centre_mm: Place;
    readonly [RADIUS_KEY]: number;
    readonly terms: readonly {
      readonly index: number;
      readonly n: number;
      readonly m: number;
      readonly coefficient_waves: number;
    }[];
  };
}

export const jsonPatches = (json: string): readonly JsonPatch[] => JSON.parse(json).patches;

/** The phase by one basis of coefficients.json; undefined where the patch has none. */
export function jsonPhase({ polynomial, roof, zernike: round }: JsonPatch, basis: Basis): Field | undefined {
  if (basis === 'zernike') {
    if (round === undefined) return undefined;
    const terms = round.terms.map(({ n, m, coefficient_waves }) => ({ i: n, j: m, c: coefficient_waves }));
    return fieldOf(basis, terms, round.centre_mm, round[RADIUS_KEY]);
  }
  const { centre_mm, [RADIUS_KEY]: radius } = polynomial;
  if (basis === 'roof') {
    if (roof === undefined) return undefined;
    const terms = [roof.c0_waves, roof.c1, roof.c2].map((c) => ({ i: 0, j: 0, c }));
    return fieldOf(basis, terms, roof.centre_mm, roof[RADIUS_KEY]);
  }
  const terms = polynomial.terms.map(({ i, j, coefficient_waves }) => ({ i, j, c: coefficient_waves }));
  return fieldOf(basis, terms, centre_mm, radius);
}

/** The lines of the convention that head coefficients.json, as one text. */
export const headOf = (json: string): string => JSON.parse(json).convention.join('\n');

export function printedForms(json: string): ReadonlyMap<string, PrintedForm> {
  return new Map(
    jsonPatches(json).map(({ id, closedForm: { formula, incident, leaving, bias, order, centre_mm } }) => [
      id,
      { formula, incident, leaving, bias, order, centre: centre_mm },
    ]),
  );
}

/** What the CSV's head says of each patch: order, E_in, E_out and B. */
export function formsInHead(head: string): ReadonlyMap<string, Omit<PrintedForm, 'formula' | 'centre'>> {
  const lines = head.matchAll(
    /^# patch (.*?): order (-?\d+); (E_in = .*?); (E_out = .*?); (B = .*?); degree /gm,
  );
  return new Map(
    [...lines].map(([, id, order, incident, leaving, bias]) => [
      id!,
      { order: Number(order), incident: incident!, leaving: leaving!, bias: bias! },
    ]),
  );
}
