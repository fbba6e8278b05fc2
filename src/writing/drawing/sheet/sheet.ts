/**
 * Sheets, landscape, drawn at true scale: the A series of ISO 216 with frame and borders of ISO 5457 (20 mm at the left for
 * filing, 10 mm elsewhere), or the sheets of ANSI/ASME Y14.1 in the same frame. The lettering of ISO 3098 is 2.5 mm high
 * once the sheet is reduced to A3, or to ANSI B.
 */
import type { SheetWord } from '../../../scenario/scenario.ts';

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
