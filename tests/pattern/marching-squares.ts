/** Marching squares of a patch's phase by contourpy, as a rival to the tracer: edges, vertices, time, worst error. */
import { readFileSync, writeFileSync } from 'node:fs';
import type { DesignedPatch } from '../../src/design/design.ts';
import { boundsOf } from '../../src/geometry/extent.ts';
import { pythonRival } from './python-rival.ts';

export interface MarchingSquares {
  readonly edges: number;
  readonly vertices: number;
  /** CPU. */
  readonly seconds: number;
  /** MB at the most. */
  readonly resident: number;
  /** Largest deviation of vertices and middles of sides from their fringe, mm. */
  readonly worst: number;
}

const contourpy = pythonRival('marching-squares.py', 'contourpy', 'numpy');
export const hasContourpy = contourpy !== undefined;

/** On a grid of `cells` × `cells` over the patch's box (a rectangle along the axes), at every k and k + dutyCycle. */
export function marchingSquares(
  patch: DesignedPatch,
  cells: number,
  dutyCycle: number,
  repetitions: number,
): MarchingSquares {
  const { minX, maxX, minY, maxY } = boundsOf(patch.outline);
  const n = cells + 1;
  const xs = Float64Array.from({ length: n * n }, (_, k) => minX + ((maxX - minX) * (k % n)) / cells);
  const ys = Float64Array.from(
    { length: n * n },
    (_, k) => minY + ((maxY - minY) * Math.floor(k / n)) / cells,
  );
  const phases = patch.phase.phases(xs, ys);
  const [least, most] = phases.reduce(
    ([a, b], v) => [Math.min(a!, v), Math.max(b!, v)],
    [Infinity, -Infinity],
  );
  const levels: number[] = [];
  for (let k = Math.floor(least!); k <= most!; k++) levels.push(k, k + dutyCycle);
  return contourpy!(({ file, run }) => {
    writeFileSync(file('phase'), phases);
    writeFileSync(file('levels'), Float64Array.from(levels));
    const told = run(file('phase'), `${n}`, `${n}`, file('levels'), file('vertices'), `${repetitions}`);
    const bytes = readFileSync(file('vertices'));
    const vertices = new Float64Array(bytes.buffer.slice(bytes.byteOffset, bytes.byteOffset + bytes.length));
    return {
      ...(told as Omit<MarchingSquares, 'worst'>),
      worst: worstOf(patch, vertices, minX, (maxX - minX) / cells, minY, (maxY - minY) / cells, dutyCycle),
    };
  });
}

/** The levels are told from the phase: every vertex is next to one of k and k + dutyCycle. */
function worstOf(
  patch: DesignedPatch,
  vertices: Float64Array,
  minX: number,
  stepX: number,
  minY: number,
  stepY: number,
  dutyCycle: number,
): number {
  const xs: number[] = [];
  const ys: number[] = [];
  for (let k = 0; k < vertices.length; k += 2) {
    const [x, y] = [minX + stepX * vertices[k]!, minY + stepY * vertices[k + 1]!];
    if (Number.isNaN(x)) continue;
    xs.push(x);
    ys.push(y);
    const [nextX, nextY] = [minX + stepX * vertices[k + 2]!, minY + stepY * vertices[k + 3]!];
    if (!(nextX >= minX)) continue;
    xs.push((x + nextX) / 2);
    ys.push((y + nextY) / 2);
  }
  const phases = patch.phase.phases(Float64Array.from(xs), Float64Array.from(ys));
  const { gx, gy } = patch.phase.gradients(Float64Array.from(xs), Float64Array.from(ys));
  let worst = 0;
  phases.forEach((phase, k) => {
    const fraction = phase - Math.floor(phase);
    const waves = Math.min(fraction, 1 - fraction, Math.abs(fraction - dutyCycle));
    worst = Math.max(worst, waves / Math.hypot(gx[k]!, gy[k]!));
  });
  return worst;
}
