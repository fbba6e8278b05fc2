/** References without a place of their own: the interferometer (a return ring), and a datum feature that light meets square on. */
import type { Datum, Touch } from '../../scenario/datum.ts';
import { inSubstrateFrame, type Vec3 } from '../../scenario/placing.ts';
import type { Reference } from '../../scenario/scenario.ts';
import { assemble, FAULTY, type Field, type Read } from '../yaml/field.ts';
import type { BuiltPart } from './build-part.ts';
import { isKnownDatum } from './build-references.ts';

const PLACING = ['at', 'frame', 'touches', 'diameter'];
const OF_BODIES = ['axis', 'roll', 'acceptance', 'centring', 'form', 'radiusTolerance', 'nest'];

export function buildPlaceless(
  field: Field,
  id: Read<string>,
  kind: 'return' | 'datum',
  part: BuiltPart,
): Read<Reference> {
  let isFaulty = false;
  for (const key of [...PLACING, ...OF_BODIES, ...(kind === 'return' ? ['datum'] : [])]) {
    if (!field.get(key).present) continue;
    const what = kind === 'return' ? 'light goes back to the interferometer' : 'the feature is where it is';
    field.get(key).report('conflicting-keys', `\`${key}\` has no meaning here: ${what}`, 'remove it');
    isFaulty = true;
  }
  if (isFaulty) return FAULTY;
  const touches: readonly Touch[] = [];
  if (kind === 'return')
    return assemble<Reference>({ id, kind, diameter: undefined, touches, at: [0, 0, 0], given: 'hologram' });
  const feature = featureOf(field, part);
  if (feature === FAULTY || part.frame === FAULTY) return FAULTY;
  const at = inSubstrateFrame(part.frame, feature.at);
  return assemble<Reference>({
    id,
    kind,
    diameter: undefined,
    touches,
    at,
    given: 'datum',
    datum: feature.id,
  });
}

/** A body may touch datums, but is none. */
export function noDatumHere(field: Field): Read<undefined> {
  if (!field.present) return undefined;
  const message = '`datum` is for a reference of the kind `datum`';
  return field.report('conflicting-keys', message, 'name what it touches under `touches`');
}

function featureOf(field: Field, { datums }: BuiltPart): Read<{ readonly id: string; readonly at: Vec3 }> {
  const named = field.get('datum');
  if (!named.present) {
    if (field.reading.misspelled(field.path, 'datum')) return FAULTY;
    return field.report(
      'missing-key',
      'it names no datum',
      'such as `datum: A`, a plane, sphere, cone or torus',
    );
  }
  if (typeof named.value !== 'string' || !isKnownDatum(named, named.value, datums)) return FAULTY;
  const datum = datums?.get(named.value) ?? FAULTY;
  if (datum === FAULTY) return FAULTY;
  const at = ownPoint(datum);
  if (at !== undefined) return { id: datum.id, at };
  return named.report(
    'bad-value',
    `light cannot meet the ${datum.kind} ${datum.id} square on over a patch`,
    'name a plane, a sphere, a cone or a torus',
  );
}

/** Undefined for what no light of a patch meets square on. */
function ownPoint(datum: Datum): Vec3 | undefined {
  switch (datum.kind) {
    case 'plane':
      return datum.point;
    case 'sphere':
    case 'torus':
      return datum.centre;
    case 'cone':
      return datum.apex;
    default:
      return undefined;
  }
}
