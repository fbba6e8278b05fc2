/**
 * Where each reference goes when the moves that steering tells are made: with the part where it moves with the part, by its own mount
 * elsewhere. mm, substrate frame; 0 for what was not read or whose move is not decided.
 */
import type { Design } from '../../design/design.ts';
import { negate, scale, type Vec3 } from '../../geometry/vector.ts';
import { movesWithPart } from '../../kinds/reference.ts';
import type { AskedMoves } from '../../scenario/bench-session.ts';
import type { Steering } from './steering.ts';
import { displacementOf, moveWithPart } from './steering-part.ts';
import { asVector } from './steering-reference.ts';

/** Of what steering has decided: `fraction` of each correction. */
export function askedMoves({ references, part }: Steering, fraction = 1): AskedMoves {
  const [only, ...others] = part.candidates;
  const found =
    only !== undefined && others.length === 0 && part.readings.length > 0
      ? displacementOf(only.solution.unknowns, part.pose.size)
      : undefined;
  const own = references.filter(
    ({ reference, candidates }) => !movesWithPart(reference) && candidates.length === 1,
  );
  return {
    fraction,
    part: found && {
      translation: scale(found.translation, -fraction),
      rotation: scale(found.rotation, -fraction),
    },
    references: new Map(
      own.map(({ reference, candidates }) => [
        reference.id,
        scale(asVector(candidates[0]!.solution.unknowns), -fraction),
      ]),
    ),
  };
}

/** The displacement that these moves give each reference. */
export const movesOfReferences =
  (design: Design, { part, references }: AskedMoves): ((reference: string) => Vec3) =>
  (id) => {
    const reference = design.references.find((one) => one.id === id)!;
    if (!movesWithPart(reference)) return references.get(id) ?? STAYS;
    if (part === undefined) return STAYS;
    const found = { translation: negate(part.translation), rotation: negate(part.rotation) };
    return negate(moveWithPart(design, found, reference.at));
  };

export const toldMoves = (design: Design, steering: Steering): ((reference: string) => Vec3) =>
  movesOfReferences(design, askedMoves(steering));

const STAYS: Vec3 = [0, 0, 0];
