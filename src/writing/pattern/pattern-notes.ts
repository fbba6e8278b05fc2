/** The texts in a pattern file: what the areas become, how deep, mirrored or not, shifted or not, and whether it may be fabricated. ASCII. */

import { type Design, patternsOf } from '../../design/design.ts';
import type { Pattern } from '../../design/pattern.ts';
import { UM_PER_MM } from '../../quantity/conversion.ts';
import { trimmed } from '../../quantity/format.ts';
import { DRAFT_WORDS } from '../convention.ts';
import { writtenAreas } from '../written-areas.ts';

/** Below the substrate, mm: height of a letter, and from line to line. */
export const NOTE_HEIGHT = 2;
export const NOTE_LINE = 4;

export interface NoteWishes {
  /** Outward shift of each written edge, mm; default 0. */
  readonly edgeShift?: number;
  /** Only every nth pattern line, marked as a picture; default 1. */
  readonly every?: number;
  /** Names the top cell, and a note, as not for fabrication. */
  readonly draft?: boolean;
  /** Whether the main pattern is written beside the patches; default not. */
  readonly main?: boolean;
}

/** What a pattern file holds: the patches, and the main pattern where it is asked for. */
export const patternsIn = (design: Design, { main = false }: Pick<NoteWishes, 'main'>): readonly Pattern[] =>
  patternsOf(main ? design : { patches: design.patches }).map(({ pattern }) => pattern);

export function patternNotes(
  design: Design,
  { edgeShift = 0, every = 1, draft, main = false }: NoteWishes,
): readonly string[] {
  return [
    ...(draft ? [`DRAFT: ${DRAFT_WORDS}`] : []),
    ...(every > 1 ? [`PICTURE: every ${every}th written zone only, ${DRAFT_WORDS}`] : []),
    ...(design.main === undefined || main ? [] : ['MAIN PATTERN: not in this file.']),
    ...writtenAreas(design).map(({ name, text }) => `${name}: ${text}`),
    `EDGE SHIFT: ${edgeShiftWords(edgeShift * UM_PER_MM, 'um')}.`,
  ];
}

/** Of a shift in micrometres, outward if positive; the way is said in words, for a sign is easily lost. */
export function edgeShiftWords(shift: number, unit: 'um' | 'µm'): string {
  if (shift === 0) return 'none; edges are as designed';
  const way = shift > 0 ? 'outward' : 'inward';
  return `every edge of a written area moved ${way} by ${trimmed(Math.abs(shift), 6)} ${unit}`;
}
