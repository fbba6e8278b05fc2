/** References and measurements: a reference's place comes from its words or from the datums it touches. mm, radians. */

import { CUBE_KEYS, FIT_KEYS, type InScenario, type Kind } from '../../kinds/kind.ts';
import { KINDS, kindOf, type ReferenceKind } from '../../kinds/kinds.ts';
import type { CubeFigures, Fit } from '../../kinds/reference.ts';
import { didYouMean } from '../../quantity/nearest-name.ts';
import type { Datum, Touch } from '../../scenario/datum.ts';
import { type Frame, inSubstrateFrame, type Vec3 } from '../../scenario/placing.ts';
import type { Measurement, Reference } from '../../scenario/scenario.ts';
import { placeReference } from '../../scenario/touch.ts';
import { assemble, assembleList, exactlyOne, FAULTY, type Field, type Read } from '../yaml/field.ts';
import { identifier, listById, uniqueIds } from '../yaml/identifiers.ts';
import {
  direction3,
  type Limits,
  length,
  NOT_NEGATIVE,
  POSITIVE,
  point3,
  quantitiesGiven,
  quantity,
  word,
} from '../yaml/values.ts';
import type { BuiltPart } from './build-part.ts';

export function buildReferences(field: Field, part: BuiltPart): Read<readonly Reference[]> {
  const items = field.items();
  uniqueIds(items.map((item) => item.get('id')));
  const all = items.map((item) => buildReference(item, part));
  return assembleList(all.filter((reference, k) => reference === FAULTY || isInUse(items[k]!)));
}

/** A reference with `use: false` is left out: a candidate that was not chosen. */
const isInUse = (item: Field): boolean => item.get('use').value !== false;

/** The ids that patches and measurements may name; undefined where the list cannot tell. */
export function idsInUse(list: Field): ReadonlySet<string> | undefined {
  const idOf = (item: Field): unknown => item.get('id').value;
  const ids = list.items().map(idOf);
  if (!Array.isArray(list.value) || !ids.every((id) => typeof id === 'string')) return undefined;
  const unused = list.items().filter((item) => !isInUse(item));
  const left = new Set(unused.map(idOf));
  return new Set(ids.filter((id) => !left.has(id)));
}

/** Of light that a cube returns, against its axis. */
const ACCEPTANCES: Limits = { moreThan: 0, lessThan: Math.PI / 2 };
const KIND_WORDS = KINDS.map(({ kind }) => kind as ReferenceKind);

function buildReference(field: Field, part: BuiltPart): Read<Reference> {
  const id = identifier(field.get('id'));
  const kind = word(field.get('kind'), KIND_WORDS);
  const own = kind === FAULTY ? undefined : kindOf({ kind });
  if (own !== undefined && own.inScenario.place !== 'given') return buildOfNoPlace(field, id, own, part);
  const feature = field.get('datum');
  if (feature.present) {
    // A body may touch datums, but is none.
    const message = '`datum` applies only to a reference of kind `datum`';
    feature.report('conflicting-keys', message, 'list the datums it touches under `touches`');
  }
  const given = exactlyOne(field, ['at', 'touches'], 'a position');
  const diameter = quantity(field.get('diameter'), 'length', POSITIVE, undefined);
  const sized = requireDiameter(field, own?.inScenario.needsDiameter, given, diameter);
  const touches = assembleList(field.items('touches').map((touch) => buildTouch(touch, part)));
  const told = buildFigures(field, own?.inScenario.without, given);
  const frame = word(field.get('frame'), ['substrate', 'part'], 'substrate');
  const at = point3(field.get('at'));
  if (given === 'touches' && field.get('frame').present) {
    const message = '`frame` applies to `at` only; touches are in the part frame';
    field.get('frame').report('conflicting-keys', message, 'remove it');
  }
  if (given === FAULTY || feature.present) return FAULTY;
  if (given === 'touches') {
    const place = touches === FAULTY ? FAULTY : placeByTouches(field.get('touches'), touches, sized, part);
    return built({ id, kind, diameter: sized, at: place, given, movesWith: 'part', touches, ...told });
  }
  const placed = frame === 'part' && at !== FAULTY ? placedInPart(at, part.frame) : at;
  const movesWith = frame === 'part' ? frame : 'mount';
  const carried = field.get('frame').present ? { movesWith } : {};
  return built({ id, kind, diameter: sized, at: placed, given: frame, ...carried, touches: NONE, ...told });
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
  return assemble<Touch>({
    datum: datumId(field.get('datum'), part.datums),
    ...quantitiesGiven(field, ['azimuth'], 'angle'),
    ...quantitiesGiven(field, FIXABLE, 'length'),
  });
}

