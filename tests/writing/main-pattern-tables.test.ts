/**
 * The main pattern's rows in the coefficient tables and in samples.csv, as a fabricator reads them, against the surface's normals followed
 * back to the pattern by code of their own; and the tables read back. An off-axis paraboloid takes a polynomial; an asphere about the
 * beam's axis the radial form, which needs fewer terms. Waves at order 1, mm.
 */
import { describe, expect, it } from 'vitest';
import { tableFindings } from '../../src/readback/table-findings.ts';
import { tableMeaning } from '../../src/readback/table-meaning.ts';
import { readCoefficientTable } from '../../src/reading/tables/coefficient-table.ts';
import { coefficientSheet } from '../../src/writing/coefficients/coefficient-sheet.ts';
import {
  coefficientsCsv,
  coefficientsJson,
  patchTables,
} from '../../src/writing/coefficients/coefficients.ts';
import { samplesCsv } from '../../src/writing/coefficients/samples.ts';
import { CARELESS, csvTable, csvText } from '../cli/support/coefficient-csv.ts';
import { followedBack, type Height, isoAsphere } from '../independent/surface-sheets.ts';
import { designFrom, linePatch } from '../metrology/support/design-from.ts';
import { type Basis, COLUMNS, csvRows, num, rowsPhase, SAMPLE_COLUMNS } from './support/coefficient-text.ts';

const WAVELENGTH = 632.8e-6;
const FOCUS = 500;
const GLASS = { thickness: 6.35, index: 1.457 };
const HEIGHT_ABOVE = 2600;
/** What the tables promise of a phase that is itself right to 2e-4. */
const PROMISED = 1.2e-3;
const SAMPLED = 2e-4;
const DRAFT = { draft: false };

interface Case {
  readonly what: string;
  readonly basis: Basis;
  readonly terms: Readonly<Record<number, number>>;
  readonly order: number;
  /** Of the aperture, on the surface. */
  readonly radius: number;
  readonly centre: readonly [number, number];
}

const CASES: readonly Case[] = [
  { what: 'off axis', basis: 'xy', terms: {}, order: 1, radius: 100, centre: [80, 20] },
  {
    what: 'about the axis',
    basis: 'radial',
    terms: { 4: 2e-11, 6: -3e-16 },
    order: -1,
    radius: 140,
    centre: [0, 0],
  },
];

/** Places on the surface, the edge of the aperture among them, and Φ there up to a constant. */
function followed({ terms, order, radius, centre }: Case) {
  const height: Height = isoAsphere(-2000, -1, terms);
  const sheet = {
    height,
    toSubstrate: ([x, y, z]: readonly number[]) => [x!, y!, z! + HEIGHT_ABOVE] as const,
  };
  return Array.from({ length: 30 }, (_, k) => {
    const [r, turn] = [radius * Math.sqrt((k + 1) / 30), 2.399963 * k];
    const { on, path } = followedBack(
      sheet,
      centre[0] + r * Math.cos(turn),
      centre[1] + r * Math.sin(turn),
      GLASS,
    );
    return { on, phase: (-path - Math.hypot(...on, FOCUS)) / (order * WAVELENGTH) };
  });
}

/** Half of the range of what is left: Φ counts from a place of the pattern's own. */
function unlike(places: ReturnType<typeof followed>, phase: (x: number, y: number) => number): number {
  const left = places.map(({ on: [x, y], phase: asked }) => phase(x, y) - asked);
  return (Math.max(...left) - Math.min(...left)) / 2;
}

