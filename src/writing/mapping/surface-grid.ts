/** Lines of the surface's own x and y within its aperture, as the camera sees them: runs of places in pixels. */
import type { Design } from '../../design/design.ts';
import type { MainPattern } from '../../design/main-pattern.ts';
import { boundaryOf } from '../../geometry/boundary.ts';
import { contains } from '../../geometry/contains.ts';
import { boundsOf } from '../../geometry/extent.ts';
import { lengthOf, pointAlong } from '../../geometry/piece.ts';
import type { Vec2 } from '../../geometry/vector.ts';
import { cameraPlace, roundStep } from '../../metrology/null/mapping.ts';

export interface GridLine {
  readonly along: 'x' | 'y';
  /** Of the other coordinate, mm. */
  readonly value: number;
  /** Column and row, px, toward the larger coordinate. */
  readonly places: readonly Vec2[];
}

export interface SurfaceGrid {
  /** mm, between lines. */
  readonly step: number;
  readonly lines: readonly GridLine[];
  /** The aperture's loops, closed. */
  readonly edges: readonly (readonly Vec2[])[];
}

/** Lines across the wider side of the aperture: at least this many, fewer than three times as many. */
const LEAST_LINES = 6;
const ALONG_LINE = 160;
const ALONG_EDGE = 240;
const HALVINGS = 40;
/** Of the aperture's wider side: a run shorter than this is a corner of a line. */
const SHORT = 0.08;

export function surfaceGrid(design: Design, main: MainPattern): SurfaceGrid {
  const { aperture } = main.test;
  const bounds = boundsOf(aperture);
  const size = Math.max(bounds.maxX - bounds.minX, bounds.maxY - bounds.minY);
  const step = roundStep(size / LEAST_LINES);
  const seen = ([x, y]: Vec2): Vec2 => cameraPlace(design, main.normals.from(x, y)!.at);
  const lines = (['x', 'y'] as const).flatMap((along): readonly GridLine[] => {
    const [from, to, low, high] =
      along === 'x'
        ? [bounds.minX, bounds.maxX, bounds.minY, bounds.maxY]
        : [bounds.minY, bounds.maxY, bounds.minX, bounds.maxX];
    const first = Math.ceil(low / step);
    return Array.from({ length: Math.max(0, Math.floor(high / step) - first + 1) }, (_, k) => {
      const value = (first + k) * step;
      const at = (t: number): Vec2 => (along === 'x' ? [t, value] : [value, t]);
      return runsWithin((t) => contains(aperture, at(t)), from, to)
        .filter(([start, end]) => end - start > SHORT * size)
        .map(([start, end]) => ({ along, value, places: places(start, end, (t) => seen(at(t))) }));
    }).flat();
  });
  return { step, lines, edges: apertureEdges(design, main) };
}

/** The aperture's loops, closed, as the camera sees them: column and row, px. */
export function apertureEdges(design: Design, main: MainPattern): SurfaceGrid['edges'] {
  const { aperture } = main.test;
  const { minX, maxX, minY, maxY } = boundsOf(aperture);
  const size = Math.max(maxX - minX, maxY - minY);
  return boundaryOf(aperture).map((loop) =>
    loop.flatMap((piece) => {
      const count = Math.max(2, Math.ceil((ALONG_EDGE * lengthOf(piece)) / (Math.PI * size)));
      return Array.from({ length: count }, (_, k) => {
        const [x, y] = pointAlong(piece, k / count);
        return cameraPlace(design, main.normals.from(x, y)!.at);
      });
    }),
  );
}

const places = (start: number, end: number, at: (t: number) => Vec2): readonly Vec2[] => {
  const count = ALONG_LINE / 2;
  return Array.from({ length: count + 1 }, (_, k) => at(start + ((end - start) * k) / count));
};

/** Stretches of [from, to] on which `isWithin`, their ends found by halving. */
function runsWithin(
  isWithin: (t: number) => boolean,
  from: number,
  to: number,
): readonly (readonly [number, number])[] {
  const runs: (readonly [number, number])[] = [];
  const edgeBetween = (within: number, without: number): number => {
    let [inside, outside] = [within, without];
    for (let k = 0; k < HALVINGS; k++) {
      const middle = (inside + outside) / 2;
      if (isWithin(middle)) inside = middle;
      else outside = middle;
    }
    return inside;
  };
  let start: number | undefined;
  let before = from;
  for (let k = 0; k <= ALONG_LINE; k++) {
    const t = from + ((to - from) * k) / ALONG_LINE;
    const within = isWithin(t);
    if (within && start === undefined) start = k === 0 ? t : edgeBetween(t, before);
    if (!within && start !== undefined) {
      runs.push([start, edgeBetween(before, t)]);
      start = undefined;
    }
    before = t;
  }
  if (start !== undefined) runs.push([start, to]);
  return runs;
}
