/** The zones of a patch written by gdspy, as a rival to the GDSII writer: gdspy is given the polygons, the program traces them besides. */
import { closeSync, openSync, writeFileSync, writeSync } from 'node:fs';
import type { DesignedPatch } from '../../src/design/design.ts';
import { tracePattern } from '../../src/pattern/trace-pattern.ts';
import { pythonRival } from './python-rival.ts';

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

const gdspy = pythonRival('gdspy-write.py', 'gdspy', 'numpy');
export const hasGdspy = gdspy !== undefined;

export const gdspyWrite = (patch: DesignedPatch, dutyCycle: number): GdspyRun =>
  gdspy!(({ file, run }) => {
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
    return run(file('vertices'), file('counts'), file('pattern.gds')) as GdspyRun;
  });
