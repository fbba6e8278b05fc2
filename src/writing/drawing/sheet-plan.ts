/**
 * Where everything stands on the sheet: the smallest standard sheet that holds the drawing at true scale at the left, the
 * patch table and the title block at the right, with the lettering that belongs to that sheet. mm, substrate frame.
 */
import type { Design } from '../../design/design.ts';
import { boundsOf } from '../../geometry/extent.ts';
import type { Outline } from '../../geometry/outline.ts';
import type { Vec2 } from '../../geometry/vector.ts';
import { around, grown } from './boxes.ts';
import { type PlacedCaption, placeCaptions } from './caption-placing.ts';
import { axisLines, axisNames, centreCross } from './centre-lines.ts';
import { dimensionBoxes } from './dimensions.ts';
import type { Box, DrawingContext } from './drawing.ts';
import { drawable, type Lettering, letteringAt, roomFor } from './lettering.ts';
import { roughPolygons } from './outline-model.ts';
import { PATCH_COLUMNS } from './patch-table.ts';
import { layTable, type TableLayout } from './ruled-table.ts';
import { BORDER, SHEET_SIZES, type SheetSize, sheetFor } from './sheet.ts';
import { textBox } from './text-model.ts';
import { layTitleBlock, type TitleBlockLayout } from './title-block.ts';
import { viewMarkSize } from './view-mark.ts';

export interface SheetPlan {
  readonly view: View;
  readonly size: SheetSize;
  readonly sheet: Box;
  readonly frame: Box;
  readonly table: TableLayout;
  /** Top left corner. */
  readonly tableAt: Vec2;
  readonly titleBlock: TitleBlockLayout;
  /** Bottom left corners. */
  readonly titleBlockAt: Vec2;
  readonly viewMarkAt: Vec2;
}

/** The drawing itself at one size of lettering. */
export interface View {
  readonly lettering: Lettering;
  /** Around substrate, patches, keep-outs and the origin. */
  readonly content: Box;
  readonly captions: readonly PlacedCaption[];
  /** Around all of it, captions and dimensions included. */
  readonly box: Box;
}

/** In text heights: between the parts of the sheet; the narrowest title block; how far out captions may go. */
const GAP = 2;
const NARROWEST_BLOCK = 62;
const CAPTION_REACH = 9;
const CAPTION_REACH_PER_PATCH = 0.25;
/** An id longer than this stays in the table; the patch shows its number alone. */
const LONGEST_CAPTION_ID = 20;

export function planSheet(
  design: Design,
  context: DrawingContext,
  rows: readonly (readonly string[])[],
): SheetPlan {
  const views = new Map<number, View>();
  const viewAt = (step: number): View => {
    const view = views.get(step) ?? layView(design, letteringAt(step));
    views.set(step, view);
    return view;
  };
  const arrange = (size: SheetSize) => arrangeSheet(design, context, rows, viewAt(size.letteringStep), size);
  for (const size of SHEET_SIZES) {
    const plan = arrange(size);
    if (plan) return plan;
  }
  const holdsView = ({ letteringStep, width, height }: SheetSize) => {
    const { box } = viewAt(letteringStep);
    return box.right - box.left < width && box.top - box.bottom < height;
  };
  const { letteringStep } = SHEET_SIZES.find(holdsView) ?? SHEET_SIZES.at(-1)!;
  for (const size of SHEET_SIZES) {
    const plan = arrange({ ...size, letteringStep });
    if (plan) return plan;
  }
  return arrange(ownSheet(design, context, rows, viewAt(letteringStep), letteringStep))!;
}

export const outlineBox = (outline: Outline): Box => {
  const { minX, minY, maxX, maxY } = boundsOf(outline);
  return { left: minX, bottom: minY, right: maxX, top: maxY };
};

