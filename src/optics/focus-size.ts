/**
 * How large a focus is by diffraction, in air, mm: s the distance from the patch, D the patch's width square to the light.
 * M. Born, E. Wolf, *Principles of Optics*, sec. 8.5: a slit's pattern is zero at whole λs/D, a circle's at 1.22 λs/D.
 */

/** Width of a line focus from zero to zero, 2λs/D. */
export const lineFocusWidth = (width: number, distance: number, wavelength: number): number =>
  (2 * wavelength * distance) / width;

/** First zero of the Airy pattern in λs/D: the first zero of the Bessel function J₁ over π. */
export const AIRY_ZERO = 1.2196698912665045;

/** Diameter of a point focus to the first dark ring, 2.44λs/D. */
export const airyDiameter = (width: number, distance: number, wavelength: number): number =>
  (2 * AIRY_ZERO * wavelength * distance) / width;
