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
import { csvRows, num, rowsPhase } from './support/coefficient-text.ts';

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

const table = (file: string) => csvRows(readFileSync(file, 'utf8'));

const BOUND = 1e-3;
/** Waves: what phases have to agree to with an independent reference, a place rounded to a nanometre included. */
const SAMPLE = 3e-4;

describe.each(EXAMPLES)('%s', (name) => {
  test('polynomial and roof give the sampled phase to 1e-3 waves, Zernikes of round patches too', () => {
    const out = packages.get(name) as string;
    const { rows } = table(join(out, 'coefficients.csv'));
    const samples = table(join(out, 'samples.csv')).rows;
    const ids = new Set(rows.map((row) => row.patch!));
    for (const id of ids) {
      const points = samples.filter((row) => row.patch === id);
      expect(points).toHaveLength(10);
      for (const point of points) {
        const [x, y, phase] = ['x_mm', 'y_mm', 'phase_waves'].map((key) => num(point, key));
        const roof = rowsPhase(rows, id, 'roof')?.(x, y) ?? 0;
        expect(Math.abs(rowsPhase(rows, id, 'xy')!(x, y) + roof - phase)).toBeLessThan(BOUND);
        const round = rowsPhase(rows, id, 'zernike');
        if (round !== undefined) expect(Math.abs(round(x, y) + roof - phase)).toBeLessThan(BOUND);
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
    expect(head).toMatch(/E_out\(P\) = E_in\(P\) \+ m \* lambda \* Phi\(P\)/);
    expect(head).toMatch(/roof/);
    expect(table(join(out, 'samples.csv')).head).toMatch(/E_out\(P\)/);
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
  expect(num(roof[0]!, 'coefficient_waves')).toBe(0.5);
});

const xmllint = program('xmllint');
test.skipIf(lacks({ xmllint })).each(EXAMPLES)('xmllint finds layout.svg of %s well formed', (name) => {
  const drawing = join(packages.get(name) as string, 'layout.svg');
  const { status, stderr } = spawnSync(xmllint!, ['--noout', drawing], { encoding: 'utf8' });
  expect({ status, stderr }).toEqual({ status: 0, stderr: '' });
});
