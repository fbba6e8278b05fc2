/** What of the pattern lights up in a frame: the outlines, and points on both sides of their edges. mm, substrate frame. */
import type { Design } from '../../design/design.ts';
import { boundaryOf } from '../../geometry/boundary.ts';
import { narrowestWidth } from '../../geometry/extent.ts';
import type { Outline } from '../../geometry/outline.ts';
import { outlineFinder } from '../../geometry/outline-index.ts';
import { lengthOf, type Piece, pointAlong } from '../../geometry/piece.ts';
import { distance2, type Vec2 } from '../../geometry/vector.ts';
import { isReadBy } from '../../kinds/kinds.ts';
import { apertureWindow } from '../camera/fringe-picture-window.ts';
import type { Aperture } from './place-model.ts';

export interface LitOutline {
  readonly outline: Outline;
  /** Narrowest, mm. */
  readonly width: number;
  /** All around, no two nearer than a spacing; only those with nothing else lit in front of them. */
  readonly edge: readonly EdgePoint[];
  /** Those with nothing lit for twice as far: what a search needs that does not know the place yet. All where they are too few. */
  readonly open: readonly EdgePoint[];
}

/** A point of an edge, and the direction out of the region, a unit vector. */
export interface EdgePoint {
  readonly at: Vec2;
  readonly outward: Vec2;
}

/** The circle that the camera sees: the beam's, or the substrate's extent where the scenario bounds the beam nowhere. */
export const apertureOf = (design: Design): Aperture => ({
  centre: apertureWindow(design, 1).centre,
  radius: design.beam.cameraDiameter / 2,
});

/** Points of an edge, at most. */
const MOST_POINTS = 96;
/** Edge points this near to a sharp corner are left out, as a part of the outline's width. */
const BY_CORNER = 0.12;
/** An edge turns by more than this at a corner, radians. */
const SHARP = 0.35;
/** Nothing else is lit this far in front of an edge point, as a part of the beam's radius: a few pixels. */
const CLEAR = 0.012;

/** The main pattern's footprint and every patch but a screen's, as far as the beam reaches. */
function litOutlines(design: Design): readonly LitOutline[] {
  const { main, patches } = design;
  const outlines = [
    ...(main === undefined ? [] : [main.footprint]),
    ...patches.filter(({ reference }) => !isReadBy(reference, 'mark')).map(({ outline }) => outline),
  ];
  const find = outlineFinder(outlines);
  const { centre, radius } = apertureOf(design);
  const isClear = ({ at, outward }: EdgePoint, shares: readonly number[]): boolean =>
    shares.every((share) => {
      const ahead: Vec2 = [at[0] + share * radius * outward[0], at[1] + share * radius * outward[1]];
      return distance2(ahead, centre) < radius && find(ahead) === undefined;
    });
  return outlines.map((outline) => {
    const width = narrowestWidth(outline);
    const edge = edgePoints(outline, BY_CORNER * width).filter((point) => isClear(point, CLEARANCES));
    const open = edge.filter((point) => isClear(point, WIDER));
    return { outline, width, edge, open: open.length < LEAST_OPEN ? edge : open };
  });
}

const CLEARANCES = [CLEAR / 3, CLEAR, 2 * CLEAR];
const WIDER = [3 * CLEAR, 4 * CLEAR];
const LEAST_OPEN = 24;

/** Evenly spaced, without those near a sharp corner. */
function edgePoints(outline: Outline, byCorner: number): readonly EdgePoint[] {
  const loops = boundaryOf(outline);
  const whole = loops.flat().reduce((sum, piece) => sum + lengthOf(piece), 0);
  const points: EdgePoint[] = [];
  for (const loop of loops) {
    const corners = loop
      .filter((piece, k) => turnBetween(loop.at(k - 1)!, piece) > SHARP)
      .map((piece) => pointAlong(piece, 0));
    const spacing = whole / MOST_POINTS;
    let ahead = spacing / 2;
    for (const piece of loop) {
      const length = lengthOf(piece);
      for (; ahead < length; ahead += spacing) {
        const at = pointAlong(piece, ahead / length);
        if (corners.every((corner) => distance2(corner, at) >= byCorner))
          points.push({ at, outward: outwardAt(piece, ahead / length) });
      }
      ahead -= length;
    }
  }
  return points;
}

/** The region is on the left of each piece. */
function outwardAt(piece: Piece, part: number): Vec2 {
  if (piece.kind === 'segment') {
    const length = lengthOf(piece);
    return [(piece.to[1] - piece.from[1]) / length, (piece.from[0] - piece.to[0]) / length];
  }
  const angle = piece.start + part * piece.sweep;
  const side = Math.sign(piece.sweep);
  return [side * Math.cos(angle), side * Math.sin(angle)];
}

function turnBetween(before: Piece, after: Piece): number {
  const [a, b] = [outwardAt(before, 1), outwardAt(after, 0)];
  return Math.acos(Math.min(1, Math.max(-1, a[0] * b[0] + a[1] * b[1])));
}

/** Once a design: outlines never change. */
export const litOutlinesOf = kept(litOutlines);

function kept(make: (design: Design) => readonly LitOutline[]): (design: Design) => readonly LitOutline[] {
  const known = new WeakMap<Design, readonly LitOutline[]>();
  return (design) => {
    const found = known.get(design) ?? make(design);
    known.set(design, found);
    return found;
  };
}