function layView({ scenario, patches }: Design, lettering: Lettering): View {
  const { text } = lettering;
  const substrate = outlineBox(scenario.substrate.outline);
  const origin: Box = { left: 0, bottom: 0, right: 0, top: 0 };
  const drawn = [...scenario.keepOuts, ...patches].map(({ outline }) => outlineBox(outline));
  const content = around([substrate, origin, ...drawn]);
  const fixed = [
    ...dimensionBoxes(scenario.substrate.outline, substrate, text),
    ...axisNames(content, text).map(textBox),
  ];
  const reach = (CAPTION_REACH + CAPTION_REACH_PER_PATCH * patches.length) * text;
  const captions = placeCaptions(
    patches.map(({ id, outline }, index) => ({
      text: captionText(id, index + 1),
      patch: roughPolygons(outline)[0]!,
    })),
    text,
    {
      area: grown(content, reach),
      edges: [scenario.substrate, ...scenario.keepOuts].flatMap(({ outline }) => roughPolygons(outline)),
      lines: [...axisLines(content, text), ...patches.flatMap((patch) => centreCross(patch, text))],
      boxes: fixed,
    },
  );
  const captionBoxes = captions.map(({ text: words, at: [x, y] }) => ({
    left: x,
    bottom: y - text,
    right: x + roomFor(words, text),
    top: y + 2 * text,
  }));
  return { lettering, content, captions, box: grown(around([content, ...fixed, ...captionBoxes]), text) };
}

function captionText(id: string, number: number): string {
  const shown = drawable(id);
  return shown.length > LONGEST_CAPTION_ID ? `${number}` : `${number} ${shown}`;
}

/** Undefined where the sheet is too small. */
function arrangeSheet(
  design: Design,
  context: DrawingContext,
  rows: readonly (readonly string[])[],
  view: View,
  size: SheetSize,
): SheetPlan | undefined {
  const { lettering, box } = view;
  const gap = GAP * lettering.text;
  const [width, height] = [size.width - BORDER.left - BORDER.right, size.height - BORDER.top - BORDER.bottom];
  const { table, titleBlock } = layRight(design, context, rows, lettering, size.name, height - gap);
  const mark = viewMarkSize(lettering);
  const leftNeeded = Math.max(box.right - box.left, mark.width) + 2 * gap;
  const leftHeight = box.top - box.bottom + mark.height + 3 * gap;
  const rightHeight = table.height + 2 * gap + titleBlock.height;
  if (leftNeeded + titleBlock.width > width || Math.max(leftHeight, rightHeight) > height) return undefined;

  const leftWidth = width - titleBlock.width;
  const spare = height - leftHeight;
  const left = Math.floor((box.left + box.right) / 2 - leftWidth / 2);
  const bottom = Math.floor(box.bottom - spare / 2 - mark.height - 2 * gap);
  const frame = { left, bottom, right: left + width, top: bottom + height };
  return {
    view,
    size,
    frame,
    sheet: {
      left: frame.left - BORDER.left,
      bottom: frame.bottom - BORDER.bottom,
      right: frame.right + BORDER.right,
      top: frame.top + BORDER.top,
    },
    table,
    tableAt: [frame.right - titleBlock.width, frame.top - gap],
    titleBlock,
    titleBlockAt: [frame.right - titleBlock.width, frame.bottom],
    viewMarkAt: [frame.left + gap, frame.bottom + gap],
  };
}

function layRight(
  design: Design,
  context: DrawingContext,
  rows: readonly (readonly string[])[],
  lettering: Lettering,
  sheetName: string | undefined,
  height: number,
): { table: TableLayout; titleBlock: TitleBlockLayout } {
  const gap = GAP * lettering.text;
  const block = (width: number) => layTitleBlock(design, context, sheetName, lettering, width);
  const narrow = Math.max(
    layTable(PATCH_COLUMNS, rows, lettering.text, Infinity).width + gap,
    NARROWEST_BLOCK * lettering.text,
  );
  const table = layTable(PATCH_COLUMNS, rows, lettering.text, height - block(narrow).height - gap);
  return { table, titleBlock: block(Math.max(narrow, table.width + gap)) };
}

/** A sheet of no standard size, high enough for the table to stand in one or a few blocks. */
function ownSheet(
  design: Design,
  context: DrawingContext,
  rows: readonly (readonly string[])[],
  { lettering, box }: View,
  letteringStep: number,
): SheetSize {
  const gap = GAP * lettering.text;
  const mark = viewMarkSize(lettering);
  const left = Math.max(box.right - box.left, mark.width) + 2 * gap;
  const leftHeight = box.top - box.bottom + mark.height + 3 * gap;
  const inner = Math.max(leftHeight, SHEET_SIZES.at(-1)!.height);
  const { table, titleBlock } = layRight(design, context, rows, lettering, undefined, inner - gap);
  const height = Math.max(inner, table.height + titleBlock.height + 2 * gap);
  return sheetFor(
    left + titleBlock.width + BORDER.left + BORDER.right,
    height + BORDER.top + BORDER.bottom,
    letteringStep,
  );
}
