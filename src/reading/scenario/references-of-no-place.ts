/** References without a place of their own: the interferometer (a return ring), and a datum feature of the part. */
import type { Kind } from '../../kinds/kind.ts';
import type { Datum } from '../../scenario/datum.ts';
import { inSubstrateFrame, type Vec3 } from '../../scenario/placing.ts';
import type { Reference } from '../../scenario/scenario.ts';
import { assemble, FAULTY, type Field, type Read } from '../yaml/field.ts';
import type { BuiltPart } from './build-part.ts';
import { isKnownDatum } from './build-references.ts';

export function buildOfNoPlace(
  field: Field,
  id: Read<string>,
  { kind, inScenario }: Kind,
  part: BuiltPart,
): Read<Reference> {
  const meaningless = Object.entries(inScenario.without).filter(([key]) => field.get(key).present);
  for (const [key, why] of meaningless)
    field.get(key).report('conflicting-keys', `\`${key}\` does not apply here: ${why}`, 'remove it');
  if (meaningless.length > 0) return FAULTY;
  const shared = { id, kind, diameter: undefined, touches: [] };
  if (inScenario.place === 'none')
    return assemble<object>({ ...shared, at: [0, 0, 0], given: 'hologram' }) as Read<Reference>;
  const feature = featureOf(field, part);
  if (feature === FAULTY || part.frame === FAULTY) return FAULTY;
  const at = inSubstrateFrame(part.frame, feature.at);
  return assemble<object>({ ...shared, at, given: 'feature', datum: feature.id }) as Read<Reference>;
}

/** A body may touch datums, but is none. */
export function noDatumHere(field: Field): Read<undefined> {
  if (!field.present) return undefined;
  const message = '`datum` applies only to a reference of kind `datum`';
  return field.report('conflicting-keys', message, 'list the datums it touches under `touches`');
}

function featureOf(field: Field, { datums }: BuiltPart): Read<{ readonly id: string; readonly at: Vec3 }> {
  const named = field.get('datum');
  if (!named.present) {
    if (field.reading.misspelled(field.path, 'datum')) return FAULTY;
    return field.report(
      'missing-key',
      'a reference of kind `datum` needs a `datum`',
      'add one, e.g. `datum: A`: a plane, sphere, cone or torus',
    );
  }
  if (typeof named.value !== 'string' || !isKnownDatum(named, named.value, datums)) return FAULTY;
  const datum = datums?.get(named.value) ?? FAULTY;
  if (datum === FAULTY) return FAULTY;
  const at = ownPoint(datum);
  if (at !== undefined) return { id: datum.id, at };
  return named.report(
    'bad-value',
    `light cannot meet the ${datum.kind} ${datum.id} at normal incidence over a patch`,
    'use a plane, a sphere, a cone or a torus',
  );
}

/** Undefined for what no light of a patch meets at normal incidence. */
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
