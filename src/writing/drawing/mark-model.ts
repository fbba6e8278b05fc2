/**
 * Marks on the drawing: crosses as they are, the others by the box around them, each with its name; and what the title block says. mm.
 */

import type { Design } from '../../design/design.ts';
import { type Mark, marksOf } from '../../design/marks/marks.ts';
import type { MarkKind } from '../../scenario/marks.ts';
import { placeOf } from '../mark-words.ts';
import { layerWords, PATTERN_LAYERS } from '../pattern-layers.ts';
import { cornersOfBox } from './boxes.ts';
import { type Item, levelLine, lineCurves, polygonCurves, uprightLine } from './drawing.ts';
import { outlineBox, roughPolygons } from './outline-model.ts';

export function markCurves({ kind, box, at: [x, y] }: Mark): Item {
  const bounds = outlineBox(box);
  const { left, right, bottom, top } = bounds;
  return kind === 'fiducials'
    ? lineCurves(levelLine(left, right, y), uprightLine(x, bottom, top))
    : polygonCurves(cornersOfBox(bounds));
}

const CAPTIONS = {
  orientation: 'XY',
  drawing: 'NO.',
  side: 'SIDE',
  serial: 'S/N',
  bars: 'BARS',
  patches: undefined,
} as const satisfies Record<Exclude<MarkKind, 'fiducials'>, string | undefined>;

/** Beside the mark, short for want of room; undefined for a patch's number, which stands beside its patch. */
export const markName = ({ kind, name }: Mark): string | undefined =>
  kind === 'fiducials' ? name : CAPTIONS[kind];

export const markPolygon = ({ box }: Mark) => roughPolygons(box);

/** For the title block; undefined without marks. The numbers of patches stand beside them: report.json has their places. */
export function marksInWords(design: Design): string | undefined {
  const { marks } = marksOf(design);
  if (marks.length === 0) return undefined;
  const listed = marks.flatMap((mark) => {
    const caption = markName(mark);
    return caption === undefined ? [] : [`${caption} ${placeOf(mark)}`];
  });
  const numbers = listed.length < marks.length ? ['patch numbers'] : [];
  return `layer ${layerWords(PATTERN_LAYERS.marks)}, right-reading on the patterned face: ${[...listed, ...numbers].join(', ')}`;
}
