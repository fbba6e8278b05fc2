/**
 * Rule no-contact: each point at which a ball or an SMR touches a datum lies on the part, within the extent of that datum. Datums are
 * endless surfaces; the envelope and the extents tell where the part ends. Distances are exact.
 */
import { isSolid, type Miss, missesOf, standingOf } from '../metrology/contact/contacts.ts';
import { cureOf } from '../metrology/contact/cure.ts';
import type { Found } from './rule.ts';
import { mm, rule } from './rule.ts';

export const noContact = rule(
  {
    code: 'no-contact',
    severity: 'error',
    scope: 'design',
    meaning:
      'A ball or SMR touches a datum where the part is not: past the end of the datum, or off the part.',
    limit: '0.01 mm from the envelope (0.1 mm from a mesh)',
    remedy: 'Correct the datum’s normal or side, the azimuth or the height; or complete the envelope.',
    planning: { by: 'moving' },
  },
  (design) =>
    design.references.flatMap((reference, k): readonly Found[] => {
      if (!isSolid(reference)) return [];
      const ball = standingOf(reference, design.scenario.part.datums);
      const misses = missesOf(design, ball);
      if (misses.length === 0) return [];
      const cure = cureOf(design, ball);
      return misses.map((miss) => ({
        where: reference.id,
        message: `${reference.id} touches ${miss.datum} ${where(miss)}`,
        hint: cure ?? wayOut(miss),
        value: miss.gap,
        limit: 0,
        unit: 'mm',
        path: ['references', k, 'id'],
      }));
    }),
);

const where = ({ datum, gap, past }: Miss): string =>
  past === 'extent'
    ? `${mm(gap)} past the end of ${datum}`
    : `at a point in the air, ${mm(gap)} from the nearest point of the part`;

function wayOut({ datum, past }: Miss): string {
  return past === 'extent'
    ? `touch ${datum} within its extent, or correct the extent`
    : `touch ${datum} where the part is, or complete \`part.envelope\`; no other normal, side or azimuth alone would do`;
}
