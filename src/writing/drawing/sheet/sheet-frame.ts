/**
 * Sheets, landscape, drawn at true scale: the A series of ISO 216 with frame and borders of ISO 5457 (20 mm at the left for
 * filing, 10 mm elsewhere), or the sheets of ANSI/ASME Y14.1 in the same frame. The lettering of ISO 3098 is 2.5 mm high
 * once the sheet is reduced to A3, or to ANSI B.
 * The frame has grid references and centring marks, after ISO 5457: fields of 50 mm counted from the
 * sheet's axes of symmetry, numerals from the left, letters from the top without I and O, 3.5 mm high, in a border 5 mm wide
 * around the frame (of an A4 sheet at its top and right side only); a mark at each end of both axes. mm.
 */

import type { SheetWord } from '../../../scenario/drawing-wish.ts';
import { cornersOfBox, grown } from '../boxes.ts';
import {
  type Box,
  type Item,
  type Line,
  levelLine,
  lineCurves,
  polygonCurves,
  type Text,
  uprightLine,
} from '../drawing.ts';
import { centredText } from '../lettering.ts';

export interface SheetSize {
  readonly name: string | undefined;
  readonly width: number;
  readonly height: number;
  /** Of LETTERING_HEIGHTS. */
  readonly letteringStep: number;
}

const ISO_SHEETS: readonly SheetSize[] = [
  { name: 'A4', width: 297, height: 210, letteringStep: 0 },
  { name: 'A3', width: 420, height: 297, letteringStep: 0 },
  { name: 'A2', width: 594, height: 420, letteringStep: 1 },
  { name: 'A1', width: 841, height: 594, letteringStep: 2 },
  { name: 'A0', width: 1189, height: 841, letteringStep: 3 },
  { name: '2A0', width: 1682, height: 1189, letteringStep: 4 },
];

/** 11 × 8.5 in and so on; from A and from B each sheet is twice the last but one, F stands apart. */
const ANSI_SHEETS: readonly SheetSize[] = [
  { name: 'ANSI A', width: 279.4, height: 215.9, letteringStep: 0 },
  { name: 'ANSI B', width: 431.8, height: 279.4, letteringStep: 0 },
  { name: 'ANSI C', width: 558.8, height: 431.8, letteringStep: 1 },
  { name: 'ANSI D', width: 863.6, height: 558.8, letteringStep: 2 },
  { name: 'ANSI F', width: 1016, height: 711.2, letteringStep: 3 },
  { name: 'ANSI E', width: 1117.6, height: 863.6, letteringStep: 3 },
];

export const LARGEST_SHEET = ISO_SHEETS.at(-1)!;

/** The sheets to be tried, smallest first: of the wished one's series, from it on. */
export function sheetsFrom(wish: SheetWord): readonly SheetSize[] {
  const series = wish.startsWith('ANSI') ? ANSI_SHEETS : ISO_SHEETS;
  const first = series.findIndex(({ name }) => name === wish);
  return series.slice(Math.max(0, first));
}

export const BORDER = { left: 20, right: 10, bottom: 10, top: 10 } as const;

/** A sheet for what no standard one holds: rounded up to whole centimetres. */
export const sheetFor = (width: number, height: number, letteringStep: number): SheetSize => ({
  name: undefined,
  width: Math.ceil(width / 10) * 10,
  height: Math.ceil(height / 10) * 10,
  letteringStep,
});

const FIELD = 50;
/** An outermost field narrower than this goes to its neighbour; on the A series none is. */
const LEAST_FIELD = 20;
const GRID_BORDER = 5;
const GRID_LETTERING = 3.5;
/** Centring marks reach from the frame this far toward the sheet's edge. */
const MARK = 9;
const LETTERS = 'ABCDEFGHJKLMNPQRSTUVWXYZ';

interface FrameItems {
  readonly frame: readonly Item[];
  readonly grid: readonly Item[];
}

export function frameItems(sheet: Box, frame: Box, sheetName: string | undefined): FrameItems {
  const [x0, y0] = [(sheet.left + sheet.right) / 2, (sheet.bottom + sheet.top) / 2];
  const marks = [
    uprightLine(x0, frame.top, frame.top + MARK),
    uprightLine(x0, frame.bottom, frame.bottom - MARK),
    levelLine(frame.left, frame.left - MARK, y0),
    levelLine(frame.right, frame.right + MARK, y0),
  ];
  const both = sheetName !== 'A4';
  const columns = fields(x0, frame.left, frame.right, sheet.right - sheet.left);
  const rows = fields(y0, frame.bottom, frame.top, sheet.top - sheet.bottom).reverse();
  const ticks: Line[] = [];
  const texts: Text[] = [];
  for (const outer of both ? [frame.top, frame.bottom - GRID_BORDER] : [frame.top]) {
    for (const { from, to, number } of columns) {
      if (number > 1 && Math.abs(from - x0) > 1) ticks.push(uprightLine(from, outer, outer + GRID_BORDER));
      texts.push(centredText(String(number), [(from + to) / 2, outer + GRID_BORDER / 2], GRID_LETTERING));
    }
  }
  for (const outer of both ? [frame.right, frame.left - GRID_BORDER] : [frame.right]) {
    rows.forEach(({ from, to }, k) => {
      if (k < rows.length - 1 && Math.abs(from - y0) > 1)
        ticks.push(levelLine(outer, outer + GRID_BORDER, from));
      texts.push(centredText(LETTERS[k] ?? '-', [outer + GRID_BORDER / 2, (from + to) / 2], GRID_LETTERING));
    });
  }
  return {
    frame: [polygonCurves(cornersOfBox(frame)), lineCurves(...marks)],
    grid: [polygonCurves(cornersOfBox(grown(frame, GRID_BORDER))), lineCurves(...ticks), ...texts],
  };
}

/** Fields from the axis to both sides, cut off by the frame, the outermost taking what is left; lowest first, from 1. */
function fields(axis: number, low: number, high: number, length: number) {
  const whole = Math.round(length / 2 / FIELD);
  const outermost = Math.min(high - axis, axis - low) - (whole - 1) * FIELD;
  const perHalf = Math.max(1, outermost < LEAST_FIELD ? whole - 1 : whole);
  const inner = Array.from({ length: 2 * perHalf - 1 }, (_, k) => axis + (k + 1 - perHalf) * FIELD);
  const edges = [low, ...inner, high];
  return inner.concat(high).map((to, k) => ({ from: edges[k]!, to, number: k + 1 }));
}
