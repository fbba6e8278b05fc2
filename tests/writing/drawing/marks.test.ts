/** Marks on the layout drawing: on their layer, each where it is written, with a caption that the title block lists with its place. mm. */
import { expect, test } from 'vitest';
import { marksOf } from '../../../src/design/marks/marks.ts';
import { isText } from '../../../src/writing/drawing/drawing.ts';
import { layoutModel } from '../../../src/writing/drawing/sheet/layout-model.ts';
import { designFrom, pointPatch } from '../../metrology/support/design-from.ts';

const words = {
  references: [{ id: 'r', kind: 'ball', diameter: 12, at: [0, 0, 400] }],
  patches: [pointPatch('p', 'r', [20, 0]), pointPatch('q', 'r', [-20, 0])],
  drawing: { number: 'HT-0417' },
};
const CONTEXT = { version: '0', scenarioHash: '0'.repeat(64), named: new Map(), draft: false };
const design = designFrom({ ...words, marks: 'auto' });
const { layers } = layoutModel(design, CONTEXT);
const { marks } = marksOf(design);

test('every mark is on the layer MARKS, within its box', () => {
  const drawn = layers.get('MARKS')!;
  expect(marks.length).toBe(11);
  for (const {
    name,
    at: [x, y],
    box,
  } of marks) {
    const item = drawn.find((one) => one.owner === name && !isText(one))!;
    const ends = Object.values((item as unknown as { paths: MakerJs.IPathMap }).paths).flatMap((path) =>
      [path.origin, (path as MakerJs.IPathLine).end].map((end) => [end[0]!, end[1]!] as const),
    );
    expect(Math.max(...ends.map(([u]) => Math.abs(u - x)))).toBeCloseTo(box.width / 2, 9);
    expect(Math.max(...ends.map(([, v]) => Math.abs(v - y)))).toBeCloseTo(box.height / 2, 9);
  }
});

test('the title block lists each caption with the middle of its mark', () => {
  const block = layers
    .get('TITLE_BLOCK')!
    .flatMap((item) => (isText(item) ? [item.text] : []))
    .join(' ');
  const captions = layers.get('MARKS')!.flatMap((item) => (isText(item) ? [item] : []));
  expect(captions.map(({ text }) => text).sort()).toEqual(
    ['F1', 'F2', 'F3', 'F4', 'XY', 'NO.', 'SIDE', 'S/N', 'BARS'].sort(),
  );
  for (const { text, owner } of captions) {
    const { at } = marks.find(({ name }) => name === owner)!;
    expect(block).toContain(`${text} (${at.join(', ')})`);
  }
});

test('without the word there is neither layer nor line', () => {
  const plain = layoutModel(designFrom(words), CONTEXT).layers;
  expect(plain.get('MARKS')).toBeUndefined();
  expect(plain.get('TITLE_BLOCK')!.some((item) => isText(item) && item.text === 'MARKS')).toBe(false);
});
