/**
 * The layout of a design as one drawing: outlines at true scale in the substrate frame at the left, the patch table and
 * the title block at the right, the view mark below the substrate. mm; x right, y up, seen from the part side.
 */

import { type Design, patternsOf } from '../../../design/design.ts';
import { marksOf } from '../../../design/marks/marks.ts';
import { periodRange } from '../../../design/period-range.ts';
import { DRAFT_WORDS } from '../../convention.ts';
import type { Provenance } from '../../provenance.ts';
import { alignOf, MOST_LEADERS, type PlacedCaption } from '../captions/caption-placing.ts';
import { axisLines, centreCross, focusLine } from '../centre-lines.ts';
import { datumMarks } from '../datum-marks.ts';
import { substrateDimensions } from '../dimensions.ts';
import { type Box, type Drawing, type Item, lineCurves, ownedBy, type Text } from '../drawing.ts';
import type { LayerName } from '../layers.ts';
import { drawable, type Lettering, roomFor, textAt } from '../lettering.ts';
import { markCurves } from '../mark-model.ts';
import { outlineArea, outlineBox, outlineCurves } from '../outline-model.ts';
import { seatOutline } from '../seat-model.ts';
import { viewMark } from '../view-mark.ts';
import { MOST_ROWS, patternRow } from './patch-table.ts';
import { tableItems } from './ruled-table.ts';
import { frameItems } from './sheet-frame.ts';
import { planSheet } from './sheet-plan.ts';
import { titleBlockItems, viewStatement } from './title-block.ts';

export function layoutModel(design: Design, context: Provenance): Drawing {
  const patterns = patternsOf(design);
  const listed = patterns.length <= MOST_ROWS ? patterns : [];
  const rows = listed.map(({ pattern, number }) => patternRow(pattern, number, periodRange(pattern).min));
  const plan = planSheet(design, context, rows);
  const { content, captions, ordinates, lettering } = plan.view;
  const { text } = lettering;
  const { substrate, keepOuts } = design.scenario;
  const layers = new Map<LayerName, Item[]>();
  const add = (layer: LayerName, ...items: Item[]): void => {
    const held = layers.get(layer);
    if (held) held.push(...items);
    else if (items.length > 0) layers.set(layer, items);
  };

  const { frame, grid } = frameItems(plan.sheet, plan.frame, plan.size.name);
  add('FRAME', ...frame);
  add('GRID', ...grid);
  add('SUBSTRATE', ...outlineCurves(substrate.outline));
  for (const { id, outline } of keepOuts) add('KEEP_OUTS', ...ownedBy(id, outlineCurves(outline)));
  for (const [k, seat] of design.scenario.seats.entries()) {
    const items = [
      ...outlineCurves(seatOutline(seat)),
      ...captionItems(plan.view.seatCaptions[k]!, outlineBox(seatOutline(seat))),
    ];
    add('SEATS', ...ownedBy(seat.id, items));
  }
  for (const [k, mark] of marksOf(design).marks.entries()) {
    const caption = plan.view.markCaptions[k];
    add(
      'MARKS',
      ...ownedBy(mark.name, [
        markCurves(mark),
        ...(caption ? captionItems(caption, outlineBox(mark.box)) : []),
      ]),
    );
  }
  for (const { pattern } of patterns) {
    add('PATTERN_AREAS', ...ownedBy(pattern.id, [outlineArea(pattern.outline)]));
    add('PATCHES', ...ownedBy(pattern.id, outlineCurves(pattern.outline)));
    if ('reference' in pattern) add('FOCUS_LINES', ...focusLine(pattern, text));
    add('CENTRE_LINES', ...centreCross(pattern, text).map((line) => lineCurves(line)));
  }
  add('CENTRE_LINES', ...axisLines(content, text).map((line) => lineCurves(line)));
  add('DIMENSIONS', ...ordinates.lines.map((line) => lineCurves(line)), ...ordinates.texts);
  add(
    'DIMENSIONS',
    ...substrateDimensions(substrate.outline, outlineBox(substrate.outline), text, ordinates.depth),
  );
  add('DIMENSIONS', ...datumMarks(substrate.outline, text, ordinates.depth.bottom).items);
  for (const [k, { pattern }] of patterns.entries())
    add('CAPTIONS', ...captionItems(captions[k]!, outlineBox(pattern.outline)));
  if (rows.length > 0) add('TITLE_BLOCK', ...tableItems(plan.table, plan.tableAt));
  add('TITLE_BLOCK', ...titleBlockItems(plan.titleBlock, plan.titleBlockAt));
  add('VIEW_MARK', ...viewMark(plan.viewMarkAt, lettering));
  if (context.draft) add('DRAFT_MARK', draftMark(plan.view.box));

  return {
    layers,
    title: drawable(design.scenario.title) || 'Reference patches',
    description: `Layout of reference patches. ${viewStatement(substrate.patternFaces)}.`,
    draft: context.draft,
    sheet: plan.sheet,
    view: plan.view.box,
    sheetName: plan.size.name,
    lettering,
    patchLines: patchLines(design, lettering),
  };
}

/** Of a small patch's lesser side, the most that its wide lines take. */
const FINEST = 1 / 24;

function patchLines({ patches }: Design, { narrowLine }: Lettering): number {
  if (patches.length <= MOST_LEADERS) return 1;
  const least = patches.reduce((side, { outline }) => {
    const { left, right, bottom, top } = outlineBox(outline);
    return Math.min(side, right - left, top - bottom);
  }, Number.POSITIVE_INFINITY);
  return Math.min(1, (FINEST * least) / (2 * narrowLine));
}

/** `named`: the box of what it belongs to. */
function captionItems(placed: PlacedCaption, named: Box): Item[] {
  const { text, at, leader, height } = placed;
  const align = alignOf(placed, named);
  const from = { left: 0, centre: 1 / 2, right: 1 }[align] * roomFor(text, height);
  const caption = textAt(text, [at[0] + from, at[1]], height, align);
  return leader === undefined ? [caption] : [lineCurves(leader), caption];
}

/** The words along the diagonal of everything drawn, four fifths as long as it. */
function draftMark({ left, bottom, right, top }: Box): Text {
  const diagonal = Math.sqrt((right - left) ** 2 + (top - bottom) ** 2);
  const height = (0.8 * diagonal) / roomFor(DRAFT_WORDS, 1);
  const angle = Math.atan2(top - bottom, right - left);
  return textAt(DRAFT_WORDS, [(left + right) / 2, (bottom + top) / 2], height, 'centre', angle);
}
