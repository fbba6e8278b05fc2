/** The marks on the glass as report.json has them. */
import type { Design } from '../../design/design.ts';
import { marksOf } from '../../design/marks/marks.ts';
import type { Vec2 } from '../../geometry/vector.ts';
import { UM_PER_MM } from '../../quantity/conversion.ts';
import type { MarkKind } from '../../scenario/marks.ts';
import { registrationWords } from '../mark-words.ts';
import { PATTERN_LAYERS } from '../pattern-layers.ts';
import type { WrittenFiles } from '../written-areas.ts';

export interface ReportedMarks {
  readonly layer: number;
  readonly datatype: number;
  /** How the main pattern gets into the same frame; null without crosses. */
  readonly registration: string | null;
  readonly marks: readonly {
    readonly kind: MarkKind;
    readonly name: string;
    /** What is lettered; null for a mark without letters of its own. */
    readonly text: string | null;
    /** The middle. */
    readonly at_mm: Vec2;
    readonly width_mm: number;
    readonly height_mm: number;
    /** The narrowest written width. */
    readonly stroke_um: number;
    /** Of rows of lines to measure, from the bottom row up; null for other marks. */
    readonly widths_um: readonly { readonly line: number; readonly space: number }[] | null;
  }[];
  /** Marks that are not written, and why. */
  readonly leftOut: readonly { readonly kind: MarkKind; readonly name: string; readonly why: string }[];
}

/** Undefined where the scenario asks for no marks. */
export function reportedMarks(design: Design, files: WrittenFiles | undefined): ReportedMarks | undefined {
  if (design.scenario.marks === undefined) return undefined;
  const { marks, missing } = marksOf(design);
  const { layer, datatype } = PATTERN_LAYERS.marks;
  return {
    layer,
    datatype,
    registration: registrationWords(design, files) ?? null,
    marks: marks.map(({ kind, name, text, at, form }) => ({
      kind,
      name,
      text: text || null,
      at_mm: at,
      width_mm: form.width,
      height_mm: form.height,
      stroke_um: form.stroke * UM_PER_MM,
      widths_um:
        form.rows.length === 0
          ? null
          : form.rows.map(({ line, space }) => ({ line: line * UM_PER_MM, space: space * UM_PER_MM })),
    })),
    leftOut: missing.map(({ kind, name, why }) => ({ kind, name, why })),
  };
}
