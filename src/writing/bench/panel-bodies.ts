/** What stands on a panel: solids, references with the sign of their kind, datums, and the part's frame. mm on paper, [right, up]. */

import type { Design } from '../../design/design.ts';
import { directionToParent } from '../../geometry/frame.ts';
import { add2, scale as scaled, subtract, unit, type Vec2, type Vec3 } from '../../geometry/vector.ts';
import { isReadBy } from '../../kinds/kinds.ts';
import type { Reference } from '../../scenario/scenario.ts';
import { datumMark } from './datum-marks.ts';
import { type Drawn, disc, edgeOf, middleOfShape, type Named, pointNamed, upperEnd } from './names.ts';
import type { Scene } from './panel-light.ts';
import type { Projection } from './projection.ts';
import { arrow, axis, cross, type Shape } from './shapes.ts';
import { shortName, type Thing } from './things.ts';

/** Half the length of an endless datum's mark, the length of a normal and of the part's axes. */
const REACH = 7;
const NORMAL = 4.5;
const AXES = 7;
/** A shorter axis points at the viewer, or away; the ring around the origin. */
const LEAST_AXIS = 1;
/** From an axis's end to the middle of its letter. */
const LETTER = 2.4;
export const ORIGIN = 0.7;
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
      ? [{ text: name, sort: style, at: middleOfShape(shape), polygon: namedBy(shape) }]
      : [];
  return { shapes: [shape], named: names };
}

/** A solid is named at its upper end: leaders to what is within it, or behind it, may cross the rest. */
const namedBy = (shape: Shape): readonly Vec2[] =>
  'closed' in shape ? upperEnd(shape.closed) : edgeOf(shape);

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
  return { shapes: signOf(reference, design, view, at, radius), named };
}

function signOf(reference: Reference, design: Design, view: Projection, at: Vec2, radius: number): Shape[] {
  const size = Math.max(radius, SMALLEST);
  if (isReadBy(reference, 'mark')) {
    const half = reference.diameter === undefined ? BAR : size;
    const [x, y] = at;
    return [
      ...cross(at, SMALLEST, 'screenSign'),
      { style: 'screenSign', open: [[x, y - half], [x, y + half]], id: reference.id }, // biome-ignore format: one line
    ];
  }
  if (!('cube' in reference)) return cross(at, radius > SMALLEST ? 0.6 * radius : SMALLEST, 'ballSign');
  const toward = cubeAxis(reference, design);
  const [u, v] = view.flat(toward);
  const turn = (sign: 1 | -1): Vec2 => {
    const [x, y] = [(u - sign * v) * Math.SQRT1_2, (v + sign * u) * Math.SQRT1_2];
    return add2(at, [size * x, size * y]);
  };
  return [{ style: 'cubeSign', open: [turn(1), at, turn(-1)], id: reference.id }];
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
  };
}

/** Whether the scenario places a part. */
export function hasPart({ scenario }: Design): boolean {
  const { frame, envelope, datums } = scenario.part;
  return envelope.length + datums.length > 0 || frame.origin.some((each) => each !== 0);
}

/** The part's frame where the scenario places a part: its axes, as long as they are seen, with their letters where they are turned. */
export function drawnPartFrame({ design, view, scale }: Scene, isNamed: boolean): Drawn {
  const { frame, rotation } = design.scenario.part;
  if (!hasPart(design)) return NOTHING;
  const [right, up] = view.flat(frame.origin);
  const at: Vec2 = [right / scale, up / scale];
  const isTurned = rotation.some((angle) => angle !== 0);
  const axes = UNITS.flatMap(([letter, direction]) => {
    const seen = view.flat(directionToParent(frame, scaled(direction, AXES)));
    return Math.sqrt(seen[0] ** 2 + seen[1] ** 2) > LEAST_AXIS ? [{ letter, to: add2(at, seen) }] : [];
  });
  return {
    shapes: [
      { style: 'frame', circle: at, radius: ORIGIN, id: 'part origin' },
      ...axes.flatMap(({ to }) => axis('frame', at, to)),
    ],
    named: isNamed
      ? [
          pointNamed('origin', 'part origin', at),
          ...(isTurned ? axes.map(({ letter, to }) => axisNamed(letter, at, to)) : []),
        ]
      : [],
  };
}

/** Its letter beyond its end, or beside it. */
function axisNamed(letter: string, from: Vec2, to: Vec2): Named {
  const [dx, dy] = [to[0] - from[0], to[1] - from[1]];
  const size = Math.sqrt(dx * dx + dy * dy);
  const [u, v] = [(LETTER * dx) / size, (LETTER * dy) / size];
  const spots = [[u, v], [-v, u], [v, -u], [-v - u, u - v], [v - u, -u - v]] as const; // biome-ignore format: one line
  return {
    ...pointNamed(`axis ${letter}`, letter, to),
    spots: spots.map((step) => ({ at: add2(to, step), anchor: 'middle' })),
  };
}

const NOTHING: Drawn = { shapes: [], named: [] };

const UNITS: readonly (readonly [string, Vec3])[] = [
  ['x', [1, 0, 0]],
  ['y', [0, 1, 0]],
  ['z', [0, 0, 1]],
];
