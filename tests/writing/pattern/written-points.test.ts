/**
 * Points at random against the phase, by the bytes of a GDSII file as a shop gets it: mirrored for the writer (`--as-written`), with marks on
 * the glass and zones joined across the ridges of roofs. A point is written once where its phase, found by brute force from the words of the
 * scene, says so, and nowhere else; the places near a ridge, near a patch's edge, between the patches and about the marks are drawn apart.
 */
import { expect, test } from 'vitest';
import { marksOf } from '../../../src/design/marks/marks.ts';
import { deviates } from '../../independent/random.ts';
import { lineDirectionOf, type PatchWords, type Point, type Scene } from '../../independent/scene.ts';
import { edgePoints, outsideBy } from '../../independent/scene-outline.ts';
import { scenePhase, slopeOf } from '../../independent/scene-phase.ts';
import { patternFilesOf } from '../support/made-pattern.ts';
import { designOfScene } from '../support/made-phase-files.ts';
import { eachBoundary } from './gdsii-boundaries.ts';

const [DUTY, POINTS] = [0.42, 20_000];
/** What the README promises of an edge, and the file's grid, mm. */
const BOUND = 5e-6 + 1e-6;
const [WRITTEN, MARKS] = [1, 2];
const NM_PER_MM = 1e6;

const roof = (id: string, centre: Point, lineAngle: number, rotation: number): PatchWords => ({
  id,
  reference: 'cube',
  focus: 'line',
  centre,
  lineAngle,
  outline: { rectangle: { width: 4, height: 3, rotation } },
  bias: { shape: 'roof', fringes: 6 },
});
const SCENE: Scene = {
  title: 'Points',
  light: { wavelength: 632.8e-6 },
  interferometer: { focus: [0, 0, -500], fNumber: 3.2 },
  substrate: {
    outline: { circle: { diameter: 150 } },
    thickness: 6.35,
    index: 1.457,
    patternFaces: 'interferometer',
  },
  process: { kind: 'etched', dutyCycle: DUTY, minFeature: 5e-4 },
  marks: 'auto',
  references: [
    { id: 'cube', kind: 'smr', diameter: 38.1, at: [60, 200, 1500] },
    { id: 'ball', kind: 'ball', diameter: 25, at: [-30, -120, 260] },
  ],
  patches: [
    roof('level', [10, 45], 90, 0),
    roof('slanting', [-30, 35], 20, 30),
    {
      id: 'round',
      reference: 'ball',
      focus: 'point',
      centre: [-20, -40],
      outline: { circle: { diameter: 3 } },
      bias: { shape: 'tilt', fringes: 4, direction: 50 },
    },
    {
      id: 'ring',
      reference: 'ball',
      focus: 'point',
      centre: [25, -30],
      outline: { ring: { inner: 2, outer: 4 } },
    },
  ],
};
const design = designOfScene(SCENE);
const { files, report } = patternFilesOf(design, { pattern: ['gds'], asWritten: true });
const bytes = files.get('pattern.gds')!;

test('the data are mirrored', () => expect(report.mirrored).toBe(true));

/** The boundaries of some cells on a layer, by the places of a grid that they reach into; in the frame of the substrate, mm. */
class Written {
  readonly #polygons: Float64Array[] = [];
  readonly #byPlace = new Map<number, number[]>();
  readonly #pitch: number;

