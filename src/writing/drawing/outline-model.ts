/**
 * Outlines as curves of the drawing: whole circles as circles, everything else as closed loops of lines and true arcs; and the curves
 * of a drawing as its writers need them. Ends of arcs are computed here, for those of makerjs are rounded to 1e-7 mm, and its chains join
 * ends that are 5 µm apart. mm, substrate frame; outer loops run counterclockwise.
 */
import makerjs from 'makerjs';
import { boundaryOf } from '../../geometry/boundary.ts';
import { boundsOf } from '../../geometry/extent.ts';
import type { CircleOutline, Outline, RingOutline } from '../../geometry/outline.ts';
import { type Arc, type Loop, onCircle, type Piece, pointAlong } from '../../geometry/piece.ts';
import type { Vec2 } from '../../geometry/vector.ts';
import { type Box, type Curves, circleCurves, closedCurves } from './drawing.ts';

/** One per closed curve: two for a ring, its outer circle first, else one. */
export const outlineCurves = (outline: Outline): Curves[] => boundaryOf(outline).map(loopCurves);

/** The area within an outline, its edge in lines and arcs, a ring's inner circle as its hole. */
export function outlineArea(outline: Outline): Curves {
  const [outer, ...holes] = boundaryOf(outline).map(closedLoop);
  return { ...outer!, ...(holes.length > 0 ? { holes } : {}) };
}

/** The upright box around an outline. */
export const outlineBox = (outline: Outline): Box => {
  const { minX, minY, maxX, maxY } = boundsOf(outline);
  return { left: minX, bottom: minY, right: maxX, top: maxY };
};

/** Whose edge is round, about the centre. */
export const isRound = (outline: Outline): outline is CircleOutline | RingOutline =>
  outline.shape === 'circle' || outline.shape === 'ring';

function loopCurves(loop: Loop): Curves {
  const [first] = loop;
  return loop.length === 1 && first?.kind === 'arc'
    ? circleCurves(first.centre, first.radius)
    : closedLoop(loop);
}

const closedLoop = (loop: Loop): Curves => closedCurves(loop.flatMap(inShortRuns).map(pathOf));

/**
 * SVG gives an arc by its ends and radius, which fixes its centre badly near half a turn (a rounding of 1e-9 mm moves it
 * by some 1e-4 mm) and near a whole one; up to a third of a turn the ends fix it to their own rounding.
 */
const LONGEST_SWEEP = (2 * Math.PI) / 3;

function inShortRuns(piece: Piece): Piece[] {
  if (piece.kind === 'segment' || Math.abs(piece.sweep) <= LONGEST_SWEEP) return [piece];
  const runs = Math.ceil(Math.abs(piece.sweep) / LONGEST_SWEEP);
  const sweep = piece.sweep / runs;
  return Array.from({ length: runs }, (_, k) => ({ ...piece, start: piece.start + k * sweep, sweep }));
}

function pathOf(piece: Piece): MakerJs.IPath {
  if (piece.kind === 'segment') return new makerjs.paths.Line([...piece.from], [...piece.to]);
  const { centre, radius, start, sweep } = piece;
  const clockwise = sweep < 0;
  const [low, high] = clockwise ? [start + sweep, start] : [start, start + sweep];
  const { toDegrees } = makerjs.angle;
  const arc = new makerjs.paths.Arc([...centre], radius, toDegrees(low), toDegrees(high));
  return Object.assign(arc, { clockwise }) satisfies LoopArc;
}

/** Tangents across an arc of a whole turn when a curve is made a polygon to keep captions clear of it. */
const TANGENTS_PER_TURN = 72;

/**
 * The edges as polygons, the outer one first, arcs replaced by tangents from outside: for keeping captions clear and for
 * clipping focus lines only, never for the geometry that is written.
 */
export const roughPolygons = (outline: Outline): Vec2[][] =>
  boundaryOf(outline).map((loop) =>
    loop.flatMap((piece) => (piece.kind === 'segment' ? [piece.from] : tangentCorners(piece))),
  );

function tangentCorners(arc: Arc): Vec2[] {
  const count = Math.max(1, Math.ceil((Math.abs(arc.sweep) * TANGENTS_PER_TURN) / (2 * Math.PI)));
  const step = arc.sweep / count;
  const reach = arc.radius / Math.cos(step / 2);
  const corners = Array.from({ length: count }, (_, k) =>
    onCircle(arc.centre, reach, arc.start + (k + 0.5) * step),
  );
  return [pointAlong(arc, 0), ...corners];
}

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

/** The loops of a filled area, the outer one first. */
export const areaLoops = (area: Curves): Vertex[][] => [area, ...(area.holes ?? [])].map(verticesOf);

const verticesOf = ({ paths }: Curves): Vertex[] =>
  Object.values(paths).map((path) => {
    if (isLine(path)) return { point: pointOf(path.origin), bulge: 0, radius: undefined };
    if (!isArc(path)) throw new TypeError(`a loop holds lines and arcs, got a path of type ${path.type}`);
    const { origin, radius, startAngle, endAngle, clockwise } = path;
    const bulge = Math.tan(radians(endAngle - startAngle) / 4);
    return {
      point: onCircle(pointOf(origin), radius, radians(clockwise ? endAngle : startAngle)),
      bulge: clockwise ? -bulge : bulge,
      radius,
    };
  });

/** An arc of makerjs runs counterclockwise; in a loop it may be passed the other way. */
interface LoopArc extends MakerJs.IPathArc {
  readonly clockwise: boolean;
}

const radians = (degrees: number): number => (degrees * Math.PI) / 180;
const isArc = (path: MakerJs.IPath): path is LoopArc => path.type === makerjs.pathType.Arc;
const isLine = (path: MakerJs.IPath): path is MakerJs.IPathLine => path.type === makerjs.pathType.Line;
const isCircle = (path: MakerJs.IPath): path is MakerJs.IPathCircle => path.type === makerjs.pathType.Circle;
const pointOf = (point: MakerJs.IPoint): Vec2 => [point[0]!, point[1]!];
