/**
 * Rule mark-clash: a mark on the glass stands `substrate.clearance` away from patterns, keep-outs and the seats of its face, off the other
 * marks, `substrate.edgeMargin` from the edge, and is written with strokes of `process.minFeature` or more. Distances are those of the upright
 * box around the mark, exact, mm. A mark that the program could not place, or had nothing to write for, is a warning.
 */
import { type Design, patternsOf } from '../design/design.ts';
import { type Mark, type Marks, marksOf } from '../design/marks/marks.ts';
import type { Path } from '../finding/finding.ts';
import { insideMargin, signedGap } from '../geometry/clearance.ts';
import type { Outline } from '../geometry/outline.ts';
import { footprintOf } from '../metrology/sight/seats.ts';
import { UM_PER_MM } from '../quantity/conversion.ts';
import { trimmed } from '../quantity/format.ts';
import { type Found, LENGTH_TOLERANCE, mm, rule } from './rule.ts';

export const markClash = rule(
  {
    code: 'mark-clash',
    severity: 'error',
    scope: 'design',
    meaning:
      'A mark on the glass collides with a pattern, a keep-out, a seat, another mark or the substrate’s edge, or is too fine to write; a warning where a mark is left out for want of room or of text.',
    limit: 'substrate.clearance, substrate.edgeMargin, process.minFeature',
    remedy: 'Move the mark, let the program place it (`auto`), or leave it out (`none`).',
    planning: { by: 'moving' },
  },
  (design) => {
    const { marks, missing } = marksOf(design);
    return [
      ...marks.flatMap((mark, k) => [
        ...onEdge(design, mark),
        ...besideOthers(design, mark),
        ...besideMarks(mark, marks.slice(0, k)),
        ...tooFine(design, mark),
      ]),
      ...missing.map(leftOut),
    ];
  },
);

function onEdge({ scenario }: Design, mark: Mark): Found[] {
  const { outline, edgeMargin } = scenario.substrate;
  const margin = insideMargin(outline, mark.box);
  if (margin >= edgeMargin - LENGTH_TOLERANCE) return [];
  const found =
    margin < 0
      ? `extends ${mm(-margin)} past the substrate's edge`
      : `is ${mm(margin)} from the substrate's edge`;
  return [
    {
      ...placeOf(mark),
      message: `mark ${mark.name} ${found}; the edge margin is ${mm(edgeMargin)}`,
      hint: 'move the mark inward, or write `auto`',
      value: margin,
      limit: edgeMargin,
      unit: 'mm',
    },
  ];
}

interface Other {
  readonly name: string;
  readonly outline: Outline;
  readonly limit: number;
}

function besideOthers(design: Design, mark: Mark): Found[] {
  const { keepOuts, seats, substrate } = design.scenario;
  const limit = substrate.clearance;
  const others: readonly Other[] = [
    ...patternsOf(design).map(({ pattern: { outline }, name }) => ({ name, outline, limit })),
    ...keepOuts.map(({ id, outline }) => ({ name: `keep-out ${id}`, outline, limit })),
    ...seats
      .filter(({ face }) => face === substrate.patternFaces)
      .map((seat) => ({ name: `seat ${seat.id}`, outline: footprintOf(seat), limit })),
  ];
  return others.flatMap((other) => clash(mark, other));
}

const besideMarks = (mark: Mark, before: readonly Mark[]): Found[] =>
  before.flatMap(({ name, box }) => clash(mark, { name: `mark ${name}`, outline: box, limit: 0 }));

function clash(mark: Mark, { name, outline, limit }: Other): Found[] {
  const gap = signedGap(mark.box, outline);
  if (gap >= limit - LENGTH_TOLERANCE) return [];
  const found = gap < 0 ? `extends ${mm(-gap)} into ${name}` : `is ${mm(gap)} from ${name}`;
  return [
    {
      ...placeOf(mark),
      message: `mark ${mark.name} ${found}; the minimum gap is ${mm(limit)}`,
      hint: 'move the mark, or write `auto`',
      value: gap,
      limit,
      unit: 'mm',
    },
  ];
}

function tooFine({ scenario }: Design, mark: Mark): Found[] {
  const { minFeature } = scenario.process;
  const { stroke } = mark.form;
  // Strokes are whole nanometres.
  if (stroke >= minFeature - NANOMETRE) return [];
  const [width, limit] = [stroke * UM_PER_MM, minFeature * UM_PER_MM];
  return [
    {
      ...placeOf(mark),
      message: `mark ${mark.name} has strokes of ${trimmed(width, 3)} µm; the minimum feature is ${trimmed(limit, 3)} µm`,
      hint: `write a \`height\` of at least ${mm(7 * minFeature)}`,
      value: width,
      limit,
      unit: 'µm',
    },
  ];
}

const NANOMETRE = 1e-6;

function leftOut({ kind, name, why, letters }: Marks['missing'][number]): Found {
  const [message, hint] = {
    'no room': [
      `no room for mark ${name}: it is left out`,
      `free some of the glass, place it by \`marks.${kind}\`, or write \`none\``,
    ],
    'no number': [
      'there is no drawing number to write on the glass: the mark is left out',
      'add `drawing.number`, or write `none`',
    ],
    'no letters': [
      `the drawing number has characters that cannot be lettered (${letters}): the mark is left out`,
      'use letters A to Z, digits, `-`, `.`, `/`, `_` and `:`',
    ],
  }[why];
  return { severity: 'warning', ...placeOf({ kind }), message: message!, hint: hint! };
}

const placeOf = ({ kind }: Pick<Mark, 'kind'>): { where: string; path: Path } => ({
  where: `marks.${kind}`,
  path: ['marks', kind],
});
