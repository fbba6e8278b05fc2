/** What stands on a panel: solids, references with the sign of their kind, datums, and the part's frame. mm on paper, [right, up]. */

import type { Design } from '../../design/design.ts';
import { directionToParent } from '../../geometry/frame.ts';
import { add2, scale as scaled, subtract, unit, type Vec2, type Vec3 } from '../../geometry/vector.ts';
import { isReadBy } from '../../kinds/kinds.ts';
import type { Reference } from '../../scenario/scenario.ts';
import type { Line } from '../drawing/drawing.ts';
import { datumMark } from './datum-marks.ts';
import { type Drawn, disc, edgeOf, middleOfShape, type Named, pointNamed } from './names.ts';
import type { Scene } from './panel-light.ts';
import type { Projection } from './projection.ts';
import { arrow, cross, type Shape } from './shapes.ts';
import { shortName, type Thing } from './things.ts';

/** Half the length of an endless datum's mark, the length of a normal and of the part's axes. */
const REACH = 7;
const NORMAL = 4.5;
const AXES = 7;
/** A reference of a smaller radius is found by its cross; a screen without a size has a bar of twice this length. */
const SMALLEST = 1.2;
const BAR = 3;

export function drawnThing(thing: Thing, { scale }: Scene, isNamed: boolean): Drawn {
  const { style, id, outline, name } = thing;
  const paper = ([right, up]: Vec2): Vec2 => [right / scale, up / scale];
  const shape: Shape =
    'polygon' in outline
      ? { style, id, closed: outline.polygon.map(paper) }
      : { style, id, circle: paper(outline.centre), radius: outline.radius / scale };
  const names: Named[] =
    name !== undefined && isNamed
      ? [{ text: name, sort: style, at: middleOfShape(shape), polygon: edgeOf(shape) }]
      : [];
  return { shapes: [shape], named: names, lines: [] };
}

/** The sign of its kind and its name; its sphere is a thing. `name`: undefined where it is not named; `kind` follows it. */
export function drawnReference(
  reference: Reference,
  scene: Scene,
  name: string | undefined,
  kind: string | undefined,
): Drawn {
  const { view, scale, design } = scene;
  const [right, up] = view.flat(reference.at);
  const at: Vec2 = [right / scale, up / scale];
  const radius = (reference.diameter ?? 0) / 2 / scale;
  const polygon = disc(at, Math.max(radius, SMALLEST));
  const suffix = kind === undefined ? {} : { suffix: kind };
  const named: Named[] =
    name === undefined ? [] : [{ text: name, sort: 'reference', at, polygon, ...suffix }];
  return { shapes: signOf(reference, design, view, at, radius), named, lines: [] };
}

function signOf(reference: Reference, design: Design, view: Projection, at: Vec2, radius: number): Shape[] {
  const size = Math.max(radius, SMALLEST);
  if (isReadBy(reference, 'mark')) {
    const half = reference.diameter === undefined ? BAR : size;
    const [x, y] = at;
    return [...cross(at, SMALLEST), { style: 'sign', open: [[x, y - half], [x, y + half]], id: reference.id }]; // biome-ignore format: one line
  }
  if (!('cube' in reference)) return cross(at, radius > SMALLEST ? 0.6 * radius : SMALLEST);
  const toward = cubeAxis(reference, design);
  const [u, v] = view.flat(toward);
  const turn = (sign: 1 | -1): Vec2 => {
    const [x, y] = [(u - sign * v) * Math.SQRT1_2, (v + sign * u) * Math.SQRT1_2];
    return add2(at, [size * x, size * y]);
  };
  return [{ style: 'sign', open: [turn(1), at, turn(-1)], id: reference.id }];
}

/** Where a cube faces: as stated, or the mean direction back to its patches. */
function cubeAxis(reference: Reference, { patches }: Design): Vec3 {
  if (reference.cube?.axis !== undefined) return reference.cube.axis;
  const own = patches.filter((patch) => patch.reference.id === reference.id);
  const sum = own.reduce<Vec3>(
    (total, { chiefRay }) => subtract(total, chiefRay),
    [0, 0, own.length === 0 ? -1 : 0],
  );
  return unit(sum);
}

export function drawnDatums({ design, view, scale }: Scene, isNamed: boolean): Drawn {
  const { part } = design.scenario;
  const paper = ([right, up]: Vec2): Vec2 => [right / scale, up / scale];
  const marks = part.datums.map((datum) => datumMark(datum, part.frame, view, REACH * scale));
  return {
    shapes: marks.flatMap(({ id, lines, circles, normals }): Shape[] => [
      ...lines.map((line): Shape => ({ style: 'feature', open: line.map(paper), id })),
      ...circles.map(
        ({ centre, radius }): Shape => ({
          style: 'feature',
          circle: paper(centre),
          radius: radius / scale,
          id,
        }),
      ),
      ...normals.flatMap(({ from, direction: [u, v] }) => {
        const start = paper(from);
        return arrow('mark', 'arrow', start, add2(start, [NORMAL * u, NORMAL * v]));
      }),
    ]),
    named: isNamed ? marks.map(({ id, at }) => pointNamed('feature', shortName(id), paper(at))) : [],
    lines: marks.flatMap(({ normals }) =>
      normals.map(({ from, direction: [u, v] }): Line => {
        return [paper(from), add2(paper(from), [NORMAL * u, NORMAL * v])];
      }),
    ),
  };
}

/** Whether the scenario places a part. */
export function hasPart({ scenario }: Design): boolean {
  const { frame, envelope, datums } = scenario.part;
  return envelope.length + datums.length > 0 || frame.origin.some((each) => each !== 0);
}

/** The axes of the part's frame where the scenario places a part: arrows as long as they are seen. */
export function drawnPartFrame({ design, view, scale }: Scene, isNamed: boolean): Drawn {
  const { frame } = design.scenario.part;
  if (!hasPart(design)) return { shapes: [], named: [], lines: [] };
  const [right, up] = view.flat(frame.origin);
  const at: Vec2 = [right / scale, up / scale];
  const lines = UNITS.flatMap((axis): Line[] => {
    const seen = view.flat(directionToParent(frame, scaled(axis, AXES)));
    return Math.sqrt(seen[0] ** 2 + seen[1] ** 2) > 1 ? [[at, add2(at, seen)]] : [];
  });
  const shapes = lines.flatMap(([from, to]) => arrow('mark', 'arrow', from, to));
  return { shapes, named: isNamed ? [pointNamed('origin', 'part origin', at)] : [], lines };
}

const UNITS: readonly Vec3[] = [
  [1, 0, 0],
  [0, 1, 0],
  [0, 0, 1],
];
