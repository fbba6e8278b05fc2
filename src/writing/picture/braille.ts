/** A grey picture as text, for a terminal: eight dots a letter (Unicode's Braille patterns), a dot where it is bright. No colour. */
import type { GreyPicture } from '../../metrology/camera/fringe-picture.ts';

const BLANK = 0x2800;
/** The bit of each dot in a letter of two columns and four rows. */
const DOTS = [
  [0x01, 0x08],
  [0x02, 0x10],
  [0x04, 0x20],
  [0x40, 0x80],
] as const;
const BRIGHT = 128;

/** One line for each four rows. */
export function brailleLines({ width, height, grey }: GreyPicture): readonly string[] {
  const lines: string[] = [];
  for (let top = 0; top < height; top += 4) {
    let line = '';
    for (let left = 0; left < width; left += 2) {
      let letter = BLANK;
      DOTS.forEach((bits, row) => {
        bits.forEach((bit, column) => {
          const [x, y] = [left + column, top + row];
          if (x < width && y < height && grey[y * width + x]! >= BRIGHT) letter |= bit;
        });
      });
      line += String.fromCharCode(letter);
    }
    lines.push(line);
  }
  return lines;
}
