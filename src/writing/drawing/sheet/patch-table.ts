/**
 * The table of patches on the drawing: one row a patch, numbered as on the drawing. Centres are ordinates from the axes
 * of the substrate frame. mm, degrees, µm as the heads say.
 */
import type { DesignedPattern } from '../../../design/design.ts';
import { boundsOf } from '../../../geometry/extent.ts';
import type { EllipseOutline, Outline, RectangleOutline } from '../../../geometry/outline.ts';
import type { Vec2 } from '../../../geometry/vector.ts';
import { kindOf } from '../../../kinds/kinds.ts';
import { fixed, trimmed } from '../../../quantity/format.ts';
import { drawable } from '../lettering.ts';
import type { Column } from './ruled-table.ts';

export const PATCH_COLUMNS: readonly Column[] = [
  { head: ['NO.'], align: 'right', widest: 6 },
  { head: ['PATCH'], align: 'left', widest: 16 },
  { head: ['REFERENCE'], align: 'left', widest: 16 },
  { head: ['KIND'], align: 'left', widest: 12 },
  { head: ['FOCUS', 'deg'], align: 'left', widest: 14 },
  { head: ['CENTRE', 'x, mm'], align: 'right', widest: 16 },
  { head: ['CENTRE', 'y, mm'], align: 'right', widest: 16 },
  { head: ['OUTLINE', 'mm'], align: 'left', widest: 17 },
  { head: ['DISTANCE', 'mm'], align: 'right', widest: 14 },
  { head: ['ORDER'], align: 'right', widest: 8 },
  { head: ['FRINGES', 'AT NULL'], align: 'left', widest: 12 },
  { head: ['PERIOD', 'min, µm'], align: 'right', widest: 10 },
];

/**
 * A drawing with more patches than this has no table: it would take metres of sheet, more than a PDF's page can be. The places
 * stand in coefficients.html then.
 */
export const MOST_ROWS = 1000;

/** A nanometre is the last digit of a place, two microradians of a direction: below any pattern's placement. */
const PLACE_DIGITS = 6;
const ANGLE_DIGITS = 4;

export function patternRow(patch: DesignedPattern, number: string, leastPeriod: number): string[] {
  const { centre, bias } = patch;
  return [
    number,
    drawable(patch.id, 64),
    ...aimWords(patch),
    trimmed(centre[0], PLACE_DIGITS),
    trimmed(centre[1], PLACE_DIGITS),
    placedOutlineText(patch.outline, centre),
    'reference' in patch && Number.isFinite(patch.distance) ? fixed(patch.distance, 3) : '–',
    patch.order > 0 ? `+${patch.order}` : String(patch.order),
    bias === undefined ? '–' : `${bias.shape} ${trimmed(bias.fringes, 3)}`,
    Number.isFinite(leastPeriod) ? fixed(micrometresOf(leastPeriod), 3) : '–',
  ];
}

/** Reference, kind and focus; of the main pattern the surface under test, which its light meets square on. */
function aimWords(pattern: DesignedPattern): readonly string[] {
  if (!('reference' in pattern)) return [drawable(pattern.test.surface, 64), 'main', 'null'];
  const { asked, reference } = pattern;
  return [
    drawable(reference.id, 64),
    kindOf(reference).words.short,
    asked.lineAngle === undefined ? asked.focus : `${asked.focus} ${degrees(asked.lineAngle)}`,
  ];
}

/** So many corners of a polygon are listed; of more, the DXF has them. */
const MOST_CORNERS = 16;

/** An outline's size in words, mm and degrees; where it stands is said elsewhere. */
function outlineText(outline: Outline): string {
  switch (outline.shape) {
    case 'circle':
      return `Ø${size(2 * outline.radius)}`;
    case 'ellipse':
      return `ellipse ${sides(outline)}`;
    case 'rectangle':
      return sides(outline);
    case 'ring':
      return `ring Ø${size(2 * outline.inner)} to Ø${size(2 * outline.outer)}`;
    case 'sector':
      return `sector R${size(outline.inner)} to R${size(outline.outer)}, ${degrees(outline.from)}° to ${degrees(outline.to)}°`;
    case 'polygon': {
      if (outline.points.length <= MOST_CORNERS)
        return `polygon ${outline.points.map(([x, y]) => `(${size(x)},${size(y)})`).join(' ')}`;
      const { minX, minY, maxX, maxY } = boundsOf(outline);
      return `polygon, ${outline.points.length} corners (in layout.dxf), ${size(maxX - minX)} × ${size(maxY - minY)} overall`;
    }
  }
}

function sides({ width, height, rotation }: EllipseOutline | RectangleOutline): string {
  const turned = rotation === 0 ? '' : ` at ${degrees(rotation)}°`;
  return `${size(width)} × ${size(height)}${turned}`;
}

/** With its centre, unless that is where it is said to be already; a polygon stands where its corners are. */
export function placedOutlineText(outline: Outline, said: Vec2 = [0, 0]): string {
  if (outline.shape === 'polygon') return outlineText(outline);
  const [x, y] = outline.centre;
  return x === said[0] && y === said[1]
    ? outlineText(outline)
    : `${outlineText(outline)} about (${size(x)}, ${size(y)})`;
}

const size = (value: number): string => trimmed(value, PLACE_DIGITS);
const degrees = (angle: number): string => trimmed((angle * 180) / Math.PI, ANGLE_DIGITS);
export const micrometresOf = (millimetres: number): number => millimetres * 1000;
