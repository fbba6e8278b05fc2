/**
 * The tables read back as a fabricator would: rows of coefficients.csv evaluated by their head's formulas, by code that shares
 * nothing with the writer, against the exact phase and against samples.csv.
 */
import { spawnSync } from 'node:child_process';
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { beforeAll, describe, expect, test } from 'vitest';
import { datumlight, example, folder } from '../cli/support/run.ts';
import { designedPhase, periodOf } from '../independent/designed-phase.ts';
import { lacks, program } from '../machine/outside-programs.ts';
import { ASKED } from './example-patches.ts';

const EXAMPLES = ['diverging-balls', 'converging-retroreflectors', 'infrared-collimated'];
const packages = new Map<string, string>();

beforeAll(async () => {
  for (const name of EXAMPLES) {
    const out = join(folder(), 'out');
    const { code } = await datumlight(['make', example(name), '--out', out]);
    if (code !== 0) throw new Error(`make ${name} ended with ${code}`);
    packages.set(name, out);
  }
});

type Row = Record<string, string>;

function table(file: string): { head: string[]; rows: Row[] } {
  const lines = readFileSync(file, 'utf8').trimEnd().split('\n');
  const head = lines.filter((line) => line.startsWith('#'));
  const [columns, ...rows] = lines.filter((line) => !line.startsWith('#')).map((line) => line.split(','));
  return {
    head,
    rows: rows.map((fields) => Object.fromEntries(columns.map((name, k) => [name, fields[k]]))),
  };
}

const num = (row: Row, key: string): number => Number(row[key]);

/** The phase by the rows of one basis of a patch, straight from the head's words. */
function evaluate(rows: readonly Row[], basis: string, x: number, y: number): number {
  const own = rows.filter((row) => row.basis === basis);
  const [u, v] = ['X', 'Y'].map(
    (axis, k) => ((k === 0 ? x : y) - num(own[0], `centre${axis}_mm`)) / num(own[0], 'normRadius_mm'),
  );
  const c = (row: Row): number => num(row, 'coefficient_waves');
  if (basis === 'roof') return c(own[0]) * Math.abs(c(own[1]) * u + c(own[2]) * v);
  if (basis === 'xy')
    return own.reduce((sum, row) => sum + c(row) * u ** num(row, 'i') * v ** num(row, 'j'), 0);
  return own.reduce((sum, row) => sum + c(row) * zernike(num(row, 'i'), num(row, 'j'), u, v), 0);
}

/** Z of ISO 24157 from its definition: factorials in the radial part, unit root mean square. */
function zernike(n: number, m: number, u: number, v: number): number {
  const [rho, theta, k] = [Math.hypot(u, v), Math.atan2(v, u), Math.abs(m)];
  let radial = 0;
  for (let s = 0; s <= (n - k) / 2; s++) {
    radial +=
      ((s % 2 ? -1 : 1) * factorial(n - s) * rho ** (n - 2 * s)) /
      (factorial(s) * factorial((n + k) / 2 - s) * factorial((n - k) / 2 - s));
  }
  const norm = Math.sqrt((m === 0 ? 1 : 2) * (n + 1));
  return norm * radial * (m < 0 ? Math.sin(k * theta) : Math.cos(k * theta));
}
const factorial = (n: number): number => (n < 2 ? 1 : n * factorial(n - 1));

const BOUND = 1e-3;
/** Waves: what phases have to agree to with an independent reference, a place rounded to a nanometre included. */
const SAMPLE = 3e-4;

