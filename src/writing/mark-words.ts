/** The marks on the glass in words: where they are and what aligns to them, for the drawing, the pattern files and the report. ASCII; mm. */
import type { Design } from '../design/design.ts';
import { type Mark, marksOf } from '../design/marks/marks.ts';
import { trimmed } from '../quantity/format.ts';

const placeOf = ({ at }: Mark): string => `(${at.map((value) => trimmed(value, 6)).join(', ')})`;

/** `F1 (-40, 40)`, with what is lettered where the name does not say it. */
export const markPlace = (mark: Mark): string => {
  const text = mark.kind === 'drawing' ? ` ${mark.text}` : '';
  return `${mark.name}${text} ${placeOf(mark)}`;
};

/** How the main pattern and the patches get into one frame, where there are crosses; undefined without them. */
export function registrationWords(design: Design, mainIsInFile: boolean): string | undefined {
  const crosses = marksOf(design).marks.filter(({ kind }) => kind === 'fiducials');
  if (crosses.length === 0) return undefined;
  const places = crosses.map(markPlace).join(', ');
  return mainIsInFile
    ? `The main pattern is in the same data and the same frame as the crosses ${places}.`
    : `A main pattern from other data is written in the frame of the crosses ${places}: in the same run, or aligned to them; its own data must have them at these coordinates.`;
}

/** For the texts in a pattern file. `main`: whether the main pattern is written in it. */
export function markNotes(design: Design, main: boolean): readonly string[] {
  const { marks } = marksOf(design);
  if (marks.length === 0) return [];
  const words = registrationWords(design, main);
  return [
    `MARKS: layer 2, ${marks.length} in all; texts read right where the patterned face is looked at; no edge shift but on the lines of the widths.`,
    ...(words === undefined ? [] : [`REGISTRATION: ${words}`]),
  ];
}
