/** Ellipses on the drawing: what the table and the title block say of them, and the curve that is written. mm. */
import { expect, it } from 'vitest';
import { layoutModel } from '../../../src/writing/drawing/sheet/layout-model.ts';
import { DRAWN_DESIGNS, drawnDesign } from './drawn-designs.ts';
import { curvesOn, loopArea, textsOn } from './drawn-items.ts';

const CONTEXT = { version: '0.0.0', scenarioHash: '0123456789abcdef'.repeat(4), draft: false };
const drawingOf = (name: string) =>
  layoutModel(drawnDesign(DRAWN_DESIGNS.find(([own]) => own === name)![1]), CONTEXT);
const wordsOf = (drawing: ReturnType<typeof drawingOf>): string =>
  textsOn(drawing, 'TITLE_BLOCK', 'DIMENSIONS')
    .map(({ text }) => text)
    .join(' ');

it('are said with both axes and their turn, and how near the arcs come that are written for them', () => {
  const words = wordsOf(drawingOf('ellipses'));
  for (const said of ['ellipse 170 × 140,', 'main: ellipse 90 × 60 at 20°', 'ellipse 14 × 9 at -35°'])
    expect(words).toContain(said);
  expect(words).toMatch(/Ellipses are written as arcs, nowhere more than 1 nm off\./);
  expect(wordsOf(drawingOf('6 patches'))).not.toContain('Ellipse');
});

it('are closed curves of the ellipse’s own area, and the blank’s axes are dimensioned', () => {
  const drawing = drawingOf('ellipses');
  for (const [layer, width, height] of [
    ['SUBSTRATE', 170, 140],
    ['KEEP_OUTS', 90, 60],
    ['PATCHES', 14, 9],
  ] as const) {
    const [curve] = curvesOn(drawing, layer);
    if (curve?.kind !== 'loop') throw new Error(`no closed curve on ${layer}`);
    // Off by the arcs' tolerance, 1e-6 mm, along an edge of at most 500 mm.
    expect(Math.abs(loopArea(curve.vertices) - (Math.PI / 4) * width * height)).toBeLessThan(5e-4);
  }
  const dimensions = textsOn(drawing, 'DIMENSIONS').map(({ text }) => text);
  expect(dimensions).toContain('170');
  expect(dimensions).toContain('140');
});
