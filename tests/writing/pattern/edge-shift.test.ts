/**
 * The edge shift measured on the polygons that GDSII and OASIS bring, by readers of their own, against fringes found by brute force:
 * each edge of a line outward by the bias along its normal (inward for a negative one), whichever way the lines run, at their ends on
 * the patch's edge too, the patch's own edge staying where it is. mm.
 */
import { describe, expect, test } from 'vitest';
import { type Corner, readGds } from '../../independent/gdsii.ts';
import { readOasis } from '../../independent/oasis.ts';
import { insideOf, pointAt, type ScanLine } from '../../independent/scan-line.ts';
import type { PatchWords } from '../../independent/scene.ts';
import { edgePolygons, outsideBy } from '../../independent/scene-outline.ts';
import { type Field, scenePhase, slopeOf } from '../../independent/scene-phase.ts';
import { DUTY, LINE_SCENE, STRAIGHT } from '../support/line-scene.ts';
import { patternFilesOfScene } from '../support/made-pattern.ts';

const NANOMETRE = 1e-6;
/** What the README promises of an edge, and the rounding to the file's grid of 1 nm. */
const PROMISED = 5 * NANOMETRE;
const GRID = 1 * NANOMETRE;
/** A scan line so near to the patch's edge meets the very ends of the lines. */
const AT_END = 30 * NANOMETRE;
const WRITTEN = 1;
/** Points looked at in each patch. */
const POINTS = 300;
/** The patch's round edges are followed by chords as good as the fringes. */
const CHORD = PROMISED + GRID;

const BIASES = ['0 nm', '100 nm', '-100 nm', '0.35 um', '-350 nm'] as const;
const inMm = (words: string): number => Number.parseFloat(words) * (words.endsWith('um') ? 1e-3 : NANOMETRE);

/** Lines along the sides of the patch's outline, just within them and a third of the way in; or through a round one. */
function scanLines(patch: PatchWords): ScanLine[] {
  const { centre, outline } = patch;
  const turned = outline.rectangle ? (outline.rectangle.rotation ?? 0) : 17;
  const [width, height] = outline.rectangle
    ? [outline.rectangle.width, outline.rectangle.height]
    : [outline.circle ? outline.circle.diameter : outline.ring!.outer, 0].map((size) => size || 0.1);
  const [c, s] = [Math.cos((turned * Math.PI) / 180), Math.sin((turned * Math.PI) / 180)];
  const place = (u: number, v: number): Corner => [centre[0] + u * c - v * s, centre[1] + u * s + v * c];
  const insets = (size: number): number[] =>
    outline.rectangle
      ? [-size / 2 + AT_END, -size / 6, size / 4, size / 2 - AT_END]
      : [-0.3 * size, 0.02 * size, 0.4 * size];
  return [
    ...insets(height!).map((v): ScanLine => ({ from: place(0, v), along: [c, s] })),
    ...insets(width!).map((u): ScanLine => ({ from: place(u, 0), along: [-s, c] })),
  ];
}

interface Edge {
  readonly run: number;
  /** Whether the line begins or ends there, along the scan. */
  readonly begins: boolean;
  /** Cosine of the angle between the scan and the fringes' normal. */
  readonly steep: number;
}

/** Where Φ passes k or k + duty along the scan within [from, to], by bisection. */
function fringeEdges(phase: Field, line: ScanLine, from: number, to: number): Edge[] {
  const isLine = (run: number): boolean => {
    const waves = phase(...pointAt(line, run));
    return waves - Math.floor(waves) < DUTY;
  };
  const steps = 400;
  const edges: Edge[] = [];
  for (let k = 0; k < steps; k++) {
    let [a, b] = [from + ((to - from) * k) / steps, from + ((to - from) * (k + 1)) / steps];
    const [before, after] = [isLine(a), isLine(b)];
    if (before === after) continue;
    while (b - a > 1e-9) {
      const middle = (a + b) / 2;
      if (isLine(middle) === before) a = middle;
      else b = middle;
    }
    const [gx, gy] = slopeOf(phase, ...pointAt(line, a), 1e-5);
    const steep = Math.abs(gx * line.along[0] + gy * line.along[1]) / Math.hypot(gx, gy);
    edges.push({ run: a, begins: after, steep });
  }
  return edges;
}

/** Points about the corners of what is written, as far off as the bias goes or somewhat more. */
const besideCorners = (corners: readonly Corner[], bias: number): Corner[] =>
  Array.from({ length: POINTS }, (_, k): Corner => {
    const [x, y] = corners[Math.floor((k * corners.length) / POINTS)]!;
    const way = (0.3 + (k % 7) / 2) * Math.max(Math.abs(bias), 2 * PROMISED);
    return [x + way * Math.cos(2.4 * k), y + way * Math.sin(2.4 * k)];
  });

