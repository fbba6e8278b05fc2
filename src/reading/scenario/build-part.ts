/** The part: its frame, datum features and envelope. Part frame, mm and radians; directions are unit vectors. */
import type { Datum } from '../../scenario/datum.ts';
import { type Frame, frameAt, squaredUp, type Vec3 } from '../../scenario/placing.ts';
import type { Part } from '../../scenario/scenario.ts';
import { assemble, assembleList, FAULTY, type Field, isObject, ownEntry, type Read } from '../yaml/field.ts';
import { identifier, uniqueIds } from '../yaml/identifiers.ts';
import { angle, angles3, direction3, type Limits, length, POSITIVE, point3, word } from '../yaml/values.ts';
import { buildOutline } from './build-outline.ts';
import { buildSolid } from './build-solids.ts';

/** Full angles of cones and vees, rad: neither a line nor a plane. */
const OPENINGS: Limits = { moreThan: 0, lessThan: Math.PI };

export interface BuiltPart {
  readonly part: Read<Part>;
  readonly frame: Read<Frame>;
  /** By id, in the order of the file; undefined where `part.datums` itself cannot be used. */
  readonly datums: ReadonlyMap<string, Read<Datum>> | undefined;
}

export function buildPart(field: Field): BuiltPart {
  const origin = point3(field.get('origin'), [0, 0, 0]);
  const rotation = angles3(field.get('rotation'), [0, 0, 0]);
  const frame = origin === FAULTY || rotation === FAULTY ? FAULTY : frameAt(origin, rotation);
  const list = field.get('datums');
  const entries = list.entries();
  const ids = entries.map((entry) => entry.key());
  const named = ids.map(identifier);
  uniqueIds(ids);
  const built = new Map(entries.map((entry) => [entry.name, buildDatum(entry)] as const));
  const usable = !field.reading.misspelled(field.path, 'datums') && (!list.present || isObject(list.value));
  return {
    part: assemble({
      frame,
      rotation,
      datums: named.includes(FAULTY) ? FAULTY : assembleList([...built.values()]),
      envelope: assembleList(field.get('envelope').items().map(buildSolid)),
    }),
    frame,
    datums: usable ? built : undefined,
  };
}

function buildDatum(field: Field): Read<Datum> {
  const kind = field.entries()[0];
  if (kind === undefined || field.entries().length !== 1) return FAULTY;
  return ownEntry(DATUMS, kind.name)?.(kind, field.name) ?? FAULTY;
}

/** A key that may be left out, and then is. */
const given = <Key extends string, T>(
  key: Key,
  field: Field,
  build: (field: Field) => Read<T>,
): { readonly [key in Key]?: Read<T> } =>
  field.present ? ({ [key]: build(field) } as { readonly [key in Key]?: Read<T> }) : {};

const SIDES = ['outside', 'inside'] as const;

const DATUMS: { readonly [kind: string]: ((field: Field, id: string) => Read<Datum>) | undefined } = {
  plane: (field, id) =>
    assemble({
      id,
      kind: 'plane',
      point: point3(field.get('point')),
      normal: direction3(field.get('normal')),
      ...given('extent', field.get('extent'), (extent) => buildOutline(extent, [0, 0])),
    }),
  cylinder: (field, id) =>
    assemble({
      id,
      kind: 'cylinder',
      point: point3(field.get('point')),
      axis: direction3(field.get('axis')),
      diameter: length(field.get('diameter'), POSITIVE),
      ...given('length', field.get('length'), (way) => length(way, POSITIVE)),
      side: word(field.get('side'), SIDES, 'outside'),
    }),
  cone: (field, id) =>
    assemble({
      id,
      kind: 'cone',
      apex: point3(field.get('apex')),
      axis: direction3(field.get('axis')),
      angle: angle(field.get('angle'), OPENINGS),
      side: word(field.get('side'), SIDES, 'outside'),
    }),
  sphere: (field, id) =>
    assemble({
      id,
      kind: 'sphere',
      centre: point3(field.get('centre')),
      diameter: length(field.get('diameter'), POSITIVE),
      side: word(field.get('side'), SIDES, 'outside'),
    }),
  torus: (field, id) => {
    const diameter = length(field.get('diameter'), POSITIVE);
    const tubes: Limits = diameter === FAULTY ? POSITIVE : { moreThan: 0, lessThan: diameter };
    return assemble({
      id,
      kind: 'torus',
      centre: point3(field.get('centre')),
      axis: direction3(field.get('axis')),
      diameter,
      tube: length(field.get('tube'), tubes),
      side: word(field.get('side'), SIDES, 'outside'),
    });
  },
  point: (field, id) => assemble({ id, kind: 'point', point: point3(field.get('at')) }),
  vee: (field, id) => {
    const axis = direction3(field.get('axis'));
    const normal = direction3(field.get('normal'));
    const square = axis === FAULTY || normal === FAULTY ? FAULTY : openingOf(field, normal, axis);
    const opening = angle(field.get('angle'), OPENINGS);
    return assemble({
      id,
      kind: 'vee',
      point: point3(field.get('point')),
      axis,
      normal: square,
      angle: opening,
    });
  },
};

function openingOf(field: Field, normal: Vec3, axis: Vec3): Read<Vec3> {
  const square = squaredUp(normal, axis);
  if (square !== undefined) return square;
  const message = 'the vee’s normal is not perpendicular to its axis';
  return field
    .get('normal')
    .report('bad-value', message, 'give a normal that points out of the opening, at 90 deg to the axis');
}
