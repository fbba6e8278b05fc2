/** References and measurements: a reference's place comes from its words or from the datums it touches. mm, radians. */

import { KINDS, kindOf, type ReferenceKind } from '../../kinds/kinds.ts';
import { didYouMean } from '../../quantity/nearest-name.ts';
import type { Datum, Touch } from '../../scenario/datum.ts';
import { type Frame, inSubstrateFrame, type Vec3 } from '../../scenario/placing.ts';
import type { Measurement, Reference } from '../../scenario/scenario.ts';
import { placeReference } from '../../scenario/touch.ts';
import { assemble, assembleList, exactlyOne, FAULTY, type Field, type Read } from '../yaml/field.ts';
import { identifier, idsListed, uniqueIds } from '../yaml/identifiers.ts';
import { direction3, POSITIVE, point3, quantity, length as readLength, word } from '../yaml/values.ts';
import type { BuiltPart } from './build-part.ts';
import { buildFigures } from './reference-figures.ts';
import { buildOfNoPlace, noDatumHere } from './references-of-no-place.ts';

export function buildReferences(field: Field, part: BuiltPart): Read<readonly Reference[]> {
  if (!Array.isArray(field.value)) return FAULTY;
  const items = field.items();
  uniqueIds(items.map((item) => item.get('id')));
  const built = items.map((item): { item: Field; reference: Read<Reference> } => ({
    item,
    reference: buildReference(item, part),
  }));
  const used = built.filter(({ item, reference }) => reference === FAULTY || isInUse(item));
  return assembleList<Reference>(used.map(({ reference }) => reference));
}

/** A reference with `use: false` is left out: a candidate that was not chosen. */
export const isInUse = (item: Field): boolean => item.get('use').value !== false;

/** The ids that patches and measurements may name; undefined where the list cannot tell. */
export function idsInUse(list: Field): ReadonlySet<string> | undefined {
  const listed = idsListed(list);
  if (listed === undefined) return undefined;
  const unused = new Set(
    list
      .items()
      .filter((item) => !isInUse(item))
      .map((item) => item.get('id').value),
  );
  return new Set([...listed].filter((id) => !unused.has(id)));
}

const KIND_WORDS = KINDS.map(({ kind }) => kind as ReferenceKind);

function buildReference(field: Field, part: BuiltPart): Read<Reference> {
  const id = identifier(field.get('id'));
  const kind = word(field.get('kind'), KIND_WORDS);
  const own = kind === FAULTY ? undefined : kindOf({ kind });
  if (own !== undefined && own.inScenario.place !== 'given') return buildOfNoPlace(field, id, own, part);
  const misplaced = noDatumHere(field.get('datum'));
  const given = exactlyOne(field, ['at', 'touches'], 'a position');
  const diameter = quantity(field.get('diameter'), 'length', POSITIVE, undefined);
  const sized = requireDiameter(field, own?.inScenario.needsDiameter, given, diameter);
  const touches = assembleList(
    field
      .get('touches')
      .items()
      .map((touch) => buildTouch(touch, part)),
  );
  const told = buildFigures(field, own?.inScenario.without, given);
  const frame = word(field.get('frame'), ['substrate', 'part'], 'substrate');
  const at = point3(field.get('at'));
  if (given === 'touches' && field.get('frame').present) {
    const message = '`frame` applies to `at` only; touches are in the part frame';
    field.get('frame').report('conflicting-keys', message, 'remove it');
  }
  if (given === FAULTY || misplaced === FAULTY) return FAULTY;
  if (given === 'touches') {
    const place = touches === FAULTY ? FAULTY : placeByTouches(field.get('touches'), touches, sized, part);
    return built({ id, kind, diameter: sized, at: place, given, touches, ...told });
  }
  const placed = frame === 'part' && at !== FAULTY ? placedInPart(at, part.frame) : at;
  return built({ id, kind, diameter: sized, at: placed, given: frame, touches: NONE, ...told });
}

/** What the kind needs and what it has no use for is settled by now: the parts make one of the kinds whole. */
const built = (parts: { readonly [key: string]: Read<unknown> }): Read<Reference> =>
  assemble<object>(parts) as Read<Reference>;

