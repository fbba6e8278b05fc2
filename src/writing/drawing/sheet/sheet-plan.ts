/**
 * Where everything stands on the sheet: the smallest standard sheet that holds the view at true scale with the patch
 * table and the title block, in the lettering that belongs to that sheet. mm, substrate frame.
 */
import type { Design } from '../../../design/design.ts';
import type { Vec2 } from '../../../geometry/vector.ts';
import type { Provenance } from '../../provenance.ts';
import { middleOf } from '../boxes.ts';
import type { Box } from '../drawing.ts';
import { letteringAt } from '../lettering.ts';
import type { TableLayout } from './ruled-table.ts';
import { BORDER, type SheetSize, sheetsFrom } from './sheet.ts';
import {
  type Arrangement,
  besideTable,
  ownSheet,
  type SheetParts,
  tableBelow,
} from './sheet-arrangements.ts';
import type { TitleBlockLayout } from './title-block.ts';
import { contentBox, layView, type View } from './view-plan.ts';

interface SheetPlan {
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
  const plan = (size: SheetSize): SheetPlan | undefined => {
    const step = size.letteringStep;
    // the table and the title block alone tell soon whether the view needs to be laid out for this sheet at all
    if (!arrange(partsAt(step), size)) return undefined;
    const view = viewAt(step);
    const arrangement = arrange(partsAt(step, view.box), size);
    return arrangement && placed(view, size, arrangement);
  };
  for (const size of sheets) {
    const found = plan(size);
    if (found) return found;
  }
  const { left, bottom, right, top } = contentBox(design);
  const holdsContent = ({ width, height }: SheetSize) =>
    ROOM_AROUND * (right - left) < width && ROOM_AROUND * (top - bottom) < height;
  const { letteringStep } = sheets.find(holdsContent) ?? sheets.at(-1)!;
  for (const size of sheets) {
    const found = plan({ ...size, letteringStep });
    if (found) return found;
  }
  return plan(ownSheet(partsAt(letteringStep, viewAt(letteringStep).box), letteringStep))!;
}

/** Of a sheet whose lettering suits a drawing, against the drawing without its captions. */
const ROOM_AROUND = 1.4;
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
