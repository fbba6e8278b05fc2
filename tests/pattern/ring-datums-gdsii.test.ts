/**
 * GDSII of rings around a cone or a torus that is decentred and tilted, glass before or after the pattern: random points in the
 * written polygons against the phase by brute force (foot of the normal by search). Points within BAND of an edge are not judged.
 */
import { expect, test } from 'vitest';
import { randomFrom } from '../../src/algebra/random.ts';
import { writePattern } from '../../src/writing/pattern/write-pattern.ts';
import { readGds } from '../independent/gdsii.ts';
import { scenePhase, slopeOf } from '../independent/scene-phase.ts';
import { designFrom } from '../metrology/support/design-from.ts';
import { CASES, ring, ringScene, wordsOf } from './ring-scenes.ts';

/** mm: the bound of an edge, 5 nm, and as much for the brute-force search. */
const BAND = 1e-5;
const LAYER = 1;
const POINTS = 60;
const [INNER, OUTER] = [20, 20.1];

test.each(CASES)('a ring for a tilted %s, pattern toward the %s, is written as the phase says', (...of) => {
  const scene = ringScene(of, ring(2 * INNER, 2 * OUTER));
  const design = designFrom(wordsOf(scene));
  const bytes: Buffer[] = [];
  const sink = (chunk: Uint8Array) => void bytes.push(Buffer.from(chunk));
  const { patches } = writePattern(design, { format: 'gds' }, sink);
  const library = readGds(Buffer.concat(bytes));
  const written = library.polygons(patches[0]!.cell).filter(({ layer }) => layer === LAYER);
  const phase = scenePhase(scene, 'ring');
  const random = randomFrom('rings');
  let wrong = 0;
  let judged = 0;
  for (let k = 0; k < POINTS; k++) {
    const [r, t] = [INNER + 1e-3 + (OUTER - INNER - 2e-3) * random.uniform(), 2 * Math.PI * random.uniform()];
    const at = [r * Math.cos(t), r * Math.sin(t)] as const;
    const value = phase(...at);
    const part = value - Math.floor(value);
    if (Math.min(part, 1 - part, Math.abs(part - 0.5)) < BAND * Math.hypot(...slopeOf(phase, ...at)))
      continue;
    judged++;
    const times = written.filter(({ points }) => holds(points, ...at)).length;
    if (times !== (part < 0.5 ? 1 : 0)) wrong++;
  }
  expect(wrong).toBe(0);
  expect(judged).toBeGreaterThan(0.9 * POINTS);
});

function holds(points: readonly (readonly [number, number])[], x: number, y: number): boolean {
  let inside = false;
  points.forEach(([x1, y1], i) => {
    const [x0, y0] = points[(i + points.length - 1) % points.length]!;
    if (y0 > y !== y1 > y && x < x0 + ((y - y0) / (y1 - y0)) * (x1 - x0)) inside = !inside;
  });
  return inside;
}
