/**
 * What the head of a coefficient table says of signs, axes and orders, in the sentences that the package's own head uses:
 *   E_out(P) = E_in(P) + m * lambda * Phi(P)      or with - for the opposite sign
 *   x right and y up as seen from the part side   or left, down; or from the interferometer side, which turns x round
 *   waves at order 1                              or at order m: the phase times the working order
 * A sentence that is not there, or says something else, leaves the package's own convention.
 */
import type { TableConvention } from '../../scenario/coefficient-table.ts';

export function statedConvention(head: string): TableConvention {
  const sign = /E_out\s*(?:\(P\))?\s*=\s*E_in\s*(?:\(P\))?\s*([+\-\u2212])\s*m\b/.exec(head)?.[1];
  const axes = /x (right|left) and y (up|down) as seen from the (part|interferometer) side/.exec(head);
  const side = axes?.[3] === 'interferometer' ? -1 : 1;
  const at = /waves at order (1|m)\b/.exec(head)?.[1];
  return {
    sign: sign === undefined || sign === '+' ? 1 : -1,
    xRuns: (axes?.[1] === 'left') !== side < 0 ? -1 : 1,
    yRuns: axes?.[2] === 'down' ? -1 : 1,
    phaseAt: at === 'm' ? 'order m' : 'order 1',
  };
}
