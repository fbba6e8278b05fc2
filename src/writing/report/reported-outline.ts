/** An outline as reports carry it: diameters, as a scenario has them, mm and degrees. */
import type { Outline } from '../../geometry/outline.ts';
import type { Vec2 } from '../../geometry/vector.ts';
import { DEG_PER_RAD } from '../../quantity/conversion.ts';

export type ReportedOutline =
  | { readonly shape: 'circle'; readonly centre_mm: Vec2; readonly diameter_mm: number }
  | {
      readonly shape: 'rectangle';
      readonly centre_mm: Vec2;
      readonly width_mm: number;
      readonly height_mm: number;
      readonly rotation_deg: number;
    }
  | {
      readonly shape: 'ring';
      readonly centre_mm: Vec2;
      readonly innerDiameter_mm: number;
      readonly outerDiameter_mm: number;
    }
  | {
      readonly shape: 'sector';
      readonly centre_mm: Vec2;
      readonly innerDiameter_mm: number;
      readonly outerDiameter_mm: number;
      readonly from_deg: number;
      readonly to_deg: number;
    }
  | { readonly shape: 'polygon'; readonly points_mm: readonly Vec2[] };

export function reportedOutline(outline: Outline): ReportedOutline {
  switch (outline.shape) {
    case 'circle':
      return { shape: 'circle', centre_mm: outline.centre, diameter_mm: 2 * outline.radius };
    case 'rectangle':
      return {
        shape: 'rectangle',
        centre_mm: outline.centre,
        width_mm: outline.width,
        height_mm: outline.height,
        rotation_deg: outline.rotation * DEG_PER_RAD,
      };
    case 'ring':
      return {
        shape: 'ring',
        centre_mm: outline.centre,
        innerDiameter_mm: 2 * outline.inner,
        outerDiameter_mm: 2 * outline.outer,
      };
    case 'sector':
      return {
        shape: 'sector',
        centre_mm: outline.centre,
        innerDiameter_mm: 2 * outline.inner,
        outerDiameter_mm: 2 * outline.outer,
        from_deg: outline.from * DEG_PER_RAD,
        to_deg: outline.to * DEG_PER_RAD,
      };
    case 'polygon':
      return { shape: 'polygon', points_mm: outline.points };
  }
}
