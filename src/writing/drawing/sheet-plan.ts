/**
 * Where everything stands on the sheet: the smallest standard sheet that holds the view at true scale with the patch
 * table and the title block, in the lettering that belongs to that sheet. mm, substrate frame.
 */
import type { Design } from '../../design/design.ts';
import type { Vec2 } from '../../geometry/vector.ts';
import { middleOf } from './boxes.ts';
import type { Box, DrawingContext } from './drawing.ts';
import { letteringAt } from './lettering.ts';
import type { TableLayout } from './ruled-table.ts';
import { BORDER, SHEET_SIZES, type SheetSize } from './sheet.ts';
import {
  type Arrangement,
  besideTable,
  ownSheet,
  type SheetParts,
  tableBelow,
} from './sheet-arrangements.ts';
import type { TitleBlockLayout } from './title-block.ts';
import { layView, type View } from './view-plan.ts';

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

/** `rows`: the cells of the patch table. */
export function planSheet(
  design: Design,
  context: DrawingContext,
  rows: readonly (readonly string[])[],
): SheetPlan {
  const views = new Map<number, View>();
  const partsAt = (step: number): SheetParts => {
    const view = views.get(step) ?? layView(design, letteringAt(step));
    views.set(step, view);
    return { design, context, rows, view };
  };
  const plan = (size: SheetSize): SheetPlan | undefined => {
    const parts = partsAt(size.letteringStep);
    const arrangement = besideTable(parts, size) ?? tableBelow(parts, size);
    return arrangement && placed(parts.view, size, arrangement);
  };
  for (const size of SHEET_SIZES) {
    const found = plan(size);
    if (found) return found;
  }
  const holdsView = ({ letteringStep, width, height }: SheetSize) => {
    const { box } = partsAt(letteringStep).view;
    return box.right - box.left < width && box.top - box.bottom < height;
  };
  const { letteringStep } = SHEET_SIZES.find(holdsView) ?? SHEET_SIZES.at(-1)!;
  for (const size of SHEET_SIZES) {
    const found = plan({ ...size, letteringStep });
    if (found) return found;
  }
  return plan(ownSheet(partsAt(letteringStep), letteringStep))!;
}

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
