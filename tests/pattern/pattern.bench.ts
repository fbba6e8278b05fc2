/**
 * Speed of the written pattern: fringe edges against contourpy's marching squares of the same phase at the same worst error, and files end
 * to end beside gdspy, which writes the same polygons when they are at hand (where the two are installed). Run by `npm run bench`; the
 * tables of the comparisons are printed first.
 */
import { bench, describe } from 'vitest';
import type { Design } from '../../src/design/design.ts';
import { tracePattern } from '../../src/pattern/trace-pattern.ts';
import { writtenTo } from '../writing/pattern/pattern-design.ts';
import { gdspyWrite, hasGdspy } from './gdspy-write.ts';
import { hasContourpy, marchingSquares } from './marching-squares.ts';
import { rectangle, samplePatch } from './sample-patches.ts';

const CELLS = 156;
const REPETITIONS = 5;

const RIVALS = [
  {
    name: 'point, fringes at 45°',
    outline: rectangle([40, 40], 10),
    centre: [40, 40],
    target: [90, 90, 900],
  },
  {
    name: 'line, along the fringes',
    outline: rectangle([40, 40], 10),
    centre: [40, 40],
    target: [80, 80, 900],
    lineAngle: -Math.PI / 4,
  },
  {
    name: 'line, arched fringes',
    outline: rectangle([0, 60], 10),
    centre: [0, 60],
    target: [0, 150, 900],
    lineAngle: Math.PI / 2,
  },
  { name: 'point near by', outline: rectangle([40, 20], 10), centre: [40, 20], target: [42, 18, 300] },
] as const;

const vertices = { dutyCycle: 0.5, waves: 1, grid: 0 };

if (hasContourpy()) {
  const rows = RIVALS.map(({ name, ...given }) => {
    const patch = samplePatch(given);
    const rival = marchingSquares(patch, CELLS, 0.5, REPETITIONS);
    let [seconds, edges, count] = [Number.POSITIVE_INFINITY, 0, 0];
    for (let repetition = 0; repetition < 4 * REPETITIONS; repetition++) {
      const start = process.cpuUsage().user;
      [edges, count] = [0, 0];
      for (const zone of tracePattern(patch, { ...vertices, distance: rival.worst }).zones()) {
        edges += 2;
        count += zone.count;
      }
      seconds = Math.min(seconds, (process.cpuUsage().user - start) / 1e6);
    }
    return {
      patch: name,
      'worst error, nm': Math.round(rival.worst * 1e6),
      'edges: rival': rival.edges,
      ours: edges,
      'edges/s: rival': Math.round(rival.edges / rival.seconds),
      'ours/s': Math.round(edges / seconds),
      faster: (edges / seconds / (rival.edges / rival.seconds)).toFixed(1),
      'vertices/edge: rival': (rival.vertices / rival.edges).toFixed(1),
      'ours/edge': (count / edges).toFixed(1),
      fewer: (rival.vertices / rival.edges / (count / edges)).toFixed(2),
    };
  });
  for (const row of rows) console.log(JSON.stringify(row));
}

const large = samplePatch({ outline: rectangle([50, 0], 25), centre: [50, 0], target: [220, 0, 400] });
const design = {
  patches: [large],
  light: { wavelength: 632.8e-6 },
  scenario: {
    process: { dutyCycle: 0.5, minFeature: 5e-4 },
    keepOuts: [],
    seats: [],
    substrate: { outline: rectangle([0, 0], 150) },
  },
} as unknown as Design;

/** Vertices a second of one patch of 25 mm at 1.84 µm: some nine million, so that a run's time is told by them; both formats come from one trace. */
for (const formats of [['gds'], ['oas'], ['gds', 'oas']] as const) {
  let [best, count, bytes] = [Number.POSITIVE_INFINITY, 0, 0];
  for (let repetition = 0; repetition < 3; repetition++) {
    const start = process.cpuUsage().user;
    bytes = 0;
    const outputs = formats.map((format) => ({
      format,
      sink: (piece: Uint8Array) => {
        bytes += piece.length;
      },
    }));
    const summary = writtenTo(design, {}, outputs);
    count = summary.patches[0]!.vertices;
    best = Math.min(best, (process.cpuUsage().user - start) / 1e6);
  }
  console.log(
    `${formats.join(' and ')}: ${count} vertices, ${bytes} bytes, ${(count / best / 1e6).toFixed(1)} million vertices a second, ` +
      `resident ${Math.round(process.memoryUsage().rss / 1e6)} MB`,
  );
}

if (hasGdspy()) {
  const { vertices, seconds, bytes, resident } = gdspyWrite(large, 0.5);
  console.log(
    `gds by gdspy, of polygons at hand: ${vertices} vertices, ${bytes} bytes, ${(vertices / seconds / 1e6).toFixed(1)} million vertices a ` +
      `second, resident ${Math.round(resident)} MB`,
  );
}

describe('pattern', () => {
  const patch = samplePatch(RIVALS[0]);
  bench('zones of a 10 mm patch at 5 nm', () => {
    for (const zone of tracePattern(patch, { dutyCycle: 0.5 }).zones())
      if (zone.count === 0) throw new Error('empty');
  });
});