/** Points just within the patch's edge, all around. */
const besideEdge = (patch: PatchWords): Corner[] =>
  edgePolygons(patch, 60).flatMap((edge) =>
    edge.flatMap(([x, y], k): Corner[] => {
      const [u, v] = edge[(k + 1) % edge.length]!;
      const size = Math.hypot(u - x, v - y);
      return [1, -1].map(
        (side): Corner => [
          (x + u) / 2 - (side * AT_END * (v - y)) / size,
          (y + v) / 2 + (side * AT_END * (u - x)) / size,
        ],
      );
    }),
  );

/** How far a point lies in the nearest line, mm (negative: beside it), and the point of that line's edge that is nearest. */
function inLine(phase: Field, [x, y]: Corner): { depth: number; foot: Corner } {
  const [gx, gy] = slopeOf(phase, x, y, 1e-5);
  const slope = Math.hypot(gx, gy);
  const waves = phase(x, y);
  const fromMiddle = waves - Math.round(waves - DUTY / 2) - DUTY / 2;
  const depth = (DUTY / 2 - Math.abs(fromMiddle)) / slope;
  const way = (Math.sign(fromMiddle) * depth) / slope;
  return { depth, foot: [x + way * gx, y + way * gy] };
}

const isCovered = (polygons: readonly (readonly Corner[])[], [x, y]: Corner): boolean =>
  insideOf(polygons, { from: [x, y], along: [1, 0] }).some(([start, end]) => start < 0 && end > 0);

const cells = ['gds', 'oas'] as const;
/** The written polygons of each patch by the format; its cell has its name. */
function writtenBy(edgeShift: string) {
  const { files } = patternFilesOfScene(LINE_SCENE, { edgeShift });
  const gds = readGds(files.get('pattern.gds')!);
  const oas = readOasis(files.get('pattern.oas')!);
  const of = (polygons: readonly { layer: number; points: readonly Corner[] }[]) =>
    polygons.filter(({ layer }) => layer === WRITTEN).map(({ points }) => points);
  return (format: (typeof cells)[number], id: string) =>
    of(format === 'gds' ? gds.polygons(id) : oas.cells.get(id)!);
}

describe.each(BIASES)('a edge shift of %s', (edgeShift) => {
  const bias = inMm(edgeShift);
  const polygonsOf = writtenBy(edgeShift);

  test.each(LINE_SCENE.patches.map((patch) => [patch.id, patch] as const))(
    'moves both edges of every line of the patch %s by itself',
    (id, patch) => {
      const phase = scenePhase(LINE_SCENE, id);
      const isStraight = id in STRAIGHT;
      const polygons = polygonsOf('gds', id);
      let measured = 0;
      for (const line of scanLines(patch)) {
        const ends = insideOf(polygons, line).flatMap(([start, end]) => [
          { run: start, begins: true },
          { run: end, begins: false },
        ]);
        for (const [low, high] of insideOf(edgePolygons(patch, isStraight ? 1 : 200), line)) {
          for (const { run, begins, steep } of fringeEdges(phase, line, low, high)) {
            // Along the fringes nothing can be measured; and an edge within reach of the patch's corner has nowhere to go.
            if (steep < 0.3) continue;
            const reach = Math.abs(bias) / steep + 2 * GRID;
            if (Math.min(run - low, high - run) < 2 * reach) continue;
            const wanted = run + ((begins ? -1 : 1) * bias) / steep;
            const nearest = Math.min(
              ...ends.filter((end) => end.begins === begins).map((end) => Math.abs(end.run - wanted)),
            );
            expect(nearest * steep, `${id} at ${pointAt(line, run)}`).toBeLessThan(
              (isStraight ? 0 : PROMISED) + GRID,
            );
            measured++;
          }
        }
      }
      expect(measured).toBeGreaterThan(id === 'single' ? 5 : 20);
    },
  );

  test('holds at corners and at the ends of lines, however slanting: what is written is told by the distance from the lines', () => {
    for (const patch of LINE_SCENE.patches) {
      const [phase, polygons] = [scenePhase(LINE_SCENE, patch.id), polygonsOf('gds', patch.id)];
      for (const point of [...besideCorners(polygons.flat(), bias), ...besideEdge(patch)]) {
        if (outsideBy(patch, point) > -CHORD) continue;
        const { depth, foot } = inLine(phase, point);
        // Of lines beyond the patch nothing is written.
        if (outsideBy(patch, foot) > -CHORD || Math.abs(depth + bias) < PROMISED + GRID) continue;
        expect(isCovered(polygons, point), `${patch.id} at ${point}`).toBe(depth + bias > 0);
      }
    }
  });

  test('leaves the patch’s own edge where it is: nothing is written beyond it', () => {
    for (const patch of LINE_SCENE.patches)
      for (const point of polygonsOf('gds', patch.id).flat())
        expect(outsideBy(patch, point)).toBeLessThan(GRID);
  });

  test('is in OASIS as in GDSII, corner by corner', () => {
    const inSteps = (polygons: readonly (readonly Corner[])[]) =>
      polygons.map((points) => points.map((point) => point.map((value) => Math.round(value / GRID))));
    for (const { id } of LINE_SCENE.patches)
      expect(inSteps(polygonsOf('oas', id))).toEqual(inSteps(polygonsOf('gds', id)));
  });
});
