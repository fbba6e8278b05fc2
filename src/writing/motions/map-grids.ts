/**
 * What each motion leaves, as pictures of the surface in the camera's view: levels of height on a square grid of pixels, for `motions.svg`.
 * nm for 1 µm or 1 µrad.
 */
import type { Design } from '../../design/design.ts';
import type { MainPattern } from '../../design/main-pattern.ts';
import { contains } from '../../geometry/contains.ts';
import type { Vec2 } from '../../geometry/vector.ts';
import { patternPlace } from '../../metrology/null/mapping.ts';
import { type MotionMap, type MotionMaps, TERMS_ORDER } from '../../metrology/null/motion-maps.ts';
import { aperturePoints } from '../../metrology/sensing/aperture-points.ts';
import { hologramHeights, partHeights } from '../../metrology/sensing/motion-heights.ts';
import { zernikePolynomials } from '../../optics/zernike.ts';
import { NM_PER_MM, UM_PER_MM, URAD_PER_RAD } from '../../quantity/conversion.ts';
import { apertureEdges, type SurfaceGrid } from '../mapping/surface-grid.ts';

/** Pixels along a side of a picture. */
export const ACROSS = 80;
/** Of the view, around the aperture. */
const ROOM = 0.03;

/** A square of the camera's frame: its corner and side, px. */
export interface View {
  readonly corner: Vec2;
  readonly side: number;
}

export interface MapGrid {
  readonly map: MotionMap;
  /** Row by row; NaN where no light shows the surface. They run on past the aperture's edge. */
  readonly raw: Float64Array;
  readonly left: Float64Array;
  /** The largest magnitudes within the aperture. */
  readonly most: { readonly raw: number; readonly left: number };
  /** Rms over the aperture: `raw` less piston, and what is left. */
  readonly rms: { readonly raw: number; readonly left: number };
}

interface MapGrids {
  readonly view: View;
  readonly edges: SurfaceGrid['edges'];
  /** Of the part, then of the hologram, each x, y, z, rx, ry, rz. */
  readonly grids: readonly MapGrid[];
}

export function mapGrids(design: Design, main: MainPattern, maps: MotionMaps): MapGrids {
  const edges = apertureEdges(design, main);
  const view = viewOf(edges);
  const { centre, radius } = aperturePoints(main.test.aperture);
  const all = [...maps.maps, ...maps.hologram];
  const grids = all.map((map) => {
    return { map, raw: empty(), left: empty(), most: { raw: 0, left: 0 }, rms: rmsOf(map) };
  });
  for (let at = 0; at < ACROSS * ACROSS; at++) {
    const [u, v] = [((at % ACROSS) + 0.5) / ACROSS, (Math.floor(at / ACROSS) + 0.5) / ACROSS];
    const seen: Vec2 = [view.corner[0] + u * view.side, view.corner[1] + v * view.side];
    const on = main.wave.coordinatesAt(...patternPlace(design, seen));
    const footing = on && main.normals.from(...on);
    if (on === undefined || footing === undefined) continue;
    const heights = [...partHeights(design, footing), ...hologramHeights(design, footing)];
    const terms = zernikePolynomials((on[0] - centre[0]) / radius, (on[1] - centre[1]) / radius, TERMS_ORDER);
    const isInside = contains(main.test.aperture, on);
    grids.forEach(({ map, raw, left, most }, k) => {
      const taken = map.taken.reduce((sum, term, j) => sum + term * terms[j]!, 0);
      const scale = nmFor(map);
      raw[at] = scale * (heights[k]! - map.mean);
      left[at] = scale * (heights[k]! - taken);
      if (!isInside) return;
      most.raw = Math.max(most.raw, Math.abs(raw[at]!));
      most.left = Math.max(most.left, Math.abs(left[at]!));
    });
  }
  return { view, edges, grids };
}

const empty = (): Float64Array => new Float64Array(ACROSS * ACROSS).fill(Number.NaN);

function rmsOf(map: MotionMap): MapGrid['rms'] {
  const scale = nmFor(map);
  return {
    raw: scale * Math.sqrt(Math.max(0, map.raw * map.raw - map.mean * map.mean)),
    left: scale * map.left,
  };
}

export const isTurn = ({ degree }: MotionMap): boolean => degree.startsWith('r');

/** From mm for 1 mm or 1 rad. */
const nmFor = (map: MotionMap): number => NM_PER_MM / (isTurn(map) ? URAD_PER_RAD : UM_PER_MM);

/** A square about the aperture. */
function viewOf(edges: SurfaceGrid['edges']): View {
  const [columns, rows] = [0, 1].map((axis) => edges.flat().map((place) => place[axis]!)) as [
    number[],
    number[],
  ];
  const [left, right, top, bottom] = [
    Math.min(...columns),
    Math.max(...columns),
    Math.min(...rows),
    Math.max(...rows),
  ];
  const side = Math.max(right - left, bottom - top) * (1 + 2 * ROOM);
  return { corner: [(left + right - side) / 2, (top + bottom - side) / 2], side };
}
