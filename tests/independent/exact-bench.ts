/** Words for a bench whose beam, light and blank are known exactly, for tests of everything else. */
export const EXACT_LIGHT = { wavelength: '632.8 nm', uncertainty: { wavelength: 0, pressure: 0 } } as const;
export const EXACT_BEAM = { placed: { x: 0, y: 0, z: 0, rx: 0, ry: 0 }, wavefront: 0 } as const;
export const EXACT_BLANK = { tolerance: { thickness: 0, index: 0, wedge: 0, wavefront: 0 } } as const;

/** The same, for what stands for common practice. */
export const EXACT_PRACTICE = {
  ...{ sitePressure: 0, wavelengthInAir: 0, referenceWavefront: 0 },
  placed: { x: 0, y: 0, z: 0, rx: 0, ry: 0 },
  blank: { thickness: 0, index: 0, wedge: 0, wavefront: 0 },
} as const;
