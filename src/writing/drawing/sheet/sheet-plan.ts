/**
 * Where everything stands on the sheet: the smallest standard sheet that holds the view at true scale with the patch
 * table and the title block, in the lettering that belongs to that sheet, or the largest smaller one that makes them fit. Two ways to share a sheet: the table beside the view, or in a
 * strip below it; the title block stands in the bottom right corner in both (ISO 7200). mm.
 */
import type { Design } from '../../../design/design.ts';
import type { Vec2 } from '../../../geometry/vector.ts';
import type { Provenance } from '../../provenance.ts';
import { middleOf } from '../boxes.ts';
import type { Box } from '../drawing.ts';
import { type Lettering, letteringAt } from '../lettering.ts';
import { viewMarkSize } from '../view-mark.ts';
import { PATCH_COLUMNS } from './patch-table.ts';
import { layTable, type TableLayout } from './ruled-table.ts';
import { BORDER, LARGEST_SHEET, type SheetSize, sheetFor, sheetsFrom } from './sheet-frame.ts';
import { layTitleBlock, type TitleBlockLayout } from './title-block.ts';
import { contentBox, layView, type View } from './view-plan.ts';

interface SheetParts {
  readonly design: Design;
  readonly context: Provenance;
  /** Cells of the patch table. */
  readonly rows: readonly (readonly string[])[];
  readonly lettering: Lettering;
  /** Room of the view. */
  readonly view: { readonly width: number; readonly height: number };
}

/** From the bottom left corner of the sheet's frame. */
interface Arrangement {
  readonly viewCentre: Vec2;
  readonly table: TableLayout;
  /** Top left corner. */
  readonly tableAt: Vec2;
  readonly titleBlock: TitleBlockLayout;
  /** Bottom left corners. */
  readonly titleBlockAt: Vec2;
  readonly viewMarkAt: Vec2;
}

/** In the substrate frame. */
interface SheetPlan extends Omit<Arrangement, 'viewCentre'> {
  readonly view: View;
  readonly size: SheetSize;
  readonly sheet: Box;
  readonly frame: Box;
}

/** In text heights: between the parts of the sheet; the narrowest and widest title block that read well. */
const GAP = 1;
const NARROWEST_BLOCK = 46;
const WIDEST_BLOCK = 75;

/** `rows`: the cells of the patch table. */
export function planSheet(
  design: Design,
  context: Provenance,
  rows: readonly (readonly string[])[],
): SheetPlan {
  const sheets = sheetsFrom(design.scenario.drawing?.sheet ?? 'ISO');
  const views = new Map<number, View>();
  const viewAt = (step: number): View => {
    const view = views.get(step) ?? layView(design, letteringAt(step));
    views.set(step, view);
    return view;
  };
  const partsAt = (step: number, box: Box = NO_BOX): SheetParts => ({
    design,
    context,
    rows,
    lettering: letteringAt(step),
    view: { width: box.right - box.left, height: box.top - box.bottom },
  });
  const arrange = (parts: SheetParts, size: SheetSize) => besideTable(parts, size) ?? tableBelow(parts, size);
  const plan = (size: SheetSize, step: number): SheetPlan | undefined => {
    // the table and the title block alone tell soon whether the view needs to be laid out for this sheet at all
    if (!arrange(partsAt(step), size)) return undefined;
    const view = viewAt(step);
    const arrangement = arrange(partsAt(step, view.box), size);
    return arrangement && placed(view, size, arrangement);
  };
  const { left, bottom, right, top } = contentBox(design);
  for (const size of sheets) {
    if (right - left > size.width || top - bottom > size.height) continue;
    for (let step = size.letteringStep; step >= 0; step--) {
      const found = plan(size, step);
      if (found) return found;
    }
  }
  return plan(ownSheet(partsAt(0, viewAt(0).box), 0), 0)!;
}

const NO_BOX: Box = { left: 0, bottom: 0, right: 0, top: 0 };

