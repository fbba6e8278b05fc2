/** The marks on the glass in words: where they are and what aligns to them, for the drawing, the pattern files and the report. ASCII; mm. */
import type { Design } from '../design/design.ts';
import { type Mark, marksOf } from '../design/marks/marks.ts';
import { trimmed } from '../quantity/format.ts';

/** `(-40, 40)` */
export const placeOf = ({ at }: Mark): string => `(${at.map((value) => trimmed(value, 6)).join(', ')})`;

/** How the main pattern and the patches get into one frame, where there are crosses; undefined without them. */
export function registrationWords(design: Design, mainIsInFile: boolean): string | undefined {
  const crosses = marksOf(design).marks.filter(({ kind }) => kind === 'fiducials');
  if (crosses.length === 0) return undefined;
  const names = crosses.map(({ name }) => name).join(', ');
  return mainIsInFile
    ? `The main pattern is in these data, in the frame of the crosses ${names}.`
    : `A main pattern from other data must have the crosses ${names} at these coordinates; write it in the same run or align it to them.`;
}

/** For the texts in a pattern file. `main`: whether the main pattern is written in it. */
export function markNotes(design: Design, main: boolean): readonly string[] {
  const { marks } = marksOf(design);
  if (marks.length === 0) return [];
  const crosses = marks
    .filter(({ kind }) => kind === 'fiducials')
    .map((mark) => `${mark.name} ${placeOf(mark)}`);
  const words = registrationWords(design, main);
  return [
    `MARKS: layer 2, ${marks.length} in all; texts read right where the patterned face is looked at; no edge shift but on the lines of the widths.`,
    ...(words === undefined ? [] : [`REGISTRATION: ${words} In mm, substrate frame: ${crosses.join(', ')}.`]),
  ];
}
