/** Seats on the glass: balls and nests of SMRs. mm. */
import type { Seat } from '../../scenario/scenario.ts';
import { assemble, assembleList, FAULTY, type Field, type Read } from '../yaml/field.ts';
import { identifier, uniqueIds } from '../yaml/identifiers.ts';
import { type Limits, length, POSITIVE, point2, quantity, word } from '../yaml/values.ts';

/** mm: a coordinate measuring machine in a good room, no source beyond the trade. */
const MEASURED_TO = 0.002;
/** A height written as half the diameter in another unit may come out a rounding below it, as a part of it. */
const ROUNDING = 1e-12;

export function buildSeats(field: Field): Read<readonly Seat[]> {
  if (field.present && !Array.isArray(field.value)) return FAULTY;
  const items = field.items();
  uniqueIds(items.map((item) => item.get('id')));
  return assembleList(items.map(buildSeat));
}

function buildSeat(field: Field): Read<Seat> {
  const diameter = length(field.get('diameter'), POSITIVE);
  const known = diameter === FAULTY ? undefined : diameter;
  const heights: Limits = known === undefined ? POSITIVE : { atLeast: (known / 2) * (1 - ROUNDING) };
  return assemble<Seat>({
    id: identifier(field.get('id')),
    kind: word(field.get('kind'), ['ball', 'nest']),
    diameter,
    at: point2(field.get('at')),
    face: word(field.get('face'), ['part', 'interferometer'], 'part'),
    height: quantity(field.get('height'), 'length', heights, (known ?? 0) / 2),
    footprint: quantity(field.get('footprint'), 'length', POSITIVE, known ?? 0),
    uncertainty: quantity(field.get('uncertainty'), 'length', POSITIVE, MEASURED_TO),
  });
}