/** From the frame's own corner to the substrate frame; the sheet's corner comes to stand on whole millimetres. */
function placed(view: View, size: SheetSize, arrangement: Arrangement): SheetPlan {
  const [x, y] = middleOf(view.box);
  const left = Math.floor(x - arrangement.viewCentre[0]);
  const bottom = Math.floor(y - arrangement.viewCentre[1]);
  const at = ([u, v]: Vec2): Vec2 => [left + u, bottom + v];
  const frame: Box = {
    left,
    bottom,
    right: left + size.width - BORDER.left - BORDER.right,
    top: bottom + size.height - BORDER.bottom - BORDER.top,
  };
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
    table: arrangement.table,
    tableAt: at(arrangement.tableAt),
    titleBlock: arrangement.titleBlock,
    titleBlockAt: at(arrangement.titleBlockAt),
    viewMarkAt: at(arrangement.viewMarkAt),
  };
}

/** The view at the left with its mark below, the table at the right above the title block; undefined if it does not fit. */
function besideTable(parts: SheetParts, size: SheetSize): Arrangement | undefined {
  const { width, height, gap, view, mark } = measures(parts, size);
  const { table, titleBlock } = rightColumn(parts, size.name, height);
  const left = Math.max(view.width, mark.width) + 2 * gap;
  const leftHeight = view.height + mark.height + 3 * gap;
  const rightHeight = table.height + 2 * gap + titleBlock.height;
  if (left + titleBlock.width > width || Math.max(leftHeight, rightHeight) > height) return undefined;
  const column = width - titleBlock.width;
  return {
    viewCentre: [column / 2, (mark.height + gap + height) / 2],
    table,
    tableAt: [column, height - gap],
    titleBlock,
    titleBlockAt: [column, 0],
    viewMarkAt: [gap, gap],
  };
}

/** The view with the table below it at the left, the mark above the title block at the right; undefined if too large. */
function tableBelow(parts: SheetParts, size: SheetSize): Arrangement | undefined {
  const { text } = parts.lettering;
  const { width, height, gap, view, mark } = measures(parts, size);
  const table = layTable(PATCH_COLUMNS, parts.rows, text, height - view.height - 3 * gap);
  const column = Math.max(view.width, table.width) + 2 * gap;
  if (column + Math.max(NARROWEST_BLOCK * text, mark.width + 2 * gap) > width) return undefined;
  const blockWidth = Math.min(width - column, WIDEST_BLOCK * text);
  const titleBlock = layTitleBlock(parts.design, parts.context, size.name, parts.lettering, blockWidth);
  const strip = table.height + 2 * gap;
  if (Math.max(strip + view.height + gap, titleBlock.height + mark.height + 2 * gap) > height)
    return undefined;
  return {
    viewCentre: [column / 2, (strip + height) / 2],
    table,
    tableAt: [gap, table.height + gap],
    titleBlock,
    titleBlockAt: [width - blockWidth, 0],
    viewMarkAt: [width - blockWidth, titleBlock.height + gap],
  };
}

/** A sheet of no standard size that holds the first arrangement, high enough for the table's blocks to be few. */
function ownSheet(parts: SheetParts, letteringStep: number): SheetSize {
  const { gap, view, mark } = measures(parts, LARGEST_SHEET);
  const inner = Math.max(view.height + mark.height + 3 * gap, LARGEST_SHEET.height);
  const { table, titleBlock } = rightColumn(parts, undefined, inner);
  const width = Math.max(view.width, mark.width) + 2 * gap + titleBlock.width;
  const height = Math.max(inner, table.height + titleBlock.height + 2 * gap);
  return sheetFor(width + BORDER.left + BORDER.right, height + BORDER.top + BORDER.bottom, letteringStep);
}

function measures({ view, lettering }: SheetParts, size: SheetSize) {
  return {
    width: size.width - BORDER.left - BORDER.right,
    height: size.height - BORDER.top - BORDER.bottom,
    gap: GAP * lettering.text,
    view,
    mark: viewMarkSize(lettering),
  };
}

/** The table in as many blocks as it takes above the title block, which is as wide as they are. */
function rightColumn(
  { design, context, rows, lettering }: SheetParts,
  sheetName: string | undefined,
  height: number,
): { table: TableLayout; titleBlock: TitleBlockLayout } {
  const { text } = lettering;
  const gap = GAP * text;
  const block = (table: TableLayout) =>
    layTitleBlock(design, context, sheetName, lettering, Math.max(table.width + gap, NARROWEST_BLOCK * text));
  const whole = layTable(PATCH_COLUMNS, rows, text, Number.POSITIVE_INFINITY);
  const table = layTable(PATCH_COLUMNS, rows, text, height - block(whole).height - 2 * gap);
  return { table, titleBlock: block(table) };
}
