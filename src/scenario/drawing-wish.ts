/** What the drawing's title block and sheet are to be. */

/** The A series of ISO 216 and the sheets of ANSI/ASME Y14.1, landscape; a series' name alone means its smallest that serves. */
export const SHEET_WORDS = [
  ...['ISO', 'A4', 'A3', 'A2', 'A1', 'A0', '2A0'],
  ...['ANSI', 'ANSI A', 'ANSI B', 'ANSI C', 'ANSI D', 'ANSI E', 'ANSI F'],
] as const;
export type SheetWord = (typeof SHEET_WORDS)[number];

/** Texts are empty where the file gives none. */
export interface DrawingWish {
  readonly number: string;
  readonly revision: string;
  readonly owner: string;
  readonly creator: string;
  readonly approver: string;
  readonly documentType: string;
  /** Such as `1 of 2`. */
  readonly page: string;
  /** The smallest sheet to be taken: one of its series that is larger where this one does not hold the drawing. */
  readonly sheet: SheetWord;
  /** As the file has it, such as 2026-01-31: no clock is ever read. */
  readonly date: string;
}
