import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { Design } from '../../../src/design/design.ts';
import { dxfText } from '../../../src/writing/drawing/formats/dxf-tags.ts';
import { layoutDxf } from '../../../src/writing/drawing/formats/layout-dxf.ts';
import { layoutSvg } from '../../../src/writing/drawing/formats/layout-svg.ts';
import { drawable } from '../../../src/writing/drawing/lettering.ts';
import { layoutModel } from '../../../src/writing/drawing/sheet/layout-model.ts';
import type { Provenance } from '../../../src/writing/provenance.ts';
import { firstOf, type ReadElement, type ReadEntity, readDxf, readXml, valuesOf } from './drawing-readers.ts';
import { allOutlines, DRAWN_DESIGNS, drawnDesign, HOSTILE_DESIGN } from './drawn-designs.ts';
import '../../machine/patience.ts';

const CONTEXT: Provenance = {
  version: '0.0.0',
  scenarioHash: '0123456789abcdef'.repeat(4),
  draft: false,
};
const dxfOf = (design: Design, context: Provenance): string => layoutDxf(layoutModel(design, context));
const svgOf = (design: Design, context: Provenance): string => layoutSvg(layoutModel(design, context));
const OUTLINES = drawnDesign({ patches: allOutlines });
const FILES: readonly (readonly [string, string, string])[] = [
  ...DRAWN_DESIGNS.map(([name, wish]) => [name, drawnDesign(wish)] as const),
  ['hostile texts', HOSTILE_DESIGN] as const,
].map(([name, design]) => [name, dxfOf(design, CONTEXT), svgOf(design, CONTEXT)]);

/** Both files write nine decimals. */
const ROUNDING = 1e-9;
const SHAPES = new Set(['CIRCLE', 'LWPOLYLINE', 'LINE', 'HATCH']);
const CURVES = new Set(['circle', 'path']);

const entitiesOn = (layer: string, entities: readonly ReadEntity[]) =>
  entities.filter((entity) => SHAPES.has(entity.type) && firstOf(entity, 8) === layer);
const elementsOn = (layer: string, elements: readonly ReadElement[]) =>
  elements.filter(({ name, groups }) => CURVES.has(name) && groups.includes(layer));

/** A curve as numbers, by the same rule for both files: circles as centre and radius, else the vertices. */
function dxfNumbers(entity: ReadEntity): number[] {
  if (entity.type === 'CIRCLE') return [10, 20, 40].map((code) => Number(firstOf(entity, code)));
  if (entity.type === 'LINE') return [10, 20, 11, 21].map((code) => Number(firstOf(entity, code)));
  // A HATCH names its plane's origin before its boundaries.
  const first = entity.type === 'HATCH' ? 1 : 0;
  const [xs, ys] = [valuesOf(entity, 10).slice(first), valuesOf(entity, 20).slice(first)];
  return xs.flatMap((x, k) => [Number(x), Number(ys[k])]);
}

function svgNumbers({ name, attributes }: ReadElement): number[] {
  if (name === 'circle') return ['cx', 'cy', 'r'].map((key) => Number(attributes.get(key)));
  return [...attributes.get('d')!.matchAll(/[^Z]+Z?/g)].flatMap(([loop]) => {
    const points = [...loop.matchAll(/[MLA] ((?:-?[\d.]+ ?)+)/g)].map(([, numbers]) =>
      numbers!.trim().split(' ').map(Number).slice(-2),
    );
    return (loop.endsWith('Z') ? points.slice(0, -1) : points).flat();
  });
}

