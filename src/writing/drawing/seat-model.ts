/** Seats on the drawing: the footprint of each, numbered S1, S2, … in the scenario's order, and what the title block says. mm. */
import type { Design } from '../../design/design.ts';
import { trimmed } from '../../quantity/format.ts';
import type { Seat } from '../../scenario/scenario.ts';
import { circleModel, ownedModel } from './drawing.ts';
import { drawable, roomFor } from './lettering.ts';
import { textModel } from './text-model.ts';

/** Each circle with its number in it, or below it where it is too small to hold it. */
export const seatModels = ({ scenario }: Design, text: number): MakerJs.IModel[] =>
  scenario.seats.map((seat, k) => {
    const [x, y] = seat.at;
    const number = `S${k + 1}`;
    const holds = seat.footprint > 1.2 * roomFor(number, text);
    const base = holds ? y - text / 2 : y - seat.footprint / 2 - 1.5 * text;
    return ownedModel(seat.id, [
      circleModel([x, y], seat.footprint / 2),
      textModel(number, [x, base], text, 'centre'),
    ]);
  });

/** So many are told; the scenario has the rest. */
const MOST_TOLD = 6;

export function seatWords(seats: readonly Seat[]): string {
  const told = seats.slice(0, MOST_TOLD).map((seat, k) => {
    const at = seat.at.map((ordinate) => trimmed(ordinate, 6)).join(', ');
    const what =
      seat.kind === 'nest' ? `nest for a sphere Ø${size(seat.diameter)}` : `ball Ø${size(seat.diameter)}`;
    return (
      `S${k + 1} ${drawable(seat.id, 40)}: ${what} at (${at}), face toward the ${seat.face}, ` +
      `footprint Ø${size(seat.footprint)}, centre ${size(seat.height)} above it`
    );
  });
  const more = seats.length - told.length;
  return [...told, ...(more > 0 ? [`and ${more} more`] : [])].join('; ');
}

const size = (value: number): string => trimmed(value, 6);
