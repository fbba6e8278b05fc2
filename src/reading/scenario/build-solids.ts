/** Solids of the part's envelope and of obstacles, in the frame of what they belong to. mm; axes are unit vectors. */

import type { Vec3 } from '../../scenario/placing.ts';
import type { Obstacle } from '../../scenario/scenario.ts';
import { type Solid, trianglesOfStl } from '../../scenario/solid.ts';
import { assemble, assembleList, FAULTY, type Field, ownEntry, type Read } from '../yaml/field.ts';
import { identifier, uniqueIds } from '../yaml/identifiers.ts';
import { direction3, length, NOT_NEGATIVE, POSITIVE, point3, quantity } from '../yaml/values.ts';

/** Mounts and clamps, in the substrate frame. */
export function buildObstacles(field: Field): Read<readonly Obstacle[]> {
  if (field.present && !Array.isArray(field.value)) return FAULTY;
  const items = field.items();
  uniqueIds(items.map((item) => item.get('id')));
  return assembleList(
    items.map((item) =>
      assemble<Obstacle>({
        id: identifier(item.get('id')),
        solids: assembleList(item.get('solids').items().map(buildSolid)),
      }),
    ),
  );
}

export function buildSolid(field: Field): Read<Solid> {
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

/** The file that a mesh names, as triangles; `scale` turns the file's unit into mm. */
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
