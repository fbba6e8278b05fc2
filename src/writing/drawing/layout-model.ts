/**
 * The layout of a design as one drawing: outlines at true scale in the substrate frame at the left, the patch table and
 * the title block at the right, the view mark below the substrate. mm; x right, y up, seen from the part side.
 */

import type { Design } from '../../design/design.ts';
import { periodRange } from '../../design/period-range.ts';
import type { Provenance } from '../provenance.ts';
import { MOST_LEADERS, type PlacedCaption } from './captions/caption-placing.ts';
import { axisLines, centreCross, focusLine } from './centre-lines.ts';
import { substrateDimensions } from './dimensions.ts';
import { type Box, type Drawing, DrawingLayers, lineModel, ownedModel, type TextModel } from './drawing.ts';
import { LAYERS } from './layers.ts';
import { drawable, type Lettering, roomFor } from './lettering.ts';
import { outlineBox, outlineModels } from './outline-model.ts';
import { seatModels } from './seat-model.ts';
import { MOST_ROWS, patchRow } from './sheet/patch-table.ts';
import { tableModels } from './sheet/ruled-table.ts';
import { frameModels } from './sheet/sheet-frame.ts';
import { planSheet } from './sheet/sheet-plan.ts';
import { DRAFT_WORDS, titleBlockModels, viewStatement } from './sheet/title-block.ts';
import { textModel } from './text-model.ts';
import { viewMark } from './view-mark.ts';
import { walkDrawing } from './walk-drawing.ts';

export function layoutModel(design: Design, context: Provenance): Drawing {
  const listed = design.patches.length <= MOST_ROWS ? design.patches : [];
  const rows = listed.map((patch, index) => patchRow(patch, index + 1, periodRange(patch).min));
  const plan = planSheet(design, context, rows);
  const { content, captions, ordinates, lettering } = plan.view;
  const { text } = lettering;
  const { substrate, keepOuts } = design.scenario;
  const layers = new DrawingLayers();

  const { frame, grid } = frameModels(plan.sheet, plan.frame, plan.size.name);
  layers.add('FRAME', ...frame);
  layers.add('GRID', ...grid);
  layers.add('SUBSTRATE', ...outlineModels(substrate.outline));
  for (const { id, outline } of keepOuts) layers.add('KEEP_OUTS', ownedModel(id, outlineModels(outline)));
  layers.add('SEATS', ...seatModels(design, text));
  for (const patch of design.patches) {
    layers.add('PATCHES', ownedModel(patch.id, outlineModels(patch.outline)));
    layers.add('FOCUS_LINES', ...focusLine(patch, text));
    layers.add('CENTRE_LINES', ...centreCross(patch, text).map((line) => lineModel(line)));
  }
  layers.add('CENTRE_LINES', ...axisLines(content, text).map((line) => lineModel(line)));
  layers.add('DIMENSIONS', ...ordinates.lines.map((line) => lineModel(line)), ...ordinates.texts);
  layers.add(
    'DIMENSIONS',
    ...substrateDimensions(substrate.outline, outlineBox(substrate.outline), text, ordinates.depth),
  );
  for (const caption of captions) layers.add('CAPTIONS', ...captionModels(caption));
  if (rows.length > 0) layers.add('TITLE_BLOCK', ...tableModels(plan.table, plan.tableAt));
  layers.add('TITLE_BLOCK', ...titleBlockModels(plan.titleBlock, plan.titleBlockAt));
  layers.add('VIEW_MARK', ...viewMark(plan.viewMarkAt, lettering));
  if (context.draft) layers.add('DRAFT_MARK', draftMark(plan.view.box));

  const model = layers.model(LAYERS.map(({ name }) => name));
  return {
    shapes: walkDrawing(model),
    title: drawable(design.scenario.title) || 'Reference patches',
    description: `Layout of reference patches. ${viewStatement(substrate.patternFaces)}.`,
    draft: context.draft,
    sheet: plan.sheet,
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

function captionModels({ text, at, leader, height }: PlacedCaption): MakerJs.IModel[] {
  const caption = textModel(text, at, height);
  return leader === undefined ? [caption] : [lineModel(leader), caption];
}

/** The words along the diagonal of everything drawn, four fifths as long as it. */
function draftMark({ left, bottom, right, top }: Box): TextModel {
  const diagonal = Math.sqrt((right - left) ** 2 + (top - bottom) ** 2);
  const height = (0.8 * diagonal) / roomFor(DRAFT_WORDS, 1);
  const angle = Math.atan2(top - bottom, right - left);
  return textModel(DRAFT_WORDS, [(left + right) / 2, (bottom + top) / 2], height, 'centre', angle);
}