  constructor(cells: readonly string[], layer: number, pitch: number) {
    this.#pitch = pitch;
    for (const cell of cells)
      eachBoundary(bytes, cell, layer, 0, (points, count) => this.#add(points, count));
  }

  get size(): number {
    return this.#polygons.length;
  }

  /** How many of the polygons hold the point, each by even-odd. */
  times([x, y]: Point): number {
    const near = this.#byPlace.get(this.#key(this.#step(x), this.#step(y))) ?? [];
    return near.filter((k) => holds(this.#polygons[k]!, x, y)).length;
  }

  /** The data are x to -x of the substrate frame. */
  #add(points: Int32Array, count: number): void {
    const polygon = Float64Array.from({ length: 2 * count }, (_, k) => {
      const value = points[k]! / NM_PER_MM;
      return k % 2 === 0 ? -value : value;
    });
    const index = this.#polygons.push(polygon) - 1;
    // Places that a side's own box reaches into, and those between the sides of a row.
    const rows = new Map<number, [number, number]>();
    for (let k = 0; k < count; k++) {
      const j = (k + 1) % count;
      const [ax, ay, bx, by] = [polygon[2 * k]!, polygon[2 * k + 1]!, polygon[2 * j]!, polygon[2 * j + 1]!];
      for (let row = this.#step(Math.min(ay, by)); row <= this.#step(Math.max(ay, by)); row++) {
        const within = (v: number): number =>
          by === ay ? bx : ax + Math.min(1, Math.max(0, (v - ay) / (by - ay))) * (bx - ax);
        const ends = by === ay ? [ax, bx] : [within(row * this.#pitch), within((row + 1) * this.#pitch)];
        const [low, high] = rows.get(row) ?? [Number.POSITIVE_INFINITY, Number.NEGATIVE_INFINITY];
        rows.set(row, [
          Math.min(low, this.#step(Math.min(...ends) - 1e-9)),
          Math.max(high, this.#step(Math.max(...ends) + 1e-9)),
        ]);
      }
    }
    for (const [row, [from, to]] of rows)
      for (let column = from; column <= to; column++) {
        const key = this.#key(column, row);
        const there = this.#byPlace.get(key);
        if (there === undefined) this.#byPlace.set(key, [index]);
        else there.push(index);
      }
  }

  #step = (value: number): number => Math.floor(value / this.#pitch);
  #key = (column: number, row: number): number => (column + 50_000) * 100_000 + row + 50_000;
}

function holds(polygon: ArrayLike<number>, x: number, y: number): boolean {
  let inside = false;
  for (let k = 0, j = polygon.length - 2; k < polygon.length; j = k, k += 2) {
    const [px, py, qx, qy] = [polygon[j]!, polygon[j + 1]!, polygon[k]!, polygon[k + 1]!];
    if (py > y !== qy > y && x < px + ((y - py) / (qy - py)) * (qx - px)) inside = !inside;
  }
  return inside;
}

const { uniform } = deviates(20_000);
const between = (from: number, to: number): number => from + uniform() * (to - from);

/** Anywhere in the patch, or so near to its edge that a line or two come between, on either side of it. */
function inBox(patch: PatchWords): Point {
  const points = edgePoints(patch, 360);
  const [xs, ys] = [points.map(([x]) => x), points.map(([, y]) => y)];
  return [between(Math.min(...xs), Math.max(...xs)), between(Math.min(...ys), Math.max(...ys))];
}
function nearEdge(patch: PatchWords): Point {
  const points = edgePoints(patch, 720);
  const ring = patch.outline.ring === undefined ? points : points.slice(0, points.length / 2);
  const k = Math.floor(uniform() * ring.length);
  const [[ax, ay], [bx, by]] = [ring[k]!, ring[(k + 1) % ring.length]!];
  const along = uniform();
  return [ax + along * (bx - ax) + between(-0.004, 0.004), ay + along * (by - ay) + between(-0.004, 0.004)];
}
/** Within two lines of the ridge of a roof: through the centre, square to the line's direction as the pattern sees it. */
function nearRidge(patch: PatchWords): Point {
  const [lx, ly] = lineDirectionOf(SCENE, patch);
  const size = Math.hypot(lx, ly);
  const [u, v] = [lx / size, ly / size];
  const [along, off] = [between(-2.4, 2.4), between(-0.005, 0.005)];
  return [patch.centre[0] - along * v + off * u, patch.centre[1] + along * u + off * v];
}

interface Tally {
  judged: number;
  lines: number;
  near: number;
  wrong: Point[];
}
const cellOf = (id: string): string => report.files[0]!.patches.find((one) => one.id === id)!.cell!;
const patches = SCENE.patches.map((patch) => ({
  patch,
  phase: scenePhase(SCENE, patch.id),
  zones: new Written([cellOf(patch.id)], WRITTEN, 0.01),
}));
const marks = new Written(['MARKS'], MARKS, 0.1);

/** Whether the point is written as it should be, in any cell and on any layer. */
function judge(point: Point, tally: Tally): void {
  const at = patches.find(({ patch }) => outsideBy(patch, point) < 0);
  const nearest = Math.min(...patches.map(({ patch }) => Math.abs(outsideBy(patch, point))));
  const times = patches.reduce((sum, { zones }) => sum + zones.times(point), 0);
  let [expected, distance] = [0, nearest];
  if (at !== undefined) {
    const waves = at.phase(...point);
    const fraction = waves - Math.floor(waves);
    expected = fraction < DUTY ? 1 : 0;
    const off = Math.min(fraction, 1 - fraction, Math.abs(fraction - DUTY));
    distance = Math.min(distance, off / Math.hypot(...slopeOf(at.phase, ...point, 1e-5)));
  }
  tally.judged++;
  tally.lines += expected;
  if (distance <= BOUND) tally.near++;
  else if (times + marks.times(point) !== expected) tally.wrong.push(point);
}

const empty = (): Tally => ({ judged: 0, lines: 0, near: 0, wrong: [] });
const roofs = SCENE.patches.filter(({ bias }) => bias?.shape === 'roof');
const PLACES = {
  'in the patches': { from: SCENE.patches, draw: inBox, share: 0.5 },
  'near the patches’ edges': { from: SCENE.patches, draw: nearEdge, share: 0.25 },
  'near the ridges': { from: roofs, draw: nearRidge, share: 0.25 },
} as const;

test.each(Object.entries(PLACES))('%s no point is wrong', (_, { from, draw, share }) => {
  const tally = empty();
  const count = Math.round((POINTS * share) / from.length);
  for (const patch of from) for (let k = 0; k < count; k++) judge(draw(patch), tally);
  expect(tally.wrong).toEqual([]);
  expect(tally.judged).toBe(count * from.length);
  expect(tally.lines / tally.judged).toBeGreaterThan(0.1);
  expect(tally.near / tally.judged).toBeLessThan(0.03);
});

test('between the patches only the marks are written, each place of them once, and on a layer of their own', () => {
  const polygons = marksOf(design).marks.flatMap(({ form, at }) =>
    [...form.polygons, ...form.lines].map((polygon) => polygon.flatMap(([x, y]) => [at[0] + x, at[1] + y])),
  );
  expect(polygons.length).toBeGreaterThan(20);
  expect(marks.size).toBe(polygons.length);
  let covered = 0;
  for (const polygon of polygons) {
    const [xs, ys] = [polygon.filter((_, k) => k % 2 === 0), polygon.filter((_, k) => k % 2 === 1)];
    for (let k = 0; k < 20; k++) {
      const point: Point = [
        between(Math.min(...xs) - 0.02, Math.max(...xs) + 0.02),
        between(Math.min(...ys) - 0.02, Math.max(...ys) + 0.02),
      ];
      const expected = polygons.filter((one) => holds(one, ...point)).length;
      expect(expected).toBeLessThan(2);
      expect({ point, times: marks.times(point) }).toEqual({ point, times: expected });
      expect(patches.reduce((sum, { zones }) => sum + zones.times(point), 0)).toBe(0);
      covered += expected;
    }
  }
  expect(covered).toBeGreaterThan(5 * polygons.length);
});
