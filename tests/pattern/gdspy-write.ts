/** The zones of a patch written by gdspy, as a rival to the GDSII writer: gdspy is given the polygons, the program traces them besides. */
import { spawnSync } from 'node:child_process';
import { closeSync, mkdtempSync, openSync, rmSync, writeFileSync, writeSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { dirname, join } from 'node:path';
import { fileURLToPath } from 'node:url';
import type { DesignedPatch } from '../../src/design/design.ts';
import { tracePattern } from '../../src/pattern/trace-pattern.ts';

const PYTHON = '/usr/bin/python3';
const SCRIPT = join(dirname(fileURLToPath(import.meta.url)), 'gdspy-write.py');
const UM_PER_MM = 1e3;

interface GdspyRun {
  readonly polygons: number;
  readonly vertices: number;
  /** CPU. */
  readonly seconds: number;
  readonly bytes: number;
  /** MB at the most. */
  readonly resident: number;
}

export const hasGdspy = (): boolean =>
  spawnSync(PYTHON, ['-c', 'import gdspy, numpy'], { stdio: 'ignore' }).status === 0;

export function gdspyWrite(patch: DesignedPatch, dutyCycle: number): GdspyRun {
  const folder = mkdtempSync(join(tmpdir(), 'gdspy-'));
  const file = (name: string): string => join(folder, name);
  try {
    const vertices = openSync(file('vertices'), 'w');
    const counts: number[] = [];
    for (const { xy, count } of tracePattern(patch, { dutyCycle }).zones()) {
      writeSync(
        vertices,
        xy.subarray(0, 2 * count).map((value) => value * UM_PER_MM),
      );
      counts.push(count);
    }
    closeSync(vertices);
    writeFileSync(file('counts'), Uint32Array.from(counts));
    const run = spawnSync(PYTHON, [SCRIPT, file('vertices'), file('counts'), file('pattern.gds')], {
      encoding: 'utf8',
    });
    if (run.status !== 0) throw new Error(run.stderr);
    return JSON.parse(run.stdout);
  } finally {
    rmSync(folder, { recursive: true });
  }
}
