/** Digits of three dots by five, row by row, for pictures of pixels. */
export const DIGITS = [
  '111101101101111',
  '010110010010111',
  '111001111100111',
  '111001111001111',
  '101101111001001',
  '111100111001111',
  '111100111101111',
  '111001010010010',
  '111101111101111',
  '111101111001111',
];
export const DOTS = { wide: 3, high: 5 } as const;
