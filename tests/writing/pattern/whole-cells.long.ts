/**
 * Whole cells of all examples, 94 million vertices, by programs that share no code with src/: klayout counts vertices, duplicates and
 * polygons that cross themselves; scan lines in four directions measure lines, spaces and double cover. Database units of 1 nm.
 */
import { spawnSync } from 'node:child_process';
import { readFileSync } from 'node:fs';
import { dirname, join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { describe, expect, it } from 'vitest';
import { datumlight, folder } from '../../cli/support/run.ts';
import { lacks } from '../../machine/outside-programs.ts';
import { eachBoundary } from './gdsii-boundaries.ts';
import { klayout } from './rule-check.ts';
import { scanRules } from './scanned-rules.ts';

const EXAMPLES = [
  'converging-retroreflectors',
  'diverging-balls',
  'freeform-mirror',
  'full-bench',
  'infrared-collimated',
  'off-axis-asphere',
  'steer-mirror-on-stage',
  'transfer-mirror-on-rim',
];
const LIMIT = 4094;
/** Scan lines of each of four directions. */
const LINES = 120;
/** Times the least width: so near to the outline zones are cut off as it will. */
const MARGIN = 5;
/** Of the grid, at each of two edges. */
const ROUNDED = 1;

const SCRIPT = join(dirname(fileURLToPath(import.meta.url)), 'whole-cells.py');

interface ReportRow {
  readonly id: string;
  readonly period_um: { readonly min: number };
}
interface CellRow {
  readonly id: string;
  readonly cell: string;
  readonly bound_nm: number;
  readonly vertices: number;
}

async function made(example: string): Promise<string> {
  const out = join(folder(), 'package');
  const { code } = await datumlight(['make', `examples/${example}.yaml`, '--out', out, '--pattern', 'gds']);
  expect(code).toBe(0);
  return out;
}

function byKlayout(file: string, cells: readonly CellRow[]) {
  const out = join(folder(), 'found.json');
  const names = cells.map(({ cell }) => cell).join(',');
  const given = { file, cells: names, out };
  const options = Object.entries(given).flatMap(([key, value]) => ['-rd', `${key}=${value}`]);
  const run = spawnSync(klayout!, ['-b', '-r', SCRIPT, ...options], {
    encoding: 'utf8',
    env: { ...process.env, QT_QPA_PLATFORM: 'offscreen' },
  });
  if (run.status !== 0) throw new Error(`${run.stderr}${run.status}`);
  return JSON.parse(readFileSync(out, 'utf8'));
}

describe.skipIf(lacks({ klayout })).each(EXAMPLES)('%s', (example) => {
  it('has no fault in any of its cells', async () => {
    const out = await made(example);
    const { patches, pattern } = JSON.parse(readFileSync(join(out, 'report.json'), 'utf8'));
    const [, duty = '0.5'] =
      /dutyCycle: ([\d.]+)/.exec(readFileSync(`examples/${example}.yaml`, 'utf8')) ?? [];
    const share = Math.min(Number(duty), 1 - Number(duty));
    const file = join(out, 'pattern.gds');
    const cells: readonly CellRow[] = pattern.files[0].patches;
    expect(cells.length).toBeGreaterThan(2);
    const found = byKlayout(file, cells);
    const bytes = readFileSync(file);
    for (const { id, cell, bound_nm } of cells) {
      const { most, polygons, ...faults } = found[cell];
      expect({ id, ...faults }).toEqual({ id, twice: 0, strange: 0 });
      expect(most).toBeLessThanOrEqual(LIMIT);
      const { period_um }: ReportRow = patches.find((row: ReportRow) => row.id === id);
      const least = 1000 * share * period_um.min - 2 * (bound_nm + ROUNDED);
      const scanned = scanRules(
        (take) => eachBoundary(bytes, cell, 1, 0, take),
        (take) => eachBoundary(bytes, cell, 11, 0, take),
        { least, margin: MARGIN * least, lines: LINES },
      );
      expect(scanned.polygons).toBe(polygons);
      expect(scanned.judged).toBeGreaterThan(1000);
      expect({ id, ...scanned }).toMatchObject({ id, narrow: 0, close: 0, twice: 0 });
    }
  });
});
