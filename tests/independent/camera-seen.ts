/**
 * What a camera makes of the picture seen from the interferometer (rows from the top, x to the left, y up), done to the whole picture as an
 * image viewer does it: seen from the other side, mirrored left for right, turned by quarters clockwise. Shares no code with src/.
 */
export interface Turn {
  readonly view: 'interferometer' | 'part';
  readonly turned: number;
  readonly mirrored: boolean;
}

/** All sixteen ways to say the eight. */
export const SIXTEEN: readonly Turn[] = (['interferometer', 'part'] as const).flatMap((view) =>
  [false, true].flatMap((mirrored) => [0, 90, 180, 270].map((turned) => ({ view, turned, mirrored }))),
);

const flipped = <T>(rows: readonly (readonly T[])[]): T[][] => rows.map((row) => [...row].reverse());

/** The first row becomes the last column. */
const turnedOnce = <T>(rows: readonly (readonly T[])[]): T[][] =>
  rows[0]!.map((_, column) => rows.map((row) => row[column]!).reverse());

export function seenBy<T>(
  { view, turned, mirrored }: Turn,
  plain: readonly (readonly T[])[],
): readonly (readonly T[])[] {
  let rows = plain;
  if (view === 'part') rows = flipped(rows);
  if (mirrored) rows = flipped(rows);
  for (let turn = 0; turn < turned; turn += 90) rows = turnedOnce(rows);
  return rows;
}
