/**
 * What diffraction does to the fringes of a patch: how far the wave that the camera gets is from the geometric picture.
 *
 * mm, waves; computed by tests/optics/support/blur.ts. By Fresnel number of the round trip (fresnel-number.ts), for a square patch
 * of one fringe of roof on a cube, and for a round patch on a ball moved by one fringe of tilt:
 *
 *   Fresnel number                0.25    0.5   0.75      1      2      5     20
 *   roof: phase error, fringes   0.132  0.140  0.090  0.069  0.043  0.025  0.014
 *   roof: share of area lost      1.00   0.68   0.30   0.24   0.08   0.00   0.00
 *   tilt: misread, fringes       0.449  0.134  0.077  0.062  0.020  0.003  0.001
 *   tilt: share of area lost      0.61   0.43   0.17   0.21   0.12   0.03   0.00
 *
 * A tenth of a fringe is what is read; where the error of the picture itself reaches that, or a quarter of the patch is lost,
 * the reading means little. Of the Fresnel numbers in the table, LEAST_FRESNEL_NUMBER is the first that stays under both.
 */
/** Below this the fringes are worse than a tenth of a fringe or lost over more than a quarter of the patch: from the table above. */
export const LEAST_FRESNEL_NUMBER = 1;
