/** Seats on the drawing: the footprint of each with its name, SEAT 1, SEAT 2, … in the scenario's order, and what the title block says. mm. */
import type { Outline } from '../../geometry/outline.ts';
import { trimmed } from '../../quantity/format.ts';
import type { Seat } from '../../scenario/scenario.ts';
import { drawable } from './lettering.ts';

export const seatName = (index: number): string => `SEAT ${index + 1}`;

export const seatOutline = ({ at: [x, y], footprint }: Seat): Outline => ({
  shape: 'circle',
  centre: [x, y],
  radius: footprint / 2,
});

/** The first `most` things, each in words, and how many more there are, which the scenario has. */
export function firstOf<Thing>(
  things: readonly Thing[],
  most: number,
  words: (thing: Thing, k: number) => string,
): string {
  const more = things.length - most;
  return [...things.slice(0, most).map(words), ...(more > 0 ? [`and ${more} more`] : [])].join('; ');
}

/** So many are told. */
const MOST_TOLD = 6;

export const seatWords = (seats: readonly Seat[]): string =>
  firstOf(seats, MOST_TOLD, (seat, k) => {
    const at = seat.at.map((ordinate) => trimmed(ordinate, 6)).join(', ');
    const what =
      seat.kind === 'nest' ? `nest for a Ø${size(seat.diameter)} sphere` : `Ø${size(seat.diameter)} ball`;
    return (
      `${seatName(k)} ${drawable(seat.id, 40)}: ${what} at (${at}), on the face toward the ${seat.face}, ` +
      `footprint Ø${size(seat.footprint)}, sphere centre ${size(seat.height)} above that face`
    );
  });

const size = (value: number): string => trimmed(value, 6);
