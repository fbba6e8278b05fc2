/**
 * The view itself, before any sheet: what is drawn, how far it reaches, and where the captions stand, at one size of
 * lettering. mm, substrate frame.
 */
import { type Design, patternsOf } from '../../../design/design.ts';
import { marksOf } from '../../../design/marks/marks.ts';
import { around, grown } from '../boxes.ts';
import { type PlacedCaption, placeCaptions } from '../captions/caption-placing.ts';
import { axisLines, centreCross } from '../centre-lines.ts';
import { datumMarks } from '../datum-marks.ts';
import { dimensionBoxes } from '../dimensions.ts';
import type { Box } from '../drawing.ts';
import { drawable, type Lettering, textAt, textBox } from '../lettering.ts';
import { markName, markPolygon } from '../mark-model.ts';
import { layOrdinates, type Ordinates } from '../ordinates.ts';
import { outlineBox, roughPolygons } from '../outline-model.ts';
import { seatName, seatOutline } from '../seat-model.ts';

export interface View {
  readonly lettering: Lettering;
  /** Around substrate, patterns, keep-outs and the origin. */
  readonly content: Box;
  /** In the order of `patternsOf`. */
  readonly captions: readonly PlacedCaption[];
  /** In the order of the scenario's seats. */
  readonly seatCaptions: readonly PlacedCaption[];
  /** In the order of the marks; undefined for one without a caption. */
  readonly markCaptions: readonly (PlacedCaption | undefined)[];
  readonly ordinates: Ordinates;
  /** Around all of it, captions and dimensions included. */
  readonly box: Box;
}

/** How far out captions may go, in text heights. */
const CAPTION_REACH = 9;
const CAPTION_REACH_PER_PATCH = 0.25;
const FARTHEST_REACH = 20;
/** With an id longer than this, or more patches than this, a patch shows its number alone; the table has the id. */
const LONGEST_CAPTION_ID = 20;
const MOST_CAPTIONS_WITH_ID = 16;

/** Around substrate, patches, keep-outs and the origin. */
export function contentBox(design: Pick<Design, 'scenario' | 'patches' | 'main'>): Box {
  const { scenario } = design;
  const patterns = patternsOf(design).map(({ pattern }) => pattern);
  const origin: Box = { left: 0, bottom: 0, right: 0, top: 0 };
  const outlines = [scenario.substrate, ...scenario.keepOuts, ...patterns].map(({ outline }) =>
    outlineBox(outline),
  );
  return around([origin, ...outlines]);
}

export function layView(design: Design, lettering: Lettering): View {
  const { scenario } = design;
  const patterns = patternsOf(design);
  const { text } = lettering;
  const substrate = outlineBox(scenario.substrate.outline);
  const content = contentBox(design);
  const ordinates = layOrdinates(design, content, text);
  const fixed = [
    ...dimensionBoxes(scenario.substrate.outline, substrate, text, ordinates.depth),
    ...ordinates.texts.map(textBox),
    ...datumMarks(scenario.substrate.outline, text, ordinates.depth.bottom).boxes,
  ];
  const { marks } = marksOf(design);
  const named = marks.flatMap((mark, index) => (markName(mark) === undefined ? [] : [index]));
  const reach = Math.min(CAPTION_REACH + CAPTION_REACH_PER_PATCH * patterns.length, FARTHEST_REACH) * text;
  const placed = placeCaptions(
    [
      ...patterns.map(({ pattern: { id, outline }, number }) => ({
        text: captionText(id, number, patterns.length),
        short: number,
        patch: roughPolygons(outline),
      })),
      ...scenario.seats.map((seat, index) => {
        const name = seatName(index);
        return { text: name, short: name, patch: roughPolygons(seatOutline(seat)) };
      }),
      ...named.map((index) => {
        const name = markName(marks[index]!)!;
        return { text: name, short: name, patch: markPolygon(marks[index]!) };
      }),
    ],
    text,
    {
      area: grown(content, reach),
      edges: [scenario.substrate, ...scenario.keepOuts].flatMap(({ outline }) => roughPolygons(outline)),
      lines: [
        ...axisLines(content, text),
        ...ordinates.lines,
        ...patterns.flatMap(({ pattern }) => centreCross(pattern, text)),
      ],
      boxes: [
        ...fixed,
        ...marks.filter((mark) => markName(mark) === undefined).map(({ box }) => outlineBox(box)),
      ],
    },
  );
  const captionBoxes = placed.map(({ text: words, at, height }) => textBox(textAt(words, at, height)));
  const firstMark = patterns.length + scenario.seats.length;
  return {
    lettering,
    content,
    captions: placed.slice(0, patterns.length),
    seatCaptions: placed.slice(patterns.length, firstMark),
    markCaptions: marks.map((_, index) => {
      const at = named.indexOf(index);
      return at < 0 ? undefined : placed[firstMark + at];
    }),
    ordinates,
    box: grown(around([content, ...fixed, ...captionBoxes]), text),
  };
}

function captionText(id: string, number: string, count: number): string {
  const shown = drawable(id);
  return count > MOST_CAPTIONS_WITH_ID || shown.length > LONGEST_CAPTION_ID ? number : `${number} ${shown}`;
}
