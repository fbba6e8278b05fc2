/**
 * An operator at a part on a stage, with retroreflectors on it that patches of line focus serve. The part is a rigid body, turned and moved
 * as a whole; he reads the fringes of each patch with a noise, and turns the screws that he is told with an error. mm, waves. Shares no code
 * with src/.
 *
 * A corner cube sends the ray from P along û(P) back along itself: with its vertex off by δ the way out and home is 2 û(P)·δ longer. û(P)
 * points from P to the focus line through the vertex's place, square to it. Read is the fall of that from edge to edge, along the direction
 * square to the line and to the chief ray.
 */
export type Vector = readonly [number, number, number];

export interface LinePatch {
  readonly id: string;
  /** Where its retroreflector stands by design: of the part, and of the substrate. */
  readonly onPart: Vector;
  readonly target: Vector;
  readonly centre: readonly [number, number];
  /** Of a square pattern turned with the line. */
  readonly side: number;
  /** Degrees from +x. */
  readonly lineAngle: number;
}

export interface Screw {
  readonly id: string;
  readonly kind: 'moves' | 'turns';
  readonly direction: Vector;
  readonly through: Vector;
  readonly perTurn: number;
}

/** A point of the part p is found at rotation · p + shift. */
export interface Pose {
  readonly rotation: readonly [Vector, Vector, Vector];
  readonly shift: Vector;
}

const dot = (a: Vector, b: Vector): number => a[0] * b[0] + a[1] * b[1] + a[2] * b[2];
const plus = (a: Vector, b: Vector, by = 1): Vector => [a[0] + by * b[0], a[1] + by * b[1], a[2] + by * b[2]];
const cross = (a: Vector, b: Vector): Vector => [
  a[1] * b[2] - a[2] * b[1],
  a[2] * b[0] - a[0] * b[2],
  a[0] * b[1] - a[1] * b[0],
];
const unit = (a: Vector): Vector => plus([0, 0, 0], a, 1 / Math.sqrt(dot(a, a)));

export const placed = ({ rotation, shift }: Pose, p: Vector): Vector =>
  plus(shift, [dot(rotation[0], p), dot(rotation[1], p), dot(rotation[2], p)]);

/** Rows of the rotation by `angle` about a unit axis (O. Rodrigues). */
export function rotationAbout(axis: Vector, angle: number): Pose['rotation'] {
  const [c, s] = [Math.cos(angle), Math.sin(angle)];
  const row = (e: Vector): Vector =>
    // The row is what the turned body's coordinate along e is of p: e turned back.
    plus(plus(plus([0, 0, 0], e, c), cross(axis, e), -s), axis, (1 - c) * dot(axis, e));
  return [row([1, 0, 0]), row([0, 1, 0]), row([0, 0, 1])];
}

/** The pose after the body, as it stands, is moved by one more. */
export function after(pose: Pose, more: Pose): Pose {
  const columns = [0, 1, 2].map((k) =>
    placed(more, [pose.rotation[0][k]!, pose.rotation[1][k]!, pose.rotation[2][k]!]),
  );
  const turnedOnly = columns.map((column) => plus(column, more.shift, -1));
  const row = (i: 0 | 1 | 2): Vector => [turnedOnly[0]![i], turnedOnly[1]![i], turnedOnly[2]![i]];
  return { rotation: [row(0), row(1), row(2)], shift: placed(more, pose.shift) };
}

/** Of a pose that is nearly none: mm and rad. */
export const sixOf = ({ rotation: [a, b, c], shift }: Pose): readonly number[] => [
  ...shift,
  (c[1] - b[2]) / 2,
  (a[2] - c[0]) / 2,
  (b[0] - a[1]) / 2,
];

/** What a screw does, turned so far: the stage stands still. */
export function screwMotion({ kind, direction, through, perTurn }: Screw, turns: number): Pose {
  if (kind === 'moves')
    return { rotation: rotationAbout([1, 0, 0], 0), shift: plus([0, 0, 0], direction, perTurn * turns) };
  const rotation = rotationAbout(direction, perTurn * turns);
  const carried = placed({ rotation, shift: [0, 0, 0] }, through);
  return { rotation, shift: plus(through, carried, -1) };
}

/** Fringes, without noise. */
export function shown({ onPart, target, centre, side, lineAngle }: LinePatch, pose: Pose): number {
  const off = plus(placed(pose, onPart), onPart, -1);
  const angle = (lineAngle * Math.PI) / 180;
  const line: Vector = [Math.cos(angle), Math.sin(angle), 0];
  const chief = unit([target[0] - centre[0], target[1] - centre[1], target[2]]);
  const sense = unit(cross(line, chief));
  const inPlane = unit([sense[0], sense[1], 0]);
  const at = (way: number): Vector => [centre[0] + way * inPlane[0], centre[1] + way * inPlane[1], 0];
  const longer = (way: number): number => {
    const from = at(way);
    const toVertex = plus(target, from, -1);
    return 2 * dot(unit(plus(toVertex, line, -dot(toVertex, line))), off);
  };
  return (longer(-side / 2) - longer(side / 2)) / WAVELENGTH;
}

export const WAVELENGTH = 632.8e-6;
