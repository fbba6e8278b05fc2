/**
 * Speed of the written pattern: fringe edges against contourpy's marching squares of the same phase at the same worst error; then one large
 * patch side by side: traced and written end to end, written by gdspy of polygons that are at hand, and its edges alone as contourpy's
 * contours of the phase on a grid (where the two are installed). Run by `npm run bench`; the tables are printed first.
 */
import { bench, describe } from 'vitest';
import type { Design } from '../../src/design/design.ts';
import { tracePattern } from '../../src/pattern/trace-pattern.ts';
import type { PatternFormat } from '../../src/writing/pattern/write-pattern.ts';
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

/** Of CPU, the program's own and the system's for it, as the rivals count theirs. */
function secondsSince(start: NodeJS.CpuUsage): number {
  const { user, system } = process.cpuUsage(start);
  return (user + system) / 1e6;
}

const vertices = { dutyCycle: 0.5, waves: 1, grid: 0 };

if (hasContourpy) {
  const rows = RIVALS.map(({ name, ...given }) => {
    const patch = samplePatch(given);
    const rival = marchingSquares(patch, CELLS, 0.5, REPETITIONS);
    let [seconds, edges, count] = [Number.POSITIVE_INFINITY, 0, 0];
    for (let repetition = 0; repetition < 4 * REPETITIONS; repetition++) {
      const start = process.cpuUsage();
      [edges, count] = [0, 0];
      for (const zone of tracePattern(patch, { ...vertices, distance: rival.worst }).zones()) {
        edges += 2;
        count += zone.count;
      }
      seconds = Math.min(seconds, secondsSince(start));
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

/** Of the large patch's side: the pitch of the grids above. */
const LARGE_CELLS = Math.round(CELLS * 2.5);

interface Side {
  readonly vertices: number;
  /** CPU. */
  readonly seconds: number;
  /** Of the files; undefined where there is none. */
  readonly bytes?: number;
  /** MB */
  readonly resident: number;
  /** mm; undefined where it is that of the polygons given. */
  readonly worst?: number;
}
const best = (runs: readonly Side[]): Side => runs.reduce((a, b) => (b.seconds < a.seconds ? b : a));

/** One patch of 25 mm at 1.84 µm: some nine million vertices, so that a run's time is told by them; both formats come from one trace. */
function tracedAndWritten(formats: readonly PatternFormat[]): Side {
  let bytes = 0;
  const sink = (piece: Uint8Array): void => {
    bytes += piece.length;
  };
  const start = process.cpuUsage();
  const summary = writtenTo(
    design,
    {},
    formats.map((format) => ({ format, sink })),
  );
  const seconds = secondsSince(start);
  const { vertices, worst } = summary.patches[0]!;
  return { vertices, seconds, bytes, worst, resident: process.memoryUsage().rss / 1e6 };
}

const repeated = (run: () => Side): Side => best(Array.from({ length: 3 }, run));
const sides: Record<string, Side> = {};
for (const formats of [['gds'], ['oas'], ['gds', 'oas']] as const)
  sides[`traced and written: ${formats.join(' and ')}`] = repeated(() => tracedAndWritten(formats));
if (hasGdspy) sides['polygons at hand written by gdspy: gds'] = repeated(() => gdspyWrite(large, 0.5));
if (hasContourpy)
  sides[`contourpy, edges alone, ${LARGE_CELLS} cells a side`] = marchingSquares(large, LARGE_CELLS, 0.5, 1);

for (const [task, { vertices, seconds, bytes, resident, worst }] of Object.entries(sides))
  console.log(
    JSON.stringify({
      task,
      'million vertices': (vertices / 1e6).toFixed(2),
      'CPU, s': seconds.toFixed(2),
      'million vertices/s': (vertices / seconds / 1e6).toFixed(2),
      'files, MB': bytes === undefined ? 'none' : Math.round(bytes / 1e6),
      'resident, MB': Math.round(resident),
      'worst error, nm': worst === undefined ? 'as given' : (worst * 1e6).toFixed(1),
    }),
  );

describe('pattern', () => {
  const patch = samplePatch(RIVALS[0]);
  bench('zones of a 10 mm patch at 5 nm', () => {
    for (const zone of tracePattern(patch, { dutyCycle: 0.5 }).zones())
      if (zone.count === 0) throw new Error('empty');
  });
});
