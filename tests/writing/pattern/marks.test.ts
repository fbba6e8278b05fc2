/**
 * The marks in GDSII, OASIS and DXF, read by readers that share no code with the program: in a cell of their own on layer 2/0 and nowhere
 * else, counterclockwise, without overlap, as large as the report says; mirrored and shifted as the patterns are. mm.
 */
import { describe, expect, test } from 'vitest';
import { marksOf } from '../../../src/design/marks/marks.ts';
import { type Corner, type GdsPolygon, readGds } from '../../independent/gdsii.ts';
import { readOasis } from '../../independent/oasis.ts';
import { lacks } from '../../machine/outside-programs.ts';
import { designFrom, linePatch, type Words } from '../../metrology/support/design-from.ts';
import '../../machine/patience.ts';
import { patternFilesOf } from '../support/made-pattern.ts';
import { klayout, ruleCheck } from './rule-check.ts';

const NM = 1e-6;
const words = (patternFaces: string): Words => ({
  substrate: { outline: { circle: { diameter: 150 } }, thickness: 6.35, index: 1.457, patternFaces },
  references: [{ id: 'ball', kind: 'ball', diameter: 25, at: [10, 300, 900] }],
  patches: [linePatch('MARKS', 'ball', [10, 60], 0, 0.5), linePatch('b', 'ball', [14, 60], 0.4, 0.5)],
  drawing: { number: 'HT-0417' },
  marks: 'auto',
});
const away = designFrom(words('interferometer'));
const toward = designFrom(words('part'));

const filesOf = (design: typeof away, more: object = {}) => {
  const { files } = patternFilesOf(design, { pattern: ['gds', 'oas'], patternDxf: true, ...more });
  return {
    gds: readGds(files.get('pattern.gds')!),
    oas: readOasis(files.get('pattern.oas')!),
    dxf: files.get('pattern.dxf')!.toString('latin1'),
    bytes: files.get('pattern.gds')!,
  };
};
const plain = filesOf(toward);

const area = (points: readonly Corner[]): number =>
  points.reduce((sum, [x, y], k) => {
    const [u, v] = points[(k + 1) % points.length]!;
    return sum + (x * v - u * y) / 2;
  }, 0);
const total = (polygons: readonly GdsPolygon[]): number =>
  polygons.reduce((sum, { points }) => sum + area(points), 0);
const key = (polygons: readonly (readonly Corner[])[], side = 1): string[] =>
  polygons
    .map((points) =>
      points
        .map(([x, y]) => `${Math.round((side * x) / NM)} ${Math.round(y / NM)}`)
        .sort()
        .join(),
    )
    .sort();
const points = (polygons: readonly GdsPolygon[]) => polygons.map((polygon) => polygon.points);

describe('the cell MARKS', () => {
  const own = plain.gds.polygons('MARKS');
  test('holds all of layer 2, counterclockwise; a patch of that id has another cell', () => {
    expect(own.length).toBeGreaterThan(200);
    expect(own.every(({ layer, datatype }) => layer === 2 && datatype === 0)).toBe(true);
    expect(own.every((polygon) => area(polygon.points) > 0)).toBe(true);
    const all = plain.gds.polygons('ALL_PATCHES').filter(({ layer }) => layer === 2);
    expect(all.length).toBe(own.length);
    expect(plain.gds.polygons('MARKS_2').some(({ layer }) => layer === 1)).toBe(true);
  });
  test('holds the same in OASIS', () => {
    expect(key(points(plain.oas.cells.get('MARKS')!))).toEqual(key(points(own)));
  });
  test('stands where the report says: each polygon in the box of one mark, each box filled to its sides', () => {
    const boxes = marksOf(toward).marks.map(({ at: [x, y], form: { width, height } }) => {
      const inside = own.filter(({ points: corners }) =>
        corners.every(([u, v]) => Math.abs(u - x) < width / 2 + NM && Math.abs(v - y) < height / 2 + NM),
      );
      const corners = inside.flatMap((polygon) => polygon.points);
      const reach = Math.max(...corners.map(([u]) => Math.abs(u - x)));
      expect(reach).toBeGreaterThan(width / 2 - 1.5 * NM);
      return inside.length;
    });
    expect(boxes.reduce((sum, count) => sum + count, 0)).toBe(own.length);
  });
  test('has crosses of two arms, 2 mm by 50 µm', () => {
    const crosses = own.filter(({ points: corners }) => corners.length === 12);
    expect(crosses.length).toBe(4);
    for (const cross of crosses) expect(area(cross.points)).toBeCloseTo(2 * 2 * 0.05 - 0.05 ** 2, 9);
  });
  test('has lines of the least feature, 1 µm wide and 100 µm long, eleven each way', () => {
    const sides = own.map(({ points: corners }) => {
      const [xs, ys] = [corners.map(([x]) => x), corners.map(([, y]) => y)];
      return [Math.max(...xs) - Math.min(...xs), Math.max(...ys) - Math.min(...ys)] as const;
    });
    const like = (w: number, h: number) =>
      sides.filter(([u, v]) => Math.abs(u - w) < NM / 2 && Math.abs(v - h) < NM / 2).length;
    expect([like(0.001, 0.1), like(0.1, 0.001)]).toEqual([11, 11]);
  });
});