describe.each(EXAMPLES)('%s', (name) => {
  test('polynomial and roof give the sampled phase to 1e-3 waves, Zernikes of round patches too', () => {
    const out = packages.get(name) as string;
    const { rows } = table(join(out, 'coefficients.csv'));
    const samples = table(join(out, 'samples.csv')).rows;
    const ids = new Set(rows.map((row) => row.patch));
    for (const id of ids) {
      const own = rows.filter((row) => row.patch === id);
      const points = samples.filter((row) => row.patch === id);
      expect(points).toHaveLength(10);
      for (const point of points) {
        const [x, y, phase] = ['x_mm', 'y_mm', 'phase_waves'].map((key) => num(point, key));
        const roof = own.some((row) => row.basis === 'roof') ? evaluate(own, 'roof', x, y) : 0;
        expect(Math.abs(evaluate(own, 'xy', x, y) + roof - phase)).toBeLessThan(BOUND);
        if (own.some((row) => row.basis === 'zernike')) {
          expect(Math.abs(evaluate(own, 'zernike', x, y) + roof - phase)).toBeLessThan(BOUND);
        }
      }
    }
  });

  test('samples are the phase and the period of the wave that the scenario asks for', () => {
    const samples = table(join(packages.get(name) as string, 'samples.csv')).rows;
    const { around, patches } = ASKED[name]!;
    expect(new Set(samples.map(({ patch }) => patch))).toEqual(new Set(patches.map(({ id }) => id)));
    for (const row of samples) {
      const asked = patches.find(({ id }) => id === row.patch)!;
      const [x, y] = [num(row, 'x_mm'), num(row, 'y_mm')];
      const phase = designedPhase(around, asked);
      expect(Math.abs(num(row, 'phase_waves') - phase(x, y)), `${row.patch} ${x}, ${y}`).toBeLessThan(SAMPLE);
      // On the ridge, which runs through the centre, a difference quotient straddles two slopes.
      const ridge =
        asked.bias?.shape === 'roof' && Math.hypot(x - asked.centre[0], y - asked.centre[1]) < 0.01;
      if (!ridge) expect(num(row, 'period_um') / (periodOf(phase, x, y) * 1000)).toBeCloseTo(1, 5);
    }
  });

  test('samples agree with the command `phase`', async () => {
    const samples = table(join(packages.get(name) as string, 'samples.csv')).rows;
    const id = samples[0].patch;
    const own = samples.filter((row) => row.patch === id);
    const input = `x_mm,y_mm\n${own.map((row) => `${row.x_mm},${row.y_mm}`).join('\n')}\n`;
    const { stdout } = await datumlight(['phase', example(name), '--patch', id, '--points', '-'], { input });
    const answers = stdout.trimEnd().split('\n').slice(1);
    expect(answers).toEqual(own.map((row) => [row.x_mm, row.y_mm, row.phase_waves, row.period_um].join(',')));
  });

  test('the heads state the convention; the JSON says the same coefficients', () => {
    const out = packages.get(name) as string;
    const { head, rows } = table(join(out, 'coefficients.csv'));
    expect(head.join('\n')).toMatch(/E_out\(P\) = E_in\(P\) \+ m \* lambda \* Phi\(P\)/);
    expect(head.join('\n')).toMatch(/roof/);
    expect(table(join(out, 'samples.csv')).head.join('\n')).toMatch(/E_out\(P\)/);
    const json = JSON.parse(readFileSync(join(out, 'coefficients.json'), 'utf8'));
    for (const patch of json.patches) {
      const own = rows.filter((row) => row.patch === patch.id && row.basis === 'xy');
      expect(own).toHaveLength(patch.polynomial.terms.length);
      own.forEach((row, k) => {
        expect(num(row, 'coefficient_waves')).toBeCloseTo(patch.polynomial.terms[k].coefficient_waves, 6);
      });
    }
  });
});

test('a roof stays out of the polynomial and has rows of its own', () => {
  const { rows } = table(join(packages.get('converging-retroreflectors') as string, 'coefficients.csv'));
  const roof = rows.filter((row) => row.patch === 'north-rim' && row.basis === 'roof');
  expect(roof).toHaveLength(3);
  // N/(2m) = half a wave at the far edge, for one fringe at order 1.
  expect(num(roof[0], 'coefficient_waves')).toBe(0.5);
});

const xmllint = program('xmllint');
test.skipIf(lacks({ xmllint })).each(EXAMPLES)('xmllint finds layout.svg of %s well formed', (name) => {
  const drawing = join(packages.get(name) as string, 'layout.svg');
  const { status, stderr } = spawnSync(xmllint!, ['--noout', drawing], { encoding: 'utf8' });
  expect({ status, stderr }).toEqual({ status: 0, stderr: '' });
});
