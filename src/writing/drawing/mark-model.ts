/**
 * Marks on the drawing: crosses as they are, the others by the box around them, each with its name; and what the title block says. mm.
 */

import type { Design } from '../../design/design.ts';
import { type Mark, marksOf } from '../../design/marks/marks.ts';
import { trimmed } from '../../quantity/format.ts';
import { markPlace, registrationWords } from '../mark-words.ts';
import { cornersOfBox } from './boxes.ts';
import { type Item, levelLine, lineCurves, polygonCurves, uprightLine } from './drawing.ts';
import { outlineBox, roughPolygons } from './outline-model.ts';
import { firstOf } from './seat-model.ts';

export function markCurves({ kind, box, at: [x, y] }: Mark): Item {
  const bounds = outlineBox(box);
  const { left, right, bottom, top } = bounds;
  return kind === 'fiducials'
    ? lineCurves(levelLine(left, right, y), uprightLine(x, bottom, top))
    : polygonCurves(cornersOfBox(bounds));
}

/** Beside the mark; undefined for a patch's number, which stands beside its patch. */
export const markName = ({ kind, name }: Mark): string | undefined =>
  kind === 'patches' ? undefined : name.toUpperCase();

export const markPolygon = ({ box }: Mark) => roughPolygons(box);

/** So many are told, with their places; report.json has the rest. */
const MOST_TOLD = 24;

/** Lines of the title block; none without marks. */
export function markLines(design: Design): readonly string[] {
  const { marks } = marksOf(design);
  if (marks.length === 0) return [];
  const height = Math.max(0, ...marks.filter(({ text }) => text !== '').map(({ form }) => form.stroke * 7));
  const letters = height === 0 ? '' : `, letters up to ${trimmed(height, 3)} high`;
  const registration = registrationWords(design, false);
  return [
    `written on a layer of their own (MARKS, 2/0)${letters}; texts read right where the patterned face is looked at. Middles at:`,
    firstOf(marks, MOST_TOLD, markPlace),
    ...(registration === undefined ? [] : [registration]),
  ];
}
