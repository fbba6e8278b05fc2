/**
 * The main pattern of a 90 mm aperture at a period of 3 µm, an off-axis section of an asphere, written as OASIS: vertices per second of CPU,
 * seconds and the process's largest resident memory. Every n-th pattern line (`DATUMLIGHT_BENCH_EVERY`, default 10; 1 for all) stands for
 * the rest: the lines are traced one after the other. Run by `npm run bench`.
 */
import { bench, describe } from 'vitest';
import { periodRange } from '../../src/design/period-range.ts';
import { boundsOf } from '../../src/geometry/extent.ts';
import { designFrom } from '../metrology/support/design-from.ts';
import { writtenTo } from '../writing/pattern/pattern-design.ts';

const EVERY = Number(process.env.DATUMLIGHT_BENCH_EVERY ?? 10);
const MOST_RESIDENT_MB = 400;

const design = designFrom({
  interferometer: { focus: [0, 0, -500] },
  substrate: {
    outline: { circle: { diameter: 150 } },
    thickness: 6.35,
    glass: 'fused silica',
    patternFaces: 'interferometer',
  },
  part: {
    origin: [-105, 0, 300],
    datums: { M: { asphere: { vertex: [0, 0, 0], axis: [0, 0, 1], radius: -800, conic: -1 } } },
  },
  test: { surface: 'M', aperture: { circle: { diameter: 134, centre: [161, 0] } }, margin: 0 },
});

function written(): { bytes: number; vertices: number; polygons: number } {
  let bytes = 0;
  const { patches } = writtenTo(design, { every: EVERY, main: true }, [
    {
      format: 'oas',
      sink: (piece) => {
        bytes += piece.length;
      },
    },
  ]);
  const { vertices, polygons } = patches[0]!;
  return { bytes, vertices, polygons };
}

const { min, max } = periodRange(design.main!);
const { minX, minY, maxX, maxY } = boundsOf(design.main!.outline);
const start = process.cpuUsage();
const { bytes, vertices, polygons } = written();
const { user, system } = process.cpuUsage(start);
const resident = process.resourceUsage().maxRSS / 1024;
console.log(
  JSON.stringify({
    'mm by mm': `${(maxX - minX).toFixed(1)} ${(maxY - minY).toFixed(1)}`,
    'period um': `${(1000 * min).toFixed(2)} to ${(1000 * max).toFixed(2)}`,
    every: EVERY,
    polygons,
    vertices,
    'MB written': Number((bytes / 1e6).toFixed(1)),
    's CPU': Number(((user + system) / 1e6).toFixed(1)),
    'vertices/s': Math.round((1e6 * vertices) / (user + system)),
    'MB resident, vitest included': Math.round(resident),
  }),
);
if (!(resident < MOST_RESIDENT_MB))
  throw new Error(`${resident} MB resident; expected under ${MOST_RESIDENT_MB}`);

describe('main pattern', () => {
  bench(
    'every line of so many',
    () => {
      if (written().vertices === 0) throw new Error('empty');
    },
    { iterations: 1, warmupIterations: 0, time: 0, warmupTime: 0 },
  );
});
