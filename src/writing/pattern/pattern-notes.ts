/** The texts in a pattern file: what the areas become, how deep, mirrored or not, shifted or not, and whether it may be fabricated. ASCII. */

import { type Design, patternsOf } from '../../design/design.ts';
import type { Pattern } from '../../design/pattern.ts';
import { UM_PER_MM } from '../../quantity/conversion.ts';
import { trimmed } from '../../quantity/format.ts';
import { DRAFT_WORDS } from '../convention.ts';
import { markNotes } from '../mark-words.ts';
import { ACCEPTANCE_WORDS, faceWords, writtenAreas } from '../written-areas.ts';

/** Below the substrate, mm: height of a letter, and from line to line. */
export const NOTE_HEIGHT = 2;
export const NOTE_LINE = 4;

/**
 * Kept unless asked: data that leave out areas which the phase asks for differ from the table without anyone having said so. Where thin
 * strips of resist come loose, the shop asks for `drop`.
 */
export type SliverWish = 'keep' | 'drop';

export interface NoteWishes {
  /** Outward shift of each written edge, mm; default 0. */
  readonly edgeShift?: number;
  /** Only every nth pattern line, marked as a picture; default 1. */
  readonly every?: number;
  /** Names the top cell, and a note, as not for fabrication. */
  readonly draft?: boolean;
  /** Mirrored where the patterned face is turned away, so that the writer sees the data as they are; default as seen from the part side. */
  readonly asWritten?: boolean;
  /** What becomes of areas nowhere as wide as the least feature; default `keep`. */
  readonly slivers?: SliverWish;
  /** Whether the main pattern is written beside the patches; default not. */
  readonly main?: boolean;
}

/** What a pattern file holds: the patches, and the main pattern where it is asked for. */
export const patternsIn = (design: Design, { main = false }: Pick<NoteWishes, 'main'>): readonly Pattern[] =>
  patternsOf(main ? design : { patches: design.patches }).map(({ pattern }) => pattern);

export const sliversAsked = ({ slivers = 'keep' }: NoteWishes): SliverWish => slivers;

/** Whether x is turned to -x in the files. */
export const isMirrored = (design: Design, { asWritten = false }: NoteWishes): boolean =>
  asWritten && design.scenario.substrate.patternFaces === 'interferometer';

/** `slivers`: how many were found. */
export function patternNotes(design: Design, wishes: NoteWishes, slivers: number): readonly string[] {
  const { edgeShift = 0, every = 1, draft, main = false } = wishes;
  const files = {
    mirrored: isMirrored(design, wishes),
    edgeShift_um: edgeShift * UM_PER_MM,
    thinned: every > 1,
    main,
  };
  return [
    ...(draft ? [`DRAFT: ${DRAFT_WORDS}`] : []),
    ...(every > 1 ? [`PICTURE: every ${every}th written zone only, ${DRAFT_WORDS}`] : []),
    ...(design.main === undefined || main ? [] : ['MAIN PATTERN: not in this file.']),
    `FACE: ${faceWords(design)}`,
    ...writtenAreas(design, files).map(({ name, text }) => `${name}: ${text}`),
    ...markNotes(design, files),
    `SLIVERS: ${sliverWords(slivers, sliversAsked(wishes), design.scenario.process.minFeature * UM_PER_MM, 'um')}.`,
    ACCEPTANCE_WORDS,
  ];
}

/** `width`: the least feature in micrometres. */
export function sliverWords(count: number, wish: SliverWish, width: number, unit: 'um' | 'µm'): string {
  const least = `${trimmed(width, 6)} ${unit}`;
  if (count === 0) return `none; every written area is somewhere ${least} wide or more`;
  const many = count === 1 ? '1 written area is' : `${count} written areas are`;
  return `${many} narrower than ${least} throughout; ${wish === 'keep' ? 'kept in' : 'left out of'} the data`;
}
