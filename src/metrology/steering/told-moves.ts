/**
 * Where each reference goes when the moves that steering tells are made: with the part where it moves with the part, by its own mount
 * elsewhere. mm, substrate frame; 0 for what was not read or whose move is not decided.
 */
import type { Design } from '../../design/design.ts';
import { negate, type Vec3 } from '../../geometry/vector.ts';
import { movesWithPart } from '../../kinds/reference.ts';
import type { Steering } from './steering.ts';
import { displacementOf, moveWithPart } from './steering-part.ts';
import { asVector } from './steering-reference.ts';

export function toldMoves(design: Design, { references, part }: Steering): (reference: string) => Vec3 {
  const { candidates, pose } = part;
  const found =
    candidates.length === 1 ? displacementOf(candidates[0]!.solution.unknowns, pose.size) : undefined;
  return (id) => {
    const reference = design.references.find((one) => one.id === id)!;
    if (movesWithPart(reference)) return found ? negate(moveWithPart(design, found, reference.at)) : STAYS;
    const steered = references.find((one) => one.reference.id === id);
    if (steered?.candidates.length !== 1) return STAYS;
    return negate(asVector(steered.candidates[0]!.solution.unknowns));
  };
}

const STAYS: Vec3 = [0, 0, 0];
