/**
 * Mirrored data, `--as-written`, of a substrate whose patterned face is turned away: GDSII and OASIS, read by readers that share no code
 * with the program, are the mirror image of the plain files, x to -x, to the database unit; and every text says which they are.
 */
import { describe, expect, it } from 'vitest';
import type { Design } from '../../../src/design/design.ts';
import { type Corner, readGds } from '../../independent/gdsii.ts';
import { readOasis } from '../../independent/oasis.ts';
import { designFrom, linePatch, type Words } from '../../metrology/support/design-from.ts';
import { patternFilesOf } from '../support/made-pattern.ts';

const NM = 1e-6;
const words = (patternFaces: string): Words => ({
  substrate: {
    outline: { circle: { diameter: 150 } },
    thickness: 6.35,
    index: 1.457,
    patternFaces,
  },
  references: [{ id: 'ball', kind: 'ball', diameter: 25, at: [10, 300, 900] }],
  keepOuts: [{ id: 'clamp', outline: { rectangle: { width: 9, height: 4, centre: [-50, 10] } } }],
  seats: [{ id: 'S', kind: 'ball', diameter: 12, at: [30, -40], face: 'part', height: 7, footprint: 5 }],
  patches: [linePatch('side', 'ball', [10, 60], 0, 0.5), linePatch('a-2', 'ball', [14, 60], 0.4, 0.5)],
});
const away = designFrom(words('interferometer'));
const toward = designFrom(words('part'));

const ASKED = { pattern: ['gds', 'oas'] };
function filesOf(design: Design, asWritten: boolean) {
  const { files, report } = patternFilesOf(design, { ...ASKED, asWritten, patternDxf: true });
  return {
    gds: readGds(files.get('pattern.gds')!),
    oas: readOasis(files.get('pattern.oas')!),
    dxf: files.get('pattern.dxf')!.toString('latin1'),
    report,
  };
}
const [plain, mirrored] = [filesOf(away, false), filesOf(away, true)];

const area = (points: readonly Corner[]): number =>
  points.reduce((sum, [x, y], k) => {
    const [u, v] = points[(k + 1) % points.length]!;
    return sum + (x * v - u * y) / 2;
  }, 0);
/** Of each layer: the substrate, a keep-out, a seat, patches, written zones. */
const LAYERS = [10, 13, 14, 11, 1];

describe.each(['side', 'a_2'])('the cell %s', (cell) => {
  it.each(['gds', 'oas'] as const)(
    'in %s is the mirror image, each polygon still counterclockwise',
    (format) => {
      const polygons = ({ gds, oas }: typeof plain) =>
        format === 'gds' ? gds.polygons(cell) : oas.cells.get(cell)!;
      const [seen, turned] = [polygons(plain), polygons(mirrored)];
      expect(turned.length).toBe(seen.length);
      const sorted = (list: typeof seen, side: 1 | -1) =>
        list
          .map(({ points }) => points.map(([x, y]): Corner => [side * x, y]))
          .map((points) => points.toSorted(([a, b], [c, d]) => a - c || b - d))
          .toSorted(([[a, b]], [[c, d]]) => a - c || b - d);
      const [one, other] = [sorted(seen, 1), sorted(turned, -1)];
      let corners = 0;
      for (const [k, points] of one.entries()) {
        expect(other[k]!.length).toBe(points.length);
        for (const [i, [x, y]] of points.entries()) {
          // Half a unit is rounded up in both: a corner may differ by one.
          expect(Math.abs(other[k]![i]![0] - x)).toBeLessThan(1.5 * NM);
          expect(Math.abs(other[k]![i]![1] - y)).toBeLessThan(1.5 * NM);
          corners++;
        }
      }
      expect(corners).toBeGreaterThan(1000);
      for (const { points } of turned) expect(area(points)).toBeGreaterThan(0);
    },
  );
});

it('keep-outs, seats and outlines stand mirrored on layers of their own', () => {
  const boxes = (files: typeof plain, side: 1 | -1) =>
    LAYERS.map((layer) => {
      const xs = files.gds
        .polygons(files.gds.tops[0]!)
        .filter((polygon) => polygon.layer === layer)
        .flatMap(({ points }) => points.map(([x]) => side * x));
      return [Math.min(...xs), Math.max(...xs)] as const;
    });
  const [seen, turned] = [boxes(plain, 1), boxes(mirrored, -1)];
  expect(seen[1]![0]).toBeCloseTo(-54.5, 6);
  expect(seen[2]![1]).toBeCloseTo(32.5, 6);
  for (const [k, [least, most]] of seen.entries()) {
    expect(turned[k]![0]).toBeCloseTo(least, 5);
    expect(turned[k]![1]).toBeCloseTo(most, 5);
  }
});

it('the top cell, the texts and the report say that the data are mirrored already', () => {
  const note = (files: typeof plain) =>
    files.oas.notes.map(({ text }) => text).find((text) => text.startsWith('DATA'))!;
  expect(plain.gds.tops).toEqual(['ALL_PATCHES']);
  expect(mirrored.gds.tops).toEqual(['ALL_PATCHES_MIRRORED_AS_WRITTEN']);
  expect(note(plain)).toMatch(/Mirror them once/);
  expect(note(mirrored)).toMatch(/mirrored already.*Do not mirror them again/);
  expect(mirrored.dxf).toContain('mirrored already');
  expect([plain.report.mirrored, mirrored.report.mirrored]).toEqual([false, true]);
});

it('the id of each patch stands in its cell, as the scenario has it', () => {
  expect(mirrored.gds.notes('a_2').map(({ text, layer }) => [text, layer])).toEqual([['PATTERN a-2', 12]]);
});

it('where the patterned face is toward the writer already, the data stay as they are', () => {
  const [one, other] = [false, true].map(
    (asWritten) => patternFilesOf(toward, { ...ASKED, asWritten }).files,
  );
  expect(one!.get('pattern.gds')!.equals(other!.get('pattern.gds')!)).toBe(true);
  expect(one!.get('pattern.oas')!.equals(other!.get('pattern.oas')!)).toBe(true);
});