test('a DXF has the same polygons on the layer MARKS', () => {
  expect(plain.dxf.split(/\r?\n/).filter((line) => line === 'MARKS').length).toBeGreaterThan(
    plain.gds.polygons('MARKS').length,
  );
});

test('toward the part and away from it the letters are mirror images in place, so that each reads right on its face', () => {
  const mirrored = filesOf(away, { asWritten: true }).gds.polygons('MARKS');
  const seen = filesOf(away).gds.polygons('MARKS');
  expect(key(points(mirrored), -1)).toEqual(key(points(seen)));
  const at = (design: typeof away) => marksOf(design).marks.find(({ kind }) => kind === 'side')!;
  const local = (design: typeof away, side: number) =>
    key(
      at(design).form.polygons.map((polygon) => polygon.map(([x, y]): Corner => [x, y])),
      side,
    );
  expect(local(away, -1)).toEqual(local(toward, 1));
  expect(local(away, 1)).not.toEqual(local(toward, 1));
});

test('an edge shift moves the sides of the lines and nothing else', () => {
  const shifted = filesOf(toward, { edgeShift: '0.1 um' }).gds.polygons('MARKS');
  const lines = marksOf(toward).marks.flatMap(({ form }) => form.lines);
  const around = lines.reduce((sum, [[l, b], , [r, t]]: readonly Corner[]) => sum + 2 * (r - l + t - b), 0);
  const gained = total(shifted) - total(plain.gds.polygons('MARKS'));
  expect(gained).toBeCloseTo(1e-4 * around + 4 * 1e-8 * lines.length, 9);
});

test('without the word there is no cell and nothing on the layer', () => {
  const { marks: _, ...none } = words('part');
  const { gds } = filesOf(designFrom(none));
  expect(gds.polygons('ALL_PATCHES').filter(({ layer }) => layer === 2)).toEqual([]);
  expect(gds.notes('ALL_PATCHES').some(({ text }) => text.startsWith('MARKS'))).toBe(false);
});

test('the texts say where the crosses are that a main pattern from other data is aligned to', () => {
  const text = plain.gds.notes('ALL_PATCHES').find((note) => note.text.startsWith('REGISTRATION'))!.text;
  for (const { kind, name, at } of marksOf(toward).marks)
    if (kind === 'fiducials') expect(text).toContain(`${name} (${at.join(', ')})`);
});

describe.skipIf(lacks({ klayout }))('klayout', () => {
  const found = klayout === undefined ? {} : ruleCheck(plain.bytes, 1000);
  test('finds marks of at least the least feature and as far apart, none twice, none overlapping', () => {
    expect(found.MARKS!.polygons).toBe(plain.gds.polygons('MARKS').length);
    expect(found.MARKS).toMatchObject({ twice: 0, strange: 0, overlapping: 0, narrow: 0, close: 0 });
  });
  test('sees the lines of 1 µm where more is asked for', () => {
    expect(ruleCheck(plain.bytes, 1001).MARKS!.narrow).toBeGreaterThanOrEqual(22);
  });
});
