/**
 * Rule collision: no ball, SMR or seat cuts the part, an obstacle, the substrate, a seat or another reference, no two references share
 * a place, and the part does not stand in the substrate. Overlaps are exact; what touches does not cut.
 */
import type { Design } from '../design/design.ts';
import { distance } from '../geometry/vector.ts';
import { isReadBy, kindOf } from '../kinds/kinds.ts';
import { type Cut, cutsOf, isSolid, seatCuts, standingOf } from '../metrology/contact/contacts.ts';
import { cureOf } from '../metrology/contact/cure.ts';
import { partInGlass } from '../metrology/contact/part-in-glass.ts';
import type { Reference } from '../scenario/scenario.ts';
import type { Found } from './rule.ts';
import { LENGTH_TOLERANCE, mm, rule } from './rule.ts';

export const collision = rule(
  {
    code: 'collision',
    severity: 'error',
    scope: 'design',
    meaning:
      'A ball or SMR cuts the part, its surface under test, an obstacle, the substrate, a seat or another reference; two references have the same position; a seat cuts the part or an obstacle; or the part extends into the substrate.',
    limit: 'no overlap (0.01 mm at solids, 0.1 mm at a mesh)',
    remedy: 'Correct the position, the frame or the datum’s normal, or move one of the two.',
    planning: { by: 'moving' },
  },
  (design) => [...atReferences(design), ...samePlaces(design), ...atSeats(design), ...ofPart(design)],
);

/** Each pair of references once, at the later of the two. */
function atReferences(design: Design): readonly Found[] {
  const before = new Set<string>();
  return design.references.flatMap((reference, k): readonly Found[] => {
    if (!isSolid(reference)) return [];
    const ball = standingOf(reference, design.scenario.part.datums);
    const cuts = cutsOf(design, ball);
    const own = cuts.filter(({ other }) => other?.kind !== 'reference' || before.has(other.id));
    before.add(reference.id);
    if (own.length === 0) return [];
    const cure = cureOf(design, ball) ?? wayOut(reference);
    return own.map((cut) => found(reference.id, reference.id, cut, cure, ['references', k, 'id']));
  });
}

function wayOut({ given }: Reference): string {
  if (given === 'touches') return 'correct the datum or the touch, or move what it cuts';
  const other = given === 'part' ? 'substrate' : 'part';
  return `check \`at\`, which is in the ${given} frame (\`frame: ${other}\` for the ${other} frame), or move one of the two`;
}

const found = (id: string, subject: string, cut: Cut, hint: string, path: Found['path']): Found => ({
  where: cut.other === undefined ? id : `${id}, ${cut.other.id}`,
  message: `${subject} cuts ${cut.what}: they overlap by ${mm(cut.overlap)}`,
  hint,
  value: cut.overlap,
  limit: 0,
  unit: 'mm',
  ...(path === undefined ? {} : { path }),
});

/** Pairs in which one has no sphere: at one place, or one within the other's sphere. Each once, at the later of the two. */
function samePlaces({ references }: Design): readonly Found[] {
  const placed = (reference: Reference): boolean => kindOf(reference).inScenario.place === 'given';
  return references.flatMap((reference, k) =>
    references.slice(0, k).flatMap((other): readonly Found[] => {
      if (!placed(reference) || !placed(other) || (isSolid(reference) && isSolid(other))) return [];
      // A screen may hold the mark of a place where a ball will sit later.
      if (isReadBy(reference, 'mark') !== isReadBy(other, 'mark')) return [];
      const apart = distance(reference.at, other.at);
      const reach = Math.max(radiusOf(reference), radiusOf(other));
      if (apart > LENGTH_TOLERANCE && apart > reach - LENGTH_TOLERANCE) return [];
      const isOne = apart <= LENGTH_TOLERANCE;
      return [
        {
          where: `${reference.id}, ${other.id}`,
          message: isOne
            ? `${reference.id} and ${other.id} have the same position`
            : `${reference.id} and ${other.id} are ${mm(apart)} apart, less than the radius of ${mm(reach)}`,
          hint: 'correct one of the two, or let both patches serve one reference',
          value: apart,
          limit: isOne ? 0 : reach,
          unit: 'mm',
          path: ['references', k, 'id'],
        },
      ];
    }),
  );
}

/** 0 for what is no solid. */
const radiusOf = (reference: Reference): number => (isSolid(reference) ? reference.diameter / 2 : 0);

function atSeats(design: Design): readonly Found[] {
  return design.scenario.seats.flatMap((seat, k) =>
    seatCuts(design, seat).map((cut) =>
      found(seat.id, `seat ${seat.id}`, cut, 'move the seat, or put it on the other face', [
        'seats',
        k,
        'id',
      ]),
    ),
  );
}

function ofPart(design: Design): readonly Found[] {
  return partInGlass(design).map(({ what, overlap }) => ({
    where: 'part.origin',
    message: `${what} extends ${mm(overlap)} into the substrate`,
    hint: 'check `part.origin`, its unit and the side of the substrate that the part is on',
    value: overlap,
    limit: 0,
    unit: 'mm',
    path: ['part', 'origin'],
  }));
}
