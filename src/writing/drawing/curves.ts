/**
 * The curves of a drawing as its writers need them: each line, circle and closed loop. Ends of arcs are computed here, for those of
 * makerjs are rounded to 1e-7 mm, and its chains join ends that are 5 µm apart. mm, substrate frame.
 */
import makerjs from 'makerjs';
import { onCircle } from '../../geometry/piece.ts';
import type { Vec2 } from '../../geometry/vector.ts';
import type { Curves } from './drawing.ts';

/** A corner of a closed loop and the run from it to the next: bulge = tan(sweep/4), 0 and no radius where straight. */
export interface Vertex {
  readonly point: Vec2;
  readonly bulge: number;
  readonly radius: number | undefined;
}

/** What is written for each kind of curve. */
interface CurveWriter<Written> {
  line(from: Vec2, to: Vec2): Written;
  circle(centre: Vec2, radius: number): Written;
  loop(vertices: readonly Vertex[]): Written;
}

export function writeCurves<Written>(curves: Curves, writer: CurveWriter<Written>): Written[] {
  if (curves.closed) return [writer.loop(verticesOf(curves))];
  return Object.values(curves.paths).map((path) => {
    if (isLine(path)) return writer.line(pointOf(path.origin), pointOf(path.end));
    if (isCircle(path)) return writer.circle(pointOf(path.origin), path.radius);
    throw new TypeError(
      `a drawing holds lines and circles outside its loops, got a path of type ${path.type}`,
    );
  });
}

function verticesOf({ paths }: Curves): Vertex[] {
  const runs = Object.values(paths);
  return runs.map((path, k) => {
    const [from, to] = endsOf(path);
    if (!isArc(path)) return { point: from, bulge: 0, radius: undefined };
    // an arc of makerjs runs counterclockwise; in a loop it may be passed the other way
    const next = endsOf(runs[(k + 1) % runs.length]!);
    const forward = apart(to, next) < apart(from, next);
    const bulge = Math.tan(radians(path.endAngle - path.startAngle) / 4);
    return { point: forward ? from : to, bulge: forward ? bulge : -bulge, radius: path.radius };
  });
}

function endsOf(path: MakerJs.IPath): readonly [Vec2, Vec2] {
  if (isLine(path)) return [pointOf(path.origin), pointOf(path.end)];
  if (!isArc(path)) throw new TypeError(`a loop holds lines and arcs, got a path of type ${path.type}`);
  const at = (angle: number): Vec2 => onCircle(pointOf(path.origin), path.radius, radians(angle));
  return [at(path.startAngle), at(path.endAngle)];
}

const apart = ([x, y]: Vec2, ends: readonly Vec2[]): number =>
  Math.min(...ends.map(([u, v]) => Math.hypot(u - x, v - y)));

const radians = (degrees: number): number => (degrees * Math.PI) / 180;
const isArc = (path: MakerJs.IPath): path is MakerJs.IPathArc => path.type === makerjs.pathType.Arc;
const isLine = (path: MakerJs.IPath): path is MakerJs.IPathLine => path.type === makerjs.pathType.Line;
const isCircle = (path: MakerJs.IPath): path is MakerJs.IPathCircle => path.type === makerjs.pathType.Circle;
const pointOf = (point: MakerJs.IPoint): Vec2 => [point[0]!, point[1]!];
