/** Files that the build leaves beside the program, read when a package is made and not before. */
import { readFileSync } from 'node:fs';
import type { Shipped } from '../writing/package/package.ts';
import { benchTemplate } from './bench-template.ts';

/** Beside the bundle; and, where the program runs from its source, where the build leaves it. */
const PLACES = ['DejaVuSansCondensed.ttf', '../../dist/DejaVuSansCondensed.ttf'];

let font: Uint8Array | undefined;

/** The font of layout.pdf. Throws where the program was installed without it. */
export function drawingFont(): Uint8Array {
  font ??= PLACES.reduce<Uint8Array | undefined>((found, place) => found ?? bytesAt(place), undefined);
  if (font === undefined)
    throw new Error('the program’s own file DejaVuSansCondensed.ttf is missing: build it again');
  return font;
}

/** What a package is made with. */
export const shippedFiles = (): Shipped => ({ benchTemplate: benchTemplate(), drawingFont: drawingFont() });

function bytesAt(place: string): Uint8Array | undefined {
  try {
    return readFileSync(new URL(place, import.meta.url));
  } catch {
    return undefined;
  }
}