describe.each(CASES)('the main pattern of a surface $what', (one) => {
  const { basis, terms, order, radius, centre } = one;
  const design = designFrom({
    substrate: {
      outline: { circle: { diameter: 150 } },
      ...{ ...GLASS, patternFaces: 'interferometer' },
    },
    part: {
      origin: [0, 0, HEIGHT_ABOVE],
      datums: { M: { asphere: { vertex: [0, 0, 0], axis: [0, 0, 1], radius: -2000, conic: -1, terms } } },
    },
    test: { surface: 'M', aperture: { circle: { diameter: 2 * radius, centre } }, margin: 1, order },
    references: [{ id: 'ball', kind: 'ball', diameter: 25, at: [0, 900, 1500] }],
    patches: [linePatch('side', 'ball', [0, 68], 0, 6)],
  });
  const tables = patchTables(design);
  const csv = coefficientsCsv(design, tables, DRAFT);
  const places = followed(one);
  const { head, rows } = csvRows(csv);

  it('has its phase in coefficients.csv, in the shorter basis', () => {
    expect(unlike(places, rowsPhase(rows, 'main', basis)!)).toBeLessThan(PROMISED);
    const own = rows.filter((row) => row[COLUMNS.patch] === 'main');
    expect(new Set(own.map((row) => row[COLUMNS.order]))).toEqual(new Set([String(order)]));
    expect(new Set(own.map((row) => row[COLUMNS.basis]))).toEqual(new Set([basis]));
    expect(own.length < 10).toBe(basis === 'radial');
    expect(/basis radial: .*rho\^\(2i\), rho = r\/unitRadius/.test(head)).toBe(basis === 'radial');
    expect(head).toContain(`patch main: order ${order}; E_in = `);
    expect(head).toContain('E_out by table: the wave that meets surface M square on');
  });

  it('says the same in coefficients.json', () => {
    const [main] = JSON.parse(coefficientsJson(design, tables, DRAFT)).patches;
    const form = main[basis === 'radial' ? 'radial' : 'polynomial'];
    const [x0, y0] = form.centre_mm;
    const phase = (x: number, y: number): number => {
      const [u, v] = [(x - x0) / form.unitRadius_mm, (y - y0) / form.unitRadius_mm];
      return form.terms.reduce(
        (sum: number, { i, j, coefficient_waves: c }: { i: number; j?: number; coefficient_waves: number }) =>
          sum + c * (j === undefined ? (u * u + v * v) ** i : u ** i * v ** j),
        0,
      );
    };
    expect(unlike(places, phase)).toBeLessThan(PROMISED);
    expect(main.closedForm.target_mm).toBeNull();
  });

  it('has ten samples that lie on it', () => {
    const samples = csvRows(samplesCsv(design, DRAFT)).rows.filter((row) => row.patch === 'main');
    expect(samples).toHaveLength(10);
    const fitted = rowsPhase(rows, 'main', basis)!;
    const exact = places.map(({ on: [x, y], phase }) => design.main!.phase.phase(x, y) - phase);
    expect((Math.max(...exact) - Math.min(...exact)) / 2).toBeLessThan(SAMPLED);
    for (const row of samples) {
      const [x, y] = [num(row, SAMPLE_COLUMNS.x), num(row, SAMPLE_COLUMNS.y)];
      expect(Math.abs(num(row, SAMPLE_COLUMNS.phase) - fitted(x, y))).toBeLessThan(1e-3);
    }
  });

  it('is in coefficients.html with its basis', () => {
    const html = coefficientSheet(design, tables, {
      ...{ version: '0', scenarioHash: '0', tableHash: '0', draft: false },
    });
    expect(html).toContain('meets surface M square on');
    expect(html).toContain('the main pattern and 1 patch.');
    expect(html.includes('Φ = Σ c · ρ²ⁱ')).toBe(basis === 'radial');
  });

  const readback = (change: (table: ReturnType<typeof csvTable>) => unknown): string => {
    const table = csvTable(csv);
    change(table);
    const read = readCoefficientTable(csvText(table, ','), 'returned.csv', WAVELENGTH);
    if (read.table === undefined) return read.findings.map(({ message }) => message).join('\n');
    const meaning = tableMeaning(design, read.table);
    return tableFindings(meaning, 'returned.csv')
      .map(({ rule, message }) => `${rule}: ${message}`)
      .join('\n');
  };

  it('reads back as the same', () => expect(readback(() => undefined)).toBe(''));
  it('is missed where its rows are gone', () =>
    expect(
      readback((table) => {
        table.rows = table.rows.filter(({ patch }) => patch !== 'main');
      }),
    ).toContain('table-incomplete: patch main is missing'));
  it('is caught with its sign turned', () =>
    expect(readback(CARELESS['sign-flipped']!)).toMatch(/^table-misread: .*sign flipped/));
  it('is caught with its radius taken for a diameter', () =>
    expect(
      readback((table) => {
        for (const row of table.rows)
          if (row.patch === 'main') row.unitRadius_mm = String(Number(row.unitRadius_mm) * 2);
      }),
    ).toMatch(/^table-misread: patch main: .*diameter/));
  it('is caught with one term off', () =>
    expect(
      readback((table) => {
        const row = table.rows.find(({ patch, i }) => patch === 'main' && i === '2')!;
        row.coefficient_waves = String(Number(row.coefficient_waves) + 0.0137);
      }),
    ).toMatch(basis === 'radial' ? /the term rho\^4 is/ : /the term u\^2 v\^0 is/));
  it('is refused with a basis that has no such term', () =>
    expect(
      readback((table) => {
        const row = table.rows.find(({ patch, j }) => patch === 'main' && j === '0')!;
        row.basis = 'radial';
        row.j = '1';
      }),
    ).toContain('there is no term 0,1 of basis radial'));
});