describe.each(FILES)('layout.dxf and layout.svg of %s', (_, dxf, svg) => {
  const read = readDxf(dxf);
  const elements = readXml(svg);

  it('say the same coordinates on every layer', () => {
    const layers = read.layers.filter((layer) => layer !== '0' && layer !== 'VIEWPORT');
    for (const layer of layers) {
      const [entities, curves] = [entitiesOn(layer, read.entities), elementsOn(layer, elements)];
      expect(curves.length, layer).toBe(entities.length);
      entities.forEach((entity, k) => {
        const [a, b] = [dxfNumbers(entity), svgNumbers(curves[k]!)];
        expect(b.length).toBe(a.length);
        a.forEach((value, index) => {
          expect(Math.abs(value - b[index]!), `${layer} ${k}`).toBeLessThanOrEqual(ROUNDING);
        });
      });
    }
  });

  it('turn up the same way: shapes in groups with y up, texts at (x, -y)', () => {
    const parents = [...svg.matchAll(/<g([^>]*)>\n<(?:path|circle)/g)].map(([, attributes]) => attributes);
    expect(parents.length).toBeGreaterThan(5);
    for (const attributes of parents) expect(attributes).toContain('transform="scale(1,-1)"');
    const inDxf = read.entities
      .filter(({ type }) => type === 'TEXT')
      .map((text) => [Number(firstOf(text, 10)), Number(firstOf(text, 20))]);
    const inSvg = elements
      .filter(({ name }) => name === 'text')
      .map(({ attributes }) => [Number(attributes.get('x')), 0 - Number(attributes.get('y'))]);
    expect(inSvg).toEqual(inDxf);
  });

  it('write plain decimals: no exponent, no -0, no control character in the DXF', () => {
    expect(dxf).not.toMatch(/(?!\n)\p{Cc}/u);
    for (const entity of read.entities) {
      for (const [code, value] of entity.tags) {
        if (code >= 10 && code < 60) expect(value).toMatch(/^(?!-0$)-?\d+(\.\d+)?$/);
      }
    }
    for (const { attributes } of elements) {
      for (const key of ['cx', 'cy', 'r', 'x', 'y', 'd']) {
        expect(attributes.get(key) ?? '').toMatch(/^(?:(?:[MLAZ]|(?!-0(?: |$))-?\d+(?:\.\d+)?)(?: |$))*$/);
      }
    }
  });

  it('have the layers, millimetres and closed outlines', () => {
    expect(read.layers).toEqual([
      '0',
      'FRAME',
      'GRID',
      'PATTERN_AREAS',
      'SUBSTRATE',
      'KEEP_OUTS',
      'SEATS',
      'MARKS',
      'PATCHES',
      'FOCUS_LINES',
      'CENTRE_LINES',
      'DIMENSIONS',
      'CAPTIONS',
      'TITLE_BLOCK',
      'VIEW_MARK',
      'VIEWPORT',
    ]);
    expect(read.header.get('$INSUNITS')).toEqual(['4']);
    expect(read.header.get('$MEASUREMENT')).toEqual(['1']);
    const outlines = ['SUBSTRATE', 'KEEP_OUTS', 'PATCHES'].flatMap((layer) =>
      entitiesOn(layer, read.entities),
    );
    for (const entity of outlines) {
      expect(entity.type === 'CIRCLE' || (entity.type === 'LWPOLYLINE' && firstOf(entity, 70) === '1')).toBe(
        true,
      );
    }
    const [root] = elements;
    const [left, top, width, height] = root!.attributes.get('viewBox')!.split(' ').map(Number);
    expect(root!.attributes.get('width')).toBe(`${width}mm`);
    expect(root!.attributes.get('height')).toBe(`${height}mm`);
    const extent = ['$EXTMIN', '$EXTMAX'].flatMap((name) => read.header.get(name)!.slice(0, 2).map(Number));
    expect(extent).toEqual([left, -top! - height!, left! + width!, -top!]);
  });
});

describe('the outlines of patches', () => {
  const read = readDxf(dxfOf(OUTLINES, CONTEXT));
  const elements = elementsOn('PATCHES', readXml(svgOf(OUTLINES, CONTEXT)));
  const byOwner = (id: string) =>
    entitiesOn('PATCHES', read.entities).filter((entity) => valuesOf(entity, 1000)[0] === id);

  it('are circles for a circle and two for a ring', () => {
    expect(byOwner('round').map(dxfNumbers)).toEqual([[0, 60, 5]]);
    expect(byOwner('return').map(dxfNumbers)).toEqual([
      [0, 0, 71],
      [0, 0, 69],
    ]);
  });

  it('are corners turned from +x toward +y for a rectangle', () => {
    const [corners] = byOwner('turned').map(dxfNumbers);
    const [c, s] = [Math.cos(Math.PI / 6) * 4.5, Math.sin(Math.PI / 6) * 4.5];
    const expected = [60 - c + s, -s - c, 60 + c + s, s - c, 60 + c - s, s + c, 60 - c - s, -s + c];
    corners!.forEach((value, k) => {
      expect(Math.abs(value - expected[k]!)).toBeLessThanOrEqual(ROUNDING);
    });
  });

  it('are true arcs about the sector’s centre in both files', () => {
    const [sector] = byOwner('sector');
    const [xs, ys] = [valuesOf(sector!, 10).map(Number), valuesOf(sector!, 20).map(Number)];
    const bulges = sector!.tags.reduce<number[]>((found, [code, value]) => {
      if (code === 10) found.push(0);
      if (code === 42) found[found.length - 1] = Number(value);
      return found;
    }, []);
    expect(
      bulges.map((bulge) => 4 * Math.atan(bulge) * (180 / Math.PI)).map((sweep) => Number(sweep.toFixed(9))),
    ).toEqual([50, 0, -50, 0]);
    const d = elements.find(({ attributes }) => attributes.get('data-id') === 'sector')!.attributes.get('d')!;
    const arcs = [...d.matchAll(/A (\S+) (\S+) 0 0 (\d)/g)].map(([, rx, ry, sweep]) => [rx, ry, sweep]);
    expect(arcs).toEqual([
      ['66', '66', '1'],
      ['52', '52', '0'],
    ]);
    for (const k of [0, 2]) {
      const [x1, y1, x2, y2, b] = [xs[k]!, ys[k]!, xs[k + 1]!, ys[k + 1]!, bulges[k]!];
      // centre of a bulge: the chord's middle, and (1 − b²)/(4b) of the chord to its left
      const reach = (1 - b * b) / (4 * b);
      const centre = [(x1 + x2) / 2 - reach * (y2 - y1), (y1 + y2) / 2 + reach * (x2 - x1)];
      for (const value of centre) expect(Math.abs(value)).toBeLessThan(5 * ROUNDING);
    }
  });

  it('carry their ids', () => {
    const ids = allOutlines.flatMap(({ id }) => (id === 'return' ? [id, id] : [id]));
    expect(entitiesOn('PATCHES', read.entities).map((entity) => valuesOf(entity, 1000)[0])).toEqual(ids);
    expect(elements.map(({ attributes }) => attributes.get('data-id'))).toEqual(ids);
  });
});

