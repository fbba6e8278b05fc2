/** The Fresnel number of a patch's round trip: along the line for a cube, over the narrower width for a ball; mm. */
import type { Design, DesignedPatch } from '../design/design.ts';
import { ballFresnelNumber, cubeFresnelNumber } from '../optics/fresnel-number.ts';
import { widthAlong } from './sensitivity.ts';

/** Undefined for a screen, which sends nothing back. */
export function fresnelNumberOf(design: Design, patch: DesignedPatch): number | undefined {
  const { wavelength } = design.light;
  const { kind, diameter } = patch.reference;
  if (kind === 'screen') return undefined;
  if (patch.lineDirection !== undefined) {
    return cubeFresnelNumber(widthAlong(patch, patch.lineDirection) / 2, wavelength, patch.distance);
  }
  const halfWidth = Math.min(widthAlong(patch, patch.senses[0]), widthAlong(patch, patch.senses[1])) / 2;
  if (kind === 'smr') return cubeFresnelNumber(halfWidth, wavelength, patch.distance);
  return ballFresnelNumber(halfWidth, wavelength, patch.distance, (diameter as number) / 2);
}
