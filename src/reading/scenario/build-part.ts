/** The part: its frame, datum features and envelope. Part frame, mm and radians; directions are unit vectors. */
import type { Datum } from '../../scenario/datum.ts';
import { type Frame, frameAt, squaredUp, type Vec3 } from '../../scenario/placing.ts';
import type { Part } from '../../scenario/scenario.ts';
import { type Solid, trianglesOfStl } from '../../scenario/solid.ts';
import { assemble, assembleList, FAULTY, type Field, isObject, ownEntry, type Read } from '../yaml/field.ts';
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

const SIDES = ['outside', 'inside'] as const;

const DATUMS: { readonly [kind: string]: ((field: Field, id: string) => Read<Datum>) | undefined } = {
  plane: (field, id) =>
    assemble({
      id,
      kind: 'plane',
      point: point3(field.get('point')),
      normal: direction3(field.get('normal')),
    }),
  cylinder: (field, id) =>
    assemble({
      id,
      kind: 'cylinder',
      point: point3(field.get('point')),
      axis: direction3(field.get('axis')),
      diameter: length(field.get('diameter'), POSITIVE),
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

function buildSolid(field: Field): Read<Solid> {
  const kind = field.entries()[0];
  if (kind === undefined || field.entries().length !== 1) return FAULTY;
  return ownEntry(SOLIDS, kind.name)?.(kind) ?? FAULTY;
}

const SOLIDS: { readonly [kind: string]: ((field: Field) => Read<Solid>) | undefined } = {
  cylinder: (field) =>
    assemble({ ...axisOf(field), kind: 'cylinder', diameter: length(field.get('diameter'), POSITIVE) }),
  cone: (field) =>
    assemble({ ...axisOf(field), kind: 'cone', diameters: endDiameters(field.get('diameters')) }),
  box: (field) => {
    const size = point3(field.get('size'));
    const flat = size === FAULTY ? undefined : field.get('size').items()[size.findIndex((side) => side <= 0)];
    return assemble({
      kind: 'box',
      corner: point3(field.get('corner')),
      size:
        flat?.report(
          'out-of-range',
          'a side of the box is 0 mm or less',
          'give three lengths, each more than 0',
        ) ?? size,
    });
  },
  sphere: (field) =>
    assemble({
      kind: 'sphere',
      centre: point3(field.get('centre')),
      diameter: length(field.get('diameter'), POSITIVE),
    }),
  mesh: (field) => buildMesh(field),
};

const axisOf = (field: Field): { point: Read<Vec3>; axis: Read<Vec3>; length: Read<number> } => ({
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

/** The file that a mesh names, as triangles in the part frame; `scale` turns the file's unit into mm. */
function buildMesh(field: Field): Read<Solid> {
  const name = field.get('file');
  const scale = quantity(field.get('scale'), 'number', POSITIVE, 1);
  if (typeof name.value !== 'string' || scale === FAULTY) return FAULTY;
  const bytes = field.reading.files(name.value);
  if ('fault' in bytes) {
    const message = `the mesh \`${name.value}\` cannot be read: ${bytes.fault}`;
    return name.report(
      'unreadable-file',
      message,
      'check its name and permissions; the path is relative to the scenario’s folder',
    );
  }
  const triangles = trianglesOfStl(bytes);
  if ('fault' in triangles)
    return name.report(
      'bad-value',
      `\`${name.value}\` is not a valid STL file: ${triangles.fault}`,
      'export it again as STL, in mm',
    );
  return { kind: 'mesh', file: name.value, corners: triangles.map((value) => value * scale) };
}
