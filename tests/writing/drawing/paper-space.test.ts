/**
 * The paper space of layout.dxf, read by the tests' own reader: the sheet's own items stand in model space and on paper at the same
 * place, and the viewport shows all the rest at 1:1. mm. An outside program opens the same sheets in outside-readers.test.ts.
 */
import { describe, expect, it } from 'vitest';
import { around } from '../../../src/writing/drawing/boxes.ts';
import { type Box, isText } from '../../../src/writing/drawing/drawing.ts';
import { layoutDxf } from '../../../src/writing/drawing/formats/layout-dxf.ts';
import { LAYERS, type Layer } from '../../../src/writing/drawing/layers.ts';
import { textBox } from '../../../src/writing/drawing/lettering.ts';
import { layoutModel } from '../../../src/writing/drawing/sheet/layout-model.ts';
import { firstOf, type ReadEntity, readDxf, valuesOf } from './drawing-readers.ts';
import { DRAWN_DESIGNS, drawnDesign, HOSTILE_DESIGN } from './drawn-designs.ts';

const CONTEXT = { version: '0.0.0', scenarioHash: '0123456789abcdef'.repeat(4), draft: true };
const CASES = [
  ...DRAWN_DESIGNS.map(([name, wish]) => [name, drawnDesign(wish)] as const),
  ['hostile texts', HOSTILE_DESIGN] as const,
];
const isOfSheet = (name: string): boolean =>
  LAYERS.some((layer: Layer) => layer.name === name && layer.onSheet);

/** Group codes that differ between the two: the handle, the block it belongs to, in paper space or not. */
const OWN = new Set([5, 330, 67]);
const said = ({ type, tags }: ReadEntity) => [type, ...tags.filter(([code]) => !OWN.has(code))];

function boxOfEntity(entity: ReadEntity): Box {
  const numbers = (code: number) => valuesOf(entity, code).map(Number);
  // A HATCH names its plane's origin before its boundaries.
  const first = entity.type === 'HATCH' ? 1 : 0;
  const [xs, ys] = [
    [...numbers(10).slice(first), ...numbers(11)],
    [...numbers(20).slice(first), ...numbers(21)],
  ];
  const reach = entity.type === 'CIRCLE' ? Number(firstOf(entity, 40)) : 0;
  return {
    left: Math.min(...xs) - reach,
    right: Math.max(...xs) + reach,
    bottom: Math.min(...ys) - reach,
    top: Math.max(...ys) + reach,
  };
}

describe.each(CASES)('the sheet on paper of %s', (_, design) => {
  const drawing = layoutModel(design, CONTEXT);
  const { entities, paper } = readDxf(layoutDxf(drawing));
  const viewports = paper.filter(({ type }) => type === 'VIEWPORT');
  const view = viewports.find((entity) => firstOf(entity, 69) === '2')!;
  const number = (code: number): number => Number(firstOf(view, code));
  const window: Box = {
    left: number(12) - (number(40) * number(45)) / number(41) / 2,
    right: number(12) + (number(40) * number(45)) / number(41) / 2,
    bottom: number(22) - number(45) / 2,
    top: number(22) + number(45) / 2,
  };

  it('holds frame, grid, title block and marks as they stand in model space', () => {
    const ofSheet = entities.filter((entity) => isOfSheet(firstOf(entity, 8)));
    const onPaper = paper.filter(({ type }) => type !== 'VIEWPORT');
    expect(onPaper.map(said)).toEqual(ofSheet.map(said));
    expect(onPaper.length).toBeGreaterThan(50);
  });

  it('shows all the rest through one viewport within the sheet, at 1:1', () => {
    expect(viewports.length).toBe(2);
    expect([number(10), number(20), number(41)]).toEqual([number(12), number(22), number(45)]);
    const shown = entities.filter((entity) => !isOfSheet(firstOf(entity, 8)));
    const words = LAYERS.flatMap((layer: Layer) =>
      layer.onSheet ? [] : (drawing.layers.get(layer.name) ?? []).filter(isText).map(textBox),
    );
    const all = around([...shown.map(boxOfEntity), ...words]);
    const { sheet } = drawing;
    for (const [low, high] of [
      [sheet.left, window.left],
      [window.left, all.left],
      [sheet.bottom, window.bottom],
      [window.bottom, all.bottom],
      [all.right, window.right],
      [window.right, sheet.right],
      [all.top, window.top],
      [window.top, sheet.top],
    ] as const)
      expect(low).toBeLessThanOrEqual(high);
  });
});
