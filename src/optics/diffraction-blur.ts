/**
 * What diffraction does to the fringes of a patch: how far the wave that the camera gets is from the geometric picture.
 *
 * mm, waves; computed by tests/optics/support/blur.ts. By Fresnel number of the round trip (fresnel-number.ts), for a square patch
 * of one fringe of roof on a cube, blurred along its line and across it alike, and for a round patch on a ball moved by one fringe of tilt:
 *
 *   Fresnel number                      0.25    0.5   0.75      1      2      5     20
 *   cube, roof: phase error, fringes   0.135  0.140  0.092  0.074  0.049  0.032  0.020
 *   cube, roof: share of area lost      1.00   0.82   0.43   0.43   0.19   0.02   0.00
 *   ball, tilt: misread, fringes       0.449  0.134  0.077  0.062  0.020  0.003  0.001
 *   ball, tilt: share of area lost      0.61   0.43   0.17   0.21   0.12   0.03   0.00
 *
 * A tenth of a fringe is what is read; where the error of the picture itself reaches that, or a quarter of the patch is lost,
 * the reading means little.
 */
/**
 * Of the Fresnel numbers in the table: for a cube the first from which on the picture stays under both; for a ball the next after that,
 * a whole number of zones, since the share lost rises again from 0.75 to 1.
 */
export const LEAST_FRESNEL_NUMBER = { ball: 1, cube: 2 } as const;
