/**
 * Fresnel number of the round trip from a patch to its reference and back: how many Fresnel zones the patch holds.
 * About 1 and below, the blurred edges reach across the whole patch. All lengths in mm.
 * Source: a²/(λL) (Goodman, Introduction to Fourier Optics, §4.2) with the length L over which the returning wave changes as a
 * plane one: 2s by a cube, along its line; 2s(s − R)/R by a ball (diffraction-return.ts).
 */

/** Of a line focus on a corner cube; `halfWidth` is half the patch's length along the line. */
export const fresnelNumberAtCube = (halfWidth: number, distance: number, wavelength: number): number =>
  halfWidth ** 2 / (2 * wavelength * distance);

/** Of a point focus in a ball of `radius`, whose centre is `distance` off. */
export const fresnelNumberAtBall = (
  halfWidth: number,
  distance: number,
  wavelength: number,
  radius: number,
): number => (halfWidth ** 2 * radius) / (2 * wavelength * distance * (distance - radius));
