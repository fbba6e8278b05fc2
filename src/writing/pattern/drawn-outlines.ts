/** What a pattern file draws around the patterns and nobody writes: the substrate, keep-outs and seats, each on its layer. */
import type { Design } from '../../design/design.ts';
import type { Outline } from '../../geometry/outline.ts';
import { footprintOf } from '../../metrology/sight/seats.ts';
import { PATTERN_LAYERS, type PatternLayer } from './layers.ts';

export function drawnOutlines({ scenario }: Design): readonly (readonly [Outline, PatternLayer])[] {
  return [
    [scenario.substrate.outline, PATTERN_LAYERS.substrate],
    ...scenario.keepOuts.map(({ outline }) => [outline, PATTERN_LAYERS.keepOut] as const),
    ...scenario.seats.map((seat) => [footprintOf(seat), PATTERN_LAYERS.seat] as const),
  ];
}
