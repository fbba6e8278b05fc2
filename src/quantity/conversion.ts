/** From the program's own units (mm, rad, W) to those of its edges, and back: multiply by A_PER_B what is given in B to have it in A. */
export const UM_PER_MM = 1e3;
export const NM_PER_MM = 1e6;
export const MM_PER_UM = 1e-3;
export const DEG_PER_RAD = 180 / Math.PI;
export const URAD_PER_RAD = 1e6;
export const MW_PER_W = 1e3;
export const UW_PER_W = 1e6;
export const PPM_PER_ONE = 1e6;
