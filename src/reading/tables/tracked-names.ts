/**
 * The reference that a tracked point is named after, and where it was: `north-1@part`. Capitals, and `_`, `.` or a blank for `-`, do not
 * matter where only one reference is meant; `NORTH_1_PART` is read too.
 */
import { kindOf } from '../../kinds/kinds.ts';
import { didYouMean } from '../../quantity/nearest-name.ts';
import type { Reference, Scenario } from '../../scenario/scenario.ts';
import type { TrackedPoint } from '../../scenario/tracked-point.ts';

type Named =
  | (Pick<TrackedPoint, 'reference' | 'side'> & {
      /** The name as the scenario spells it. */
      readonly name: string;
    })
  | { readonly message: string; readonly hint: string };

/**
 * Without `@hologram` or `@part` a reference that touches datums is on the part, unless a patch looks at it; any other is at its focus.
 */
export function namedPoint(written: string, scenario: Scenario): Named {
  const known = scenario.references.filter(isTracked);
  const [word, saidSide, ...rest] = splitName(written, known);
  const side = saidSide?.toLowerCase();
  const exact = known.find(({ id }) => id === word);
  const alike = exact === undefined ? known.filter(({ id }) => plain(id) === plain(word)) : [exact];
  const [reference, ...others] = alike;
  if (others.length > 0) {
    const message = `${JSON.stringify(written)} may be ${alike.map(({ id }) => id).join(' or ')}`;
    return { message, hint: 'write the name as the scenario has it' };
  }
  const isSide = side === undefined || side === 'hologram' || side === 'part';
  if (reference === undefined || rest.length > 0 || !isSide) {
    const message = `the scenario has no retroreflector ${JSON.stringify(written)}`;
    return { message, hint: knownNames(word, known) };
  }
  const { id } = reference;
  const name = side === undefined ? id : `${id}@${side}`;
  if (side !== undefined) return { name, reference: id, side };
  const isSeen = scenario.patches.some((patch) => patch.reference === id);
  return { name, reference: id, side: reference.given === 'touches' && !isSeen ? 'part' : 'hologram' };
}

/** At `@`; a tracker that takes no such sign may write `north_part`, unless a reference is called that. */
function splitName(written: string, known: readonly Reference[]): readonly [string, ...string[]] {
  const parts = written.split('@').map((part) => part.trim()) as [string, ...string[]];
  if (parts.length > 1 || known.some(({ id }) => plain(id) === plain(written))) return parts;
  const [, word, side] = /^(.+?)[\s_.-]+(hologram|part)$/i.exec(parts[0]) ?? [];
  return word === undefined ? parts : [word, side!];
}

const isTracked = (reference: Reference): boolean => kindOf(reference).inScenario.tracked;

const plain = (name: string): string => name.toLowerCase().replace(/[\s_.-]+/g, '-');

const knownNames = (name: string, known: readonly Reference[]): string =>
  didYouMean(
    name,
    known.map(({ id }) => id),
  ) ??
  `name a point after its reference, with or without @hologram or @part; known references: ${known
    .slice(0, 12)
    .map(({ id }) => id)
    .join(', ')}`;
