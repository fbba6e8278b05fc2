/** An outline as reports carry it: diameters, as a scenario has them, mm and degrees. */
import type { Outline } from '../../geometry/outline.ts';
import { DEG_PER_RAD } from '../../quantity/conversion.ts';

export type ReportedOutline = ReturnType<typeof reportedOutline>;

export function reportedOutline(outline: Outline) {
  switch (outline.shape) {
    case 'circle':
      return { shape: outline.shape, centre_mm: outline.centre, diameter_mm: 2 * outline.radius };
    case 'ellipse':
    case 'rectangle':
      return {
        shape: outline.shape,
        centre_mm: outline.centre,
        width_mm: outline.width,
        height_mm: outline.height,
        rotation_deg: outline.rotation * DEG_PER_RAD,
      };
    case 'ring':
      return {
        shape: outline.shape,
        centre_mm: outline.centre,
        innerDiameter_mm: 2 * outline.inner,
        outerDiameter_mm: 2 * outline.outer,
      };
    case 'sector':
      return {
        shape: outline.shape,
        centre_mm: outline.centre,
        innerDiameter_mm: 2 * outline.inner,
        outerDiameter_mm: 2 * outline.outer,
        from_deg: outline.from * DEG_PER_RAD,
        to_deg: outline.to * DEG_PER_RAD,
      };
    case 'polygon':
      return { shape: outline.shape, points_mm: outline.points };
  }
}
