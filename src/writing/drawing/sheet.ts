/**
 * Sheets: the A series of ISO 216, landscape, drawn at true scale with the lettering of ISO 3098 that is 2.5 mm high once
 * the sheet is reduced to A3. Borders after ISO 5457: 20 mm at the left for filing, 10 mm elsewhere.
 */
export interface SheetSize {
  readonly name: string | undefined;
  readonly width: number;
  readonly height: number;
  /** Of LETTERING_HEIGHTS. */
  readonly letteringStep: number;
}

export const SHEET_SIZES: readonly SheetSize[] = [
  { name: 'A4', width: 297, height: 210, letteringStep: 0 },
  { name: 'A3', width: 420, height: 297, letteringStep: 0 },
  { name: 'A2', width: 594, height: 420, letteringStep: 1 },
  { name: 'A1', width: 841, height: 594, letteringStep: 2 },
  { name: 'A0', width: 1189, height: 841, letteringStep: 3 },
  { name: '2A0', width: 1682, height: 1189, letteringStep: 4 },
];

export const BORDER = { left: 20, right: 10, bottom: 10, top: 10 } as const;

/** A sheet for what no standard one holds: rounded up to whole centimetres. */
export const sheetFor = (width: number, height: number, letteringStep: number): SheetSize => ({
  name: undefined,
  width: Math.ceil(width / 10) * 10,
  height: Math.ceil(height / 10) * 10,
  letteringStep,
});
