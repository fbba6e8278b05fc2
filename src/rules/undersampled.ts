/**
 * Rule undersampled: enough camera pixels across a patch to see fringes in it, and less than half a fringe a pixel at the
 * design place. 20 pixels is common practice, no source beyond the trade; half a fringe is the sampling theorem's limit.
 */
import type { DesignedPatch } from '../design/design.ts';
import { narrowestWidth } from '../geometry/extent.ts';
import { MOST_FRINGES_PER_PIXEL, pixelPitch } from '../metrology/sensing/camera-pixels.ts';
import { trimmed } from '../quantity/format.ts';
import type { Found } from './rule.ts';
import { rule } from './rule.ts';

export const LEAST_PIXELS = 20;

export const undersampled = rule(
  {
    code: 'undersampled',
    severity: 'warning',
    scope: 'patch',
    meaning: 'Too few camera pixels across a patch, or more than half a fringe per pixel.',
    limit: '20 pixels across; 0.5 fringes per pixel',
    remedy: 'Make the patch larger, reduce the bias, or zoom the camera.',
    planning: {
      by: 'moving',
      rank: 5,
      ring: true,
      helps: 'a larger patch, or more camera pixels across the beam',
    },
  },
  (design) => {
    const findings: Found[] = [];
    design.patches.forEach((patch, i) => {
      const pitch = pixelPitch(design);
      const pixels = narrowestWidth(patch.outline) / pitch;
      const warn = (message: string, hint: string, value: number, limit: number, unit: string): void => {
        findings.push({
          where: patch.id,
          message,
          hint,
          value,
          limit,
          unit,
          path: ['patches', i, 'id'],
        });
      };
      if (pixels < LEAST_PIXELS) {
        warn(
          `patch ${patch.id} is ${trimmed(pixels, 1)} camera pixels across; common practice is at least ${LEAST_PIXELS}`,
          'make the patch larger, or set `pixelsAcrossBeam` for the zoomed camera',
          pixels,
          LEAST_PIXELS,
          'pixels',
        );
      }
      const fringes = biasFringesPerPixel(patch, pitch);
      if (fringes >= MOST_FRINGES_PER_PIXEL) {
        warn(
          `the bias of patch ${patch.id} gives ${trimmed(fringes, 3)} fringes per camera pixel; the camera resolves less than ${MOST_FRINGES_PER_PIXEL}`,
          'reduce the bias',
          fringes,
          MOST_FRINGES_PER_PIXEL,
          'fringes/pixel',
        );
      }
    });
    return findings;
  },
);

function biasFringesPerPixel(patch: DesignedPatch, pitch: number): number {
  const { bias } = patch;
  if (bias === undefined) return 0;
  const [x, y] = bias.direction;
  return (bias.fringes * Math.sqrt(x * x + y * y) * pitch) / bias.reach;
}