describe('what the drawings state', () => {
  const statements = (design: typeof OUTLINES, context = CONTEXT) => ({
    svg: readXml(svgOf(design, context))
      .filter(({ name }) => name === 'text')
      .map(({ text }) => text)
      .join(' '),
    dxf: readDxf(dxfOf(design, context))
      .entities.filter(({ type }) => type === 'TEXT')
      .map((text) => firstOf(text, 1))
      .join(' '),
  });

  it.each([
    ['part', 'PATTERN SURFACE TOWARD VIEWER'],
    ['interferometer', 'PATTERN ON FAR SIDE'],
  ] as const)('the side seen, the hash and what governs; pattern toward the %s', (patternFaces, words) => {
    for (const text of Object.values(statements(drawnDesign({ patches: allOutlines, patternFaces })))) {
      for (const stated of [
        'SEEN FROM PART SIDE',
        ...words.split(' '),
        '0123456789ab',
        'coefficients.csv',
        'scale 1:1',
        'fused silica',
        '6.35',
      ]) {
        expect(text).toContain(stated);
      }
    }
  });

  it('NOT FOR FABRICATION on a draft, on a layer of its own, and only there', () => {
    expect(svgOf(OUTLINES, CONTEXT)).not.toContain('NOT FOR');
    expect(dxfOf(OUTLINES, CONTEXT)).not.toContain('NOT FOR');
    const draft = { ...CONTEXT, draft: true };
    const marks = readXml(svgOf(OUTLINES, draft)).filter(({ groups }) => groups.includes('DRAFT_MARK'));
    expect(marks.map(({ text }) => text.trim())).toContain('NOT FOR FABRICATION');
    const entities = readDxf(dxfOf(OUTLINES, draft)).entities.filter(
      (entity) => firstOf(entity, 8) === 'DRAFT_MARK',
    );
    expect(entities.map((entity) => firstOf(entity, 1))).toEqual(['NOT FOR FABRICATION']);
    // Transparent, so that captions under it can be read: the highest byte says so, the lowest is the opacity of 255.
    const transparency = Number(firstOf(entities[0]!, 440));
    expect(transparency >> 24).toBe(2);
    expect(transparency & 255).toBeLessThan(128);
  });

  it('the same bytes every time', () => {
    const first = [dxfOf(OUTLINES, CONTEXT), svgOf(OUTLINES, CONTEXT)];
    dxfOf(HOSTILE_DESIGN, CONTEXT);
    expect([dxfOf(OUTLINES, CONTEXT), svgOf(OUTLINES, CONTEXT)]).toEqual(first);
  });
});

describe('texts of a scenario', () => {
  it('stay texts: no element, line or symbol of their own', () => {
    const svg = svgOf(HOSTILE_DESIGN, CONTEXT);
    expect(readXml(svg).some(({ name }) => name === 'script')).toBe(false);
    const title = readXml(svg).find(({ name }) => name === 'title')!.text;
    expect(title).toContain('</title><script>alert("1")</script> & \'q\' ]]>');
    const { entities } = readDxf(dxfOf(HOSTILE_DESIGN, CONTEXT));
    const titles = entities.filter((entity) => entity.type === 'TEXT').map((entity) => firstOf(entity, 1));
    expect(titles.some((text) => text.includes('% %d') || text.endsWith('%'))).toBe(true);
    for (const text of titles) {
      expect(text).not.toMatch(/%%(?![cd])|\^[^ ]|\\(?!U\+)/);
      expect(text).not.toContain('\\U+0041');
    }
  });

  it('hold for any text', () => {
    fc.assert(
      fc.property(fc.string({ unit: 'binary', maxLength: 300 }), (text) => {
        const shown = drawable(text);
        expect(drawable(shown)).toBe(shown);
        expect(() => readXml(`<g>${shown.replace(/[&<>]/g, '')}</g>`)).not.toThrow();
        const written = dxfText(shown, 255);
        expect(Buffer.byteLength(written)).toBeLessThanOrEqual(255);
        expect(written).not.toMatch(/\p{Cc}/u);
        expect(dxfText(shown.replace(/[Ø°±]/g, ''))).not.toContain('%%');
      }),
    );
  });
});