const NONE: readonly Touch[] = [];

const placedInPart = (at: Vec3, frame: Read<Frame>): Read<Vec3> =>
  frame === FAULTY ? FAULTY : inSubstrateFrame(frame, at);

/** Some kinds have a diameter, and so has whatever touches a datum. */
function requireDiameter(
  field: Field,
  needed: string | undefined,
  given: Read<string>,
  diameter: Read<number | undefined>,
): Read<number | undefined> {
  if (diameter !== undefined || (needed === undefined && given !== 'touches')) return diameter;
  if (field.reading.misspelled(field.path, 'diameter')) return FAULTY;
  const why = needed ?? 'a reference that touches a datum needs a `diameter`';
  return field.report('missing-key', why, 'add one, e.g. `diameter: 0.5 in`');
}

const FIXABLE = ['height', 'x', 'y', 'z'] as const;

function buildTouch(field: Field, part: BuiltPart): Read<Touch> {
  const datum = field.get('datum');
  const fixed = FIXABLE.flatMap((key) => {
    const value = quantity(field.get(key), 'length', {}, undefined);
    return value === undefined ? [] : [[key, value] as const];
  });
  const azimuth = quantity(field.get('azimuth'), 'angle', {}, undefined);
  const known = typeof datum.value === 'string' && isKnownDatum(datum, datum.value, part.datums);
  return assemble<Touch>({
    datum: known ? (datum.value as string) : FAULTY,
    ...(azimuth === undefined ? {} : { azimuth }),
    ...Object.fromEntries(fixed),
  });
}

export function isKnownDatum(field: Field, id: string, datums: BuiltPart['datums']): boolean {
  if (datums === undefined) return false;
  if (datums.has(id)) return true;
  const known = [...datums.keys()];
  const listed =
    known.length === 0 ? 'the part has no `datums`' : `the part has ${known.slice(0, 12).join(', ')}`;
  field.report('unknown-datum', `there is no datum \`${id}\``, didYouMean(id, known) ?? listed);
  return false;
}

function placeByTouches(
  field: Field,
  touches: readonly Touch[],
  diameter: Read<number | undefined>,
  { datums, frame }: BuiltPart,
): Read<Vec3> {
  const touched = [...new Set(touches.map(({ datum }) => datum))].map((id) => datums?.get(id) ?? FAULTY);
  if (touches.length === 0 || diameter === undefined || diameter === FAULTY || frame === FAULTY)
    return FAULTY;
  if (touched.includes(FAULTY)) return FAULTY;
  const place = placeReference(touches, touched as Datum[], diameter, frame);
  if ('at' in place) return place.at;
  const { code, message, hint, touch } = place;
  const spot = touch === undefined ? field : (field.items()[touch] ?? field);
  return spot.report(code, message, hint);
}

export function buildMeasurements(
  field: Field,
  references: ReadonlySet<string> | undefined,
): Read<readonly Measurement[]> {
  if (field.present && !Array.isArray(field.value)) return FAULTY;
  const items = field.items();
  uniqueIds(items.map((item) => item.get('id')));
  return assembleList(
    items.map((item) =>
      assemble<Measurement>({
        id: identifier(item.get('id')),
        reference: referenceNamed(item.get('reference'), references),
        direction: direction3(item.get('direction')),
        uncertainty: readLength(item.get('uncertainty'), POSITIVE),
      }),
    ),
  );
}

/** The id of a reference that the scenario has; `known` is undefined where its list cannot tell. */
export function referenceNamed(field: Field, known: ReadonlySet<string> | undefined): Read<string> {
  const { value } = field;
  if (typeof value !== 'string' || known === undefined) return FAULTY;
  if (known.has(value)) return value;
  const listed =
    known.size === 0 ? 'the scenario has no references' : `known: ${[...known].slice(0, 12).join(', ')}`;
  const shown = value.length > 64 ? `${value.slice(0, 64)}…` : value;
  return field.report(
    'unknown-reference',
    `there is no reference \`${shown}\``,
    didYouMean(value, known) ?? listed,
  );
}
