/** The part: its frame, datum features and envelope. Part frame, mm and radians; directions are unit vectors. */
import type { Datum } from '../../scenario/datum.ts';
import { type Frame, frameAt, squaredUp, type Vec3 } from '../../scenario/placing.ts';
import type { Part } from '../../scenario/scenario.ts';
import { type Solid, trianglesOfStl } from '../../scenario/solid.ts';
import {
  assemble,
  assembleList,
  FAULTY,
  type Faulty,
  type Field,
  isObject,
  ownEntry,
  type Read,
} from '../yaml/field.ts';
import { identifier, uniqueIds } from '../yaml/identifiers.ts';
import {
  angle,
  angles3,
  direction3,
  type Limits,
  length,
  NOT_NEGATIVE,
  POSITIVE,
  point3,
  quantity,
  word,
} from '../yaml/values.ts';
import { buildAsphere } from './build-asphere.ts';
import { buildOutline } from './build-outline.ts';

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
  const built = new Map(
    entries.map((entry) => {
      const datum = byKind<Datum>(entry, DATUMS, { id: entry.name });
      return [entry.name, datum === FAULTY || frame === FAULTY ? datum : facingLight(datum, frame)] as const;
    }),
  );
  const usable = !field.reading.misspelled(field.path, 'datums') && (!list.present || isObject(list.value));
  return {
    part: assemble({
      frame,
      rotation,
      datums: named.includes(FAULTY) ? FAULTY : assembleList([...built.values()]),
      envelope: assembleList(field.items('envelope').map(buildSolid)),
    }),
    frame,
    datums: usable ? built : undefined,
  };
}

/** An asphere shows the hologram the side that its axis points away from, unless that axis points back to it. */
function facingLight(datum: Datum, frame: Frame): Datum {
  if (datum.kind !== 'asphere') return datum;
  const [x, y, z] = frame.rotation[2];
  const along = x * datum.axis[0] + y * datum.axis[1] + z * datum.axis[2];
  return along < 0 ? { ...datum, faces: '+' } : datum;
}

/** What the table reads of the one entry of `field`, by its key; any other entries the schema has refused. */
function byKind<T extends object>(
  field: Field,
  table: Builders<T & { kind: string }>,
  shared: object,
): Read<T> {
  const [only, ...more] = field.entries();
  const read = only && more.length === 0 ? ownEntry<Builder>(table, only.name)?.(only) : undefined;
  if (read === undefined || read === FAULTY) return FAULTY;
  return assemble<object>({ ...shared, kind: only!.name, ...read }) as Read<T>;
}

type Builder = (field: Field) => object | Faulty;

/** For each kind of a union the reader of what that kind has of its own. */
type Builders<T extends { readonly kind: string }> = {
  readonly [K in T['kind']]: (field: Field) => Read<Parts<Omit<Extract<T, { kind: K }>, 'id' | 'kind'>>>;
};
type Parts<T> = { readonly [K in keyof T]: Read<T[K]> };

const round = (field: Field): Parts<{ diameter: number; side: 'outside' | 'inside' }> => ({
  diameter: length(field.get('diameter'), POSITIVE),
  side: sideOf(field),
});
const sideOf = (field: Field): Read<'outside' | 'inside'> =>
  word(field.get('side'), ['outside', 'inside'], 'outside');

const DATUMS: Builders<Datum> = {
  plane: (field) => ({
    point: point3(field.get('point')),
    normal: direction3(field.get('normal')),
    ...(field.get('extent').present ? { extent: buildOutline(field.get('extent'), [0, 0]) } : {}),
  }),
  cylinder: (field) => ({
    point: point3(field.get('point')),
    axis: direction3(field.get('axis')),
    ...(field.get('length').present ? { length: length(field.get('length'), POSITIVE) } : {}),
    ...round(field),
  }),
  cone: (field) => ({
    apex: point3(field.get('apex')),
    axis: direction3(field.get('axis')),
    angle: angle(field.get('angle'), OPENINGS),
    side: sideOf(field),
  }),
  sphere: (field) => ({ centre: point3(field.get('centre')), ...round(field) }),
  torus: (field) => {
    const own = round(field);
    const tubes: Limits = own.diameter === FAULTY ? POSITIVE : { moreThan: 0, lessThan: own.diameter };
    return {
      centre: point3(field.get('centre')),
      axis: direction3(field.get('axis')),
      tube: length(field.get('tube'), tubes),
      ...own,
    };
  },
  point: (field) => ({ point: point3(field.get('at')) }),
  asphere: buildAsphere,
  vee: (field) => {
    const axis = direction3(field.get('axis'));
    const normal = direction3(field.get('normal'));
    return {
      point: point3(field.get('point')),
      axis,
      normal: axis === FAULTY || normal === FAULTY ? FAULTY : openingOf(field, normal, axis),
      angle: angle(field.get('angle'), OPENINGS),
    };
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

/** Of the envelope, or of an obstacle. */
export const buildSolid = (field: Field): Read<Solid> => byKind<Solid>(field, SOLIDS, {});

const SOLIDS: Builders<Solid> = {
  cylinder: (field) => ({ ...axisOf(field), diameter: length(field.get('diameter'), POSITIVE) }),
  cone: (field) => ({ ...axisOf(field), diameters: endDiameters(field.get('diameters')) }),
  box: (field) => {
    const size = point3(field.get('size'));
    const flat = size === FAULTY ? undefined : field.items('size')[size.findIndex((side) => side <= 0)];
    const hint = 'give three lengths, each more than 0';
    return {
      corner: point3(field.get('corner')),
      size: flat?.report('out-of-range', 'a side of the box is 0 mm or less', hint) ?? size,
    };
  },
  sphere: (field) => ({
    centre: point3(field.get('centre')),
    diameter: length(field.get('diameter'), POSITIVE),
  }),
  mesh: buildMesh,
};

const axisOf = (field: Field): Parts<{ point: Vec3; axis: Vec3; length: number }> => ({
  point: point3(field.get('point')),
  axis: direction3(field.get('axis')),
  length: length(field.get('length'), POSITIVE),
});

function endDiameters(field: Field): Read<readonly [number, number]> {
  const diameters = assembleList(field.items().map((item) => length(item, NOT_NEGATIVE)));
  if (diameters === FAULTY || diameters.length !== 2) return FAULTY;
  if (Math.max(...diameters) > 0) return diameters as unknown as readonly [number, number];
  return field.report('out-of-range', 'both diameters of the cone are 0', 'only one of them may be 0');
}

/** The file that a mesh names, as triangles; `scale` turns the file's unit into mm. */
function buildMesh(field: Field): Read<{ readonly file: string; readonly corners: Float64Array }> {
  const name = field.get('file');
  const scale = quantity(field.get('scale'), 'number', POSITIVE, 1);
  if (typeof name.value !== 'string' || scale === FAULTY) return FAULTY;
  const bytes = field.reading.files(name.value);
  if ('fault' in bytes) {
    const message = `the mesh \`${name.value}\` cannot be read: ${bytes.fault}`;
    const hint = 'check its name and permissions; the path is relative to the scenario’s folder';
    return name.report('unreadable-file', message, hint);
  }
  const triangles = trianglesOfStl(bytes);
  if ('fault' in triangles)
    return name.report(
      'bad-value',
      `\`${name.value}\` is not a valid STL file: ${triangles.fault}`,
      'export it again as STL, in mm',
    );
  return { file: name.value, corners: triangles.map((value) => value * scale) };
}
