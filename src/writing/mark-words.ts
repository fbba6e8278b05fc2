/** The marks on the glass in words: where they are and what aligns to them, for the drawing, the pattern files, the report and the shop. ASCII; mm. */
import type { Design } from '../design/design.ts';
import { type Mark, marksOf } from '../design/marks/marks.ts';
import { trimmed } from '../quantity/format.ts';
import { layerWords, PATTERN_LAYERS } from './pattern-layers.ts';
import type { WrittenFiles } from './written-areas.ts';

/** `(-40, 40)` */
export const placeOf = ({ at }: Mark): string => `(${at.map((value) => trimmed(value, 6)).join(', ')})`;

/** How the main pattern and the patches get into one frame, where there are crosses; undefined without them. */
export function registrationWords(design: Design, files: WrittenFiles | undefined): string | undefined {
  const crosses = marksOf(design).marks.filter(({ kind }) => kind === 'fiducials');
  if (crosses.length === 0) return undefined;
  const names = crosses.map(({ name }) => name).join(', ');
  if (files?.main) return `The main pattern is in the pattern files, in the frame of the crosses ${names}.`;
  const other =
    design.main === undefined
      ? 'A main pattern from other data'
      : files === undefined
        ? 'The main pattern is in the tables, in the frame of the crosses. Data made from them'
        : 'The main pattern is in no pattern file. Data made from the tables, which have its frame,';
  return `${other} must have the crosses ${names} at these coordinates; write it in the same run or align it to them.`;
}

/** For the texts in a pattern file. */
export function markNotes(design: Design, files: WrittenFiles): readonly string[] {
  const { marks } = marksOf(design);
  if (marks.length === 0) return [];
  const crosses = marks
    .filter(({ kind }) => kind === 'fiducials')
    .map((mark) => `${mark.name} ${placeOf(mark)}`);
  const words = registrationWords(design, files);
  return [
    `MARKS: layer ${layerWords(PATTERN_LAYERS.marks)}, ${marks.length} in all; ${MARKS_READ}`,
    ...(words === undefined
      ? []
      : [
          `REGISTRATION: ${words} In mm, substrate frame${files.mirrored ? ' (x to -x in this file)' : ''}: ${crosses.join(', ')}.`,
        ]),
  ];
}

/** Of all of them. */
export const MARKS_READ =
  'texts read right where the patterned face is looked at; no edge shift but on the lines of the widths.';
