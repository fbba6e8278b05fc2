/**
 * Outlines as curves of the drawing: whole circles as circles, everything else as closed loops of lines and true arcs.
 * mm, substrate frame; outer loops run counterclockwise.
 */
import makerjs from 'makerjs';
import { boundaryOf } from '../../geometry/boundary.ts';
import { boundsOf } from '../../geometry/extent.ts';
import type { Outline } from '../../geometry/outline.ts';
import { type Arc, type Loop, onCircle, type Piece, pointAlong } from '../../geometry/piece.ts';
import type { Vec2 } from '../../geometry/vector.ts';
import { type Box, type Curves, circleCurves, closedCurves } from './drawing.ts';

/** One per closed curve: two for a ring, its outer circle first, else one. */
export const outlineCurves = (outline: Outline): Curves[] => boundaryOf(outline).map(loopCurves);

/** The upright box around an outline. */
export const outlineBox = (outline: Outline): Box => {
  const { minX, minY, maxX, maxY } = boundsOf(outline);
  return { left: minX, bottom: minY, right: maxX, top: maxY };
};

function loopCurves(loop: Loop): Curves {
  const [first] = loop;
  return loop.length === 1 && first?.kind === 'arc'
    ? circleCurves(first.centre, first.radius)
    : closedCurves(loop.flatMap(inShortRuns).map(pathOf));
}

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
  const [low, high] = [Math.min(start, start + sweep), Math.max(start, start + sweep)];
  return new makerjs.paths.Arc(
    [...centre],
    radius,
    makerjs.angle.toDegrees(low),
    makerjs.angle.toDegrees(high),
  );
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
