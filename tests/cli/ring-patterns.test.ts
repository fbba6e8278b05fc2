/**
 * Whole rings on a cone and on a torus, tilted and off the axis, through the executable: what `phase`, coefficients.csv and samples.csv
 * say, and what stands in the GDSII and OASIS files on either side of their edges, against the phase by an independent search, which
 * counts from the same zero. Waves at order 1, mm.
 */
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { beforeAll, describe, expect, test } from 'vitest';
import { randomFrom } from '../../src/algebra/random.ts';
import { besideEdges } from '../independent/beside-edges.ts';
import { type Corner, readGds } from '../independent/gdsii.ts';
import { readOasis } from '../independent/oasis.ts';
import { type Point, patchWords, type Scene } from '../independent/scene.ts';
import { type Field, scenePhase, slopeOf } from '../independent/scene-phase.ts';
import { bothRings, wordsOf } from '../pattern/ring-scenes.ts';
import { csvRows, num, rowsPhase, SAMPLE_COLUMNS } from '../writing/support/coefficient-text.ts';
import { datumlight, folder, scenarioFile } from './support/run.ts';

/** Waves: the search is good to 1e-10 mm of path. */
const AGREEMENT = 2e-4;
/** Waves: what a table promises of its fit. */
const FIT = 1e-3;
/** mm: an edge is good to 5 nm, the search to as much. */
const BAND = 1e-5;
const POINTS = 25;
const EDGES = 60;
const LAYER = 1;
const IDS = ['cone-ring', 'torus-ring'];

describe.each(['part', 'interferometer'] as const)('pattern toward the %s', (faces) => {
  const scene = bothRings(faces);
  const file = scenarioFile(JSON.stringify(wordsOf(scene)));
  const out = join(folder(), 'out');
  const text = (name: string): string => readFileSync(join(out, name), 'utf8');

  beforeAll(async () => {
    const { code, stderr } = await datumlight(['make', file, '--out', out, '--pattern', 'gds', 'oas']);
    expect({ code, errors: /\[error/.test(stderr) }).toEqual({ code: 0, errors: false });
  });

  test.each(IDS)('`phase`, the polynomial and the samples of %s agree with the search', async (id) => {
    const wanted = scenePhase(scene, id);
    const points = randomPoints(scene, id);
    const { stdout } = await datumlight(['phase', file, '--patch', id, '--points', '-'], {
      input: `x_mm,y_mm\n${points.map((at) => at.join(',')).join('\n')}\n`,
    });
    const printed = csvRows(stdout).rows;
    expect(printed).toHaveLength(POINTS);
    const polynomial = rowsPhase(csvRows(text('coefficients.csv')).rows, id, 'xy')!;
    points.forEach(([x, y], k) => {
      expect(Math.abs(num(printed[k]!, SAMPLE_COLUMNS.phase) - wanted(x, y))).toBeLessThan(AGREEMENT);
      expect(Math.abs(polynomial(x, y) - wanted(x, y))).toBeLessThan(FIT + AGREEMENT);
    });
    const samples = csvRows(text('samples.csv')).rows.filter((row) => row.patch === id);
    expect(samples.length).toBeGreaterThan(8);
    for (const row of samples) {
      const [x, y, phase] = [SAMPLE_COLUMNS.x, SAMPLE_COLUMNS.y, SAMPLE_COLUMNS.phase].map((key) =>
        num(row, key),
      );
      expect(Math.abs(phase! - wanted(x!, y!))).toBeLessThan(AGREEMENT);
    }
  });

  test.each(['coefficients.csv', 'samples.csv', 'coefficients.html', 'sheet.html', 'layout.svg'])(
    '%s names the zero of a ring whose centre no light leaves, and of no other',
    (name) => {
      const words = text(name)
        .replaceAll(/<[^>]*>|\s/g, ' ')
        .replaceAll(/ +/g, ' ');
      const found = [
        ...words.matchAll(/No light leaves the centre of patch ([\w-]+): its Phi = 0 at \(([^)]*)\) mm/g),
      ];
      const wanted = faces === 'part' ? [] : ['cone-ring 20.05, 0'];
      expect([...new Set(found.map(([, id, at]) => `${id} ${at}`))]).toEqual(wanted);
    },
  );

  test.each(['gds', 'oas'] as const)(
    'points on either side of edges in pattern.%s are written as the search says',
    (format) => {
      const { patches } = JSON.parse(text('report.json')).pattern.files[0];
      expect(patches.map(({ id }: { id: string }) => id)).toEqual(IDS);
      const cells = patches.map(({ cell }: { cell: string }) => cell);
      polygonsIn(readFileSync(join(out, `pattern.${format}`)), format, cells).forEach((polygons, k) => {
        const id = IDS[k]!;
        const found = judged(polygons, scene, id, scenePhase(scene, id));
        expect({ id, wrong: found.wrong }).toEqual({ id, wrong: [] });
        expect(found.written).toBeGreaterThan(0.3 * EDGES);
        expect(found.clear).toBeGreaterThan(0.3 * EDGES);
      });
    },
  );
});

function randomPoints(scene: Scene, id: string): Point[] {
  const { inner, outer } = patchWords(scene, id).outline.ring!;
  const random = randomFrom(`points of ${id}`);
  return Array.from({ length: POINTS }, () => {
    const [r, t] = [(inner + (outer - inner) * random.uniform()) / 2, 2 * Math.PI * random.uniform()];
    return [r * Math.cos(t), r * Math.sin(t)];
  });
}

/** Of each cell. */
function polygonsIn(bytes: Buffer, format: 'gds' | 'oas', cells: readonly string[]): (readonly Corner[])[][] {
  const oas = format === 'oas' ? readOasis(bytes).cells : undefined;
  const gds = format === 'gds' ? readGds(bytes) : undefined;
  return cells.map((cell) =>
    (oas?.get(cell) ?? gds!.polygons(cell))
      .filter(({ layer }) => layer === LAYER)
      .map(({ points }) => points),
  );
}

/** Twice BAND from an edge; what comes near another edge, or the outline, is not judged. */
function judged(polygons: readonly (readonly Corner[])[], scene: Scene, id: string, phase: Field) {
  const { inner, outer } = patchWords(scene, id).outline.ring!;
  const random = randomFrom(`edges of ${id}`);
  const counts = { written: 0, clear: 0, wrong: [] as string[] };
  const places = besideEdges(polygons, { count: EDGES, distance: 2 * BAND, uniform: () => random.uniform() });
  for (const { at, times } of places) {
    const radius = Math.hypot(...at);
    if (Math.min(Math.abs(radius - inner / 2), Math.abs(radius - outer / 2)) < BAND) continue;
    const isInside = radius > inner / 2 && radius < outer / 2;
    const value = phase(...at);
    const part = value - Math.floor(value);
    if (Math.min(part, 1 - part, Math.abs(part - 0.5)) < BAND * Math.hypot(...slopeOf(phase, ...at)))
      continue;
    const isWritten = isInside && part < 0.5;
    if (times !== (isWritten ? 1 : 0)) counts.wrong.push(`${times} times at ${at}, phase ${value}`);
    counts[isWritten ? 'written' : 'clear']++;
  }
  return counts;
}
