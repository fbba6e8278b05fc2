/**
 * The main pattern on the layout: its real outline, which is the aperture's edge carried along the surface's normals by code of the test's
 * own, and a margin around it; its caption, its row of the table, and the words of the title block. mm, substrate frame.
 */
import { expect, it } from 'vitest';
import { drawingFont } from '../../../src/disk/shipped-files.ts';
import { layoutDxf } from '../../../src/writing/drawing/formats/layout-dxf.ts';
import { layoutPdf } from '../../../src/writing/drawing/formats/layout-pdf.ts';
import { layoutSvg } from '../../../src/writing/drawing/formats/layout-svg.ts';
import { layoutModel } from '../../../src/writing/drawing/sheet/layout-model.ts';
import { followedBack, isoAsphere } from '../../independent/surface-sheets.ts';
import { designFrom, linePatch } from '../../metrology/support/design-from.ts';
import { firstOf, readDxf, readXml, valuesOf } from './drawing-readers.ts';
import { pdfWords } from './drawn-words.ts';

const GLASS = { thickness: 6.35, index: 1.457 };
const HEIGHT = 2600;
const MARGIN = 2.5;
/** Straight edges between 240 points of the curve, each followed back on its own, mm. */
const DRAWN = 0.01;
const APERTURE = { radius: 100, centre: [80, 20] } as const;

const design = designFrom({
  substrate: { outline: { circle: { diameter: 150 } }, ...GLASS, patternFaces: 'interferometer' },
  part: {
    origin: [0, 0, HEIGHT],
    datums: { M: { asphere: { vertex: [0, 0, 0], axis: [0, 0, 1], radius: -2000, conic: -1 } } },
  },
  test: {
    surface: 'M',
    aperture: { circle: { diameter: 2 * APERTURE.radius, centre: APERTURE.centre } },
    margin: MARGIN,
  },
  references: [{ id: 'ball', kind: 'ball', diameter: 25, at: [0, 900, 1500] }],
  patches: [linePatch('side', 'ball', [0, 68], 0, 6)],
});
const model = layoutModel(design, { version: '0', scenarioHash: '0'.repeat(64), draft: false });
const dxf = readDxf(layoutDxf(model));
const svg = readXml(layoutSvg(model));

type Point = readonly [number, number];

/** Of a corner of the outline from a closed chain of segments. */
function away([x, y]: Point, chain: readonly Point[]): number {
  return Math.min(
    ...chain.map(([ax, ay], k) => {
      const [bx, by] = chain[(k + 1) % chain.length]!;
      const [dx, dy] = [bx - ax, by - ay];
      const t = Math.min(1, Math.max(0, ((x - ax) * dx + (y - ay) * dy) / (dx * dx + dy * dy)));
      return Math.hypot(x - ax - t * dx, y - ay - t * dy);
    }),
  );
}

const sheet = {
  height: isoAsphere(-2000, -1),
  toSubstrate: ([x, y, z]: readonly number[]) => [x!, y!, z! + HEIGHT] as const,
};
const footprint = Array.from({ length: 720 }, (_, k): Point => {
  const [x, y] = [Math.cos((k * Math.PI) / 360), Math.sin((k * Math.PI) / 360)];
  const [cx, cy] = APERTURE.centre;
  return followedBack(sheet, cx + APERTURE.radius * x, cy + APERTURE.radius * y, GLASS).on;
});

it('is drawn a margin outside what the light of the aperture crosses', () => {
  const outlines = dxf.entities.filter(
    (entity) => entity.type === 'LWPOLYLINE' && firstOf(entity, 8) === 'PATCHES',
  );
  const [main] = outlines.sort((a, b) => valuesOf(b, 10).length - valuesOf(a, 10).length);
  const ys = valuesOf(main!, 20).map(Number);
  const drawn = valuesOf(main!, 10).map((x, k): Point => [Number(x), ys[k]!]);
  for (const corner of drawn) expect(Math.abs(away(corner, footprint) - MARGIN)).toBeLessThan(DRAWN);
  for (const place of footprint) expect(Math.abs(away(place, drawn) - MARGIN)).toBeLessThan(DRAWN);
  const width = (of: readonly Point[], along: 0 | 1): number =>
    Math.max(...of.map((at) => at[along])) - Math.min(...of.map((at) => at[along]));
  for (const along of [0, 1] as const)
    expect(Math.abs(width(drawn, along) - width(footprint, along) - 2 * MARGIN)).toBeLessThan(DRAWN);
});

it('has its caption, its row and its words in DXF, SVG and PDF', () => {
  const words = dxf.entities.filter(({ type }) => type === 'TEXT');
  const on = (layer: string): string[] =>
    words.filter((entity) => firstOf(entity, 8) === layer).map((entity) => firstOf(entity, 1));
  expect(on('CAPTIONS').sort()).toEqual(['1 side', 'M main']);
  const block = on('TITLE_BLOCK').join(' ');
  expect(block).toMatch(/\bM main M main null\b/);
  expect(block).toContain('MAIN PATTERN');
  expect(block).toContain(`a margin of ${MARGIN} mm`);
  expect(
    svg.filter(({ name, groups }) => name === 'text' && groups.includes('CAPTIONS')).map(({ text }) => text),
  ).toContain('M main');
  expect(pdfWords(new TextDecoder('latin1').decode(layoutPdf(model, drawingFont())))).toEqual(
    expect.arrayContaining(['M main', 'MAIN PATTERN']),
  );
});
