/**
 * Fresnel number of the round trip from a patch to its reference and back, and the size of a focus. All lengths in mm.
 * About 1 and below, the blurred edges reach across the whole patch.
 * Source: a²/(λB), B the ray matrix's element from the patch there and back: 2s by a cube, along its line and across it (where the
 * pattern's cylinder crossed twice turns its sign); 2s(s − R)/R by a ball (A. E. Siegman, *Lasers*, ch. 20). Foci: J. W. Goodman, *Introduction to Fourier Optics*, §4.4.
 */

/** Of a point focus in a ball of `radius` whose centre is `distance` off, farther or nearer than that; `halfWidth` is half the patch's width. */
export const ballFresnelNumber = (
  halfWidth: number,
  wavelength: number,
  distance: number,
  radius: number,
): number => (halfWidth ** 2 * radius) / (2 * wavelength * distance * Math.abs(distance - radius));

/** Of a line focus on a corner cube; `halfWidth` is half the patch's length along the line, or half its width across. */
export const cubeFresnelNumber = (halfWidth: number, wavelength: number, distance: number): number =>
  halfWidth ** 2 / (2 * wavelength * distance);

/** The patch's width that has the Fresnel number `least`, as above. */
export const ballLeastWidth = (least: number, wavelength: number, distance: number, radius: number): number =>
  2 * Math.sqrt((least * 2 * wavelength * distance * Math.max(0, distance - radius)) / radius);
export const cubeLeastWidth = (least: number, wavelength: number, distance: number): number =>
  2 * Math.sqrt(least * 2 * wavelength * distance);

/**
 * Of light that meets a mirror at normal incidence after `length`: the mirror is concentric with the wave, and the element that of a
 * ball, B = 2L(L + R)/R, with the mirror's radius of curvature R positive where it is convex and Infinity where it is straight.
 */
export function mirrorFresnelNumber(
  halfWidth: number,
  wavelength: number,
  length: number,
  radius: number,
): number {
  const element = 2 * length * (1 + length / radius);
  return halfWidth ** 2 / (wavelength * Math.abs(element));
}

/** First zero of the Airy pattern's amplitude J₁(πx)/x, in units of λ·distance/width. */
const AIRY_ZERO = 1.2196698912665045;

/** Diameter of the dark ring around the focus of a round patch `width` across. */
export const airyDiameter = (width: number, wavelength: number, distance: number): number =>
  (2 * AIRY_ZERO * wavelength * distance) / width;

/** Width of a line focus from zero to zero; `width` is that of the patch across the line. */
export const lineFocusWidth = (width: number, wavelength: number, distance: number): number =>
  (2 * wavelength * distance) / width;