/** The id of a datum that the part has, itself faulty or not. */
export function datumId(field: Field, datums: BuiltPart['datums']): Read<string> {
  const { value: id } = field;
  if (typeof id !== 'string' || datums === undefined) return FAULTY;
  if (datums.has(id)) return id;
  const known = [...datums.keys()];
  const listed =
    known.length === 0 ? 'the part has no `datums`' : `the part has ${known.slice(0, 12).join(', ')}`;
  return field.report('unknown-datum', `there is no datum \`${id}\``, didYouMean(id, known) ?? listed);
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

export const buildMeasurements = (
  list: Field,
  references: ReadonlySet<string> | undefined,
): Read<readonly Measurement[]> =>
  listById(list, (item) =>
    assemble<Measurement>({
      id: identifier(item.get('id')),
      reference: referenceNamed(item.get('reference'), references),
      direction: direction3(item.get('direction')),
      uncertainty: length(item.get('uncertainty'), POSITIVE),
    }),
  );

/** The id of a reference that the scenario has; `known` is undefined where its list cannot tell. */
export function referenceNamed(field: Field, known: ReadonlySet<string> | undefined): Read<string> {
  const { value } = field;
  if (typeof value !== 'string' || known === undefined) return FAULTY;
  if (known.has(value)) return value;
  const listed =
    known.size === 0 ? 'the scenario has no references' : `known: ${[...known].slice(0, 12).join(', ')}`;
  const message = `there is no reference \`${value.length > 64 ? `${value.slice(0, 64)}…` : value}\``;
  return field.report('unknown-reference', message, didYouMean(value, known) ?? listed);
}

/** A reference without a place of its own: the interferometer (a return ring), or a datum feature of the part. */
function buildOfNoPlace(
  field: Field,
  id: Read<string>,
  { kind, inScenario }: Kind,
  part: BuiltPart,
): Read<Reference> {
  const meaningless = Object.entries(inScenario.without).filter(([key, why]) => hasNone(field.get(key), why));
  if (meaningless.length > 0) return FAULTY;
  const shared = { id, kind, diameter: undefined, touches: [] };
  if (inScenario.place === 'none') return built({ ...shared, at: [0, 0, 0], given: 'hologram' });
  const feature = featureOf(field, part);
  if (feature === FAULTY || part.frame === FAULTY) return FAULTY;
  const at = inSubstrateFrame(part.frame, feature.at);
  return built({ ...shared, at, given: 'feature', movesWith: 'part', datum: feature.id });
}

function featureOf(field: Field, { datums }: BuiltPart): Read<{ readonly id: string; readonly at: Vec3 }> {
  const named = field.get('datum');
  if (!named.present) {
    if (field.reading.misspelled(field.path, 'datum')) return FAULTY;
    const hint = 'add one, e.g. `datum: A`: a plane, sphere, cone, torus or asphere';
    return field.report('missing-key', 'a reference of kind `datum` needs a `datum`', hint);
  }
  const id = datumId(named, datums);
  const datum = id === FAULTY ? FAULTY : datums!.get(id)!;
  if (datum === FAULTY) return FAULTY;
  if (datum.kind === 'plane') return { id: datum.id, at: datum.point };
  if (datum.kind === 'cone') return { id: datum.id, at: datum.apex };
  if (datum.kind === 'sphere' || datum.kind === 'torus') return { id: datum.id, at: datum.centre };
  if (datum.kind === 'asphere') return { id: datum.id, at: datum.vertex };
  const message = `light cannot meet the ${datum.kind} ${datum.id} at normal incidence over a patch`;
  return named.report('bad-value', message, 'use a plane, a sphere, a cone, a torus or an asphere');
}

/**
 * What a reference says of itself besides its place: how its cube stands, and its own figures for the budget.
 * `without`: keys that the kind has no use for, with the reasons; undefined where the kind is not known.
 */
function buildFigures(
  field: Field,
  without: InScenario['without'] | undefined,
  given: Read<string>,
): { readonly [Key in keyof Fit]?: Read<number> } & { readonly cube?: Read<CubeFigures> } {
  for (const key of CUBE_KEYS) hasNone(field.get(key), without?.[key]);
  const cube = buildCube(field);
  for (const key of FIT_KEYS) hasNone(field.get(key), without?.[key]);
  if (given === 'touches') hasNone(field.get('nest'), 'its position is given by touches, not by a nest');
  const isCube = without !== undefined && CUBE_KEYS.every((key) => without[key] === undefined);
  return {
    ...quantitiesGiven(field, FIT_KEYS, 'length', NOT_NEGATIVE),
    ...(isCube ? { cube } : {}),
  };
}

const buildCube = (field: Field): Read<CubeFigures> =>
  assemble<CubeFigures>({
    ...(field.get('axis').present ? { axis: direction3(field.get('axis')) } : {}),
    ...quantitiesGiven(field, ['roll'], 'angle'),
    ...quantitiesGiven(field, ['acceptance'], 'angle', ACCEPTANCES),
    ...quantitiesGiven(field, ['centring'], 'length', NOT_NEGATIVE),
  });

/** Reports a key that is given though it does not apply, for a reason; whether it was. */
function hasNone(field: Field, why: string | undefined): boolean {
  const reported = why !== undefined && field.present;
  if (reported)
    field.report('conflicting-keys', `\`${field.name}\` does not apply here: ${why}`, 'remove it');
  return reported;
}
