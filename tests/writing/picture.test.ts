/** Pictures as PNG, read back by a decoder of this test's own; as dots for a terminal. */
import { inflateSync } from 'node:zlib';
import { expect, test } from 'vitest';
import type { GreyPicture } from '../../src/metrology/camera/fringe-picture.ts';
import { brailleLines } from '../../src/writing/picture/braille.ts';
import { pngBytes } from '../../src/writing/picture/png.ts';
import { pngAddress } from '../../src/writing/picture/stored-png.ts';

const ramp: GreyPicture = {
  width: 7,
  height: 5,
  grey: Uint8Array.from({ length: 35 }, (_, k) => (k * 37) % 256),
};

/** ISO/IEC 15948: a signature, then chunks of length, type, data, checksum; rows of the image with a filter byte of 0 each. */
function decoded(png: Buffer): { width: number; height: number; depth: number; rows: Buffer[] } {
  expect([...png.subarray(0, 8)]).toEqual([137, 80, 78, 71, 13, 10, 26, 10]);
  const chunks: [string, Buffer][] = [];
  for (let at = 8; at < png.length; ) {
    const size = png.readUInt32BE(at);
    chunks.push([png.toString('latin1', at + 4, at + 8), png.subarray(at + 8, at + 8 + size)]);
    at += 12 + size;
  }
  expect(chunks.map(([type]) => type)).toEqual(['IHDR', 'IDAT', 'IEND']);
  const header = chunks[0]![1];
  const [width, height, depth] = [header.readUInt32BE(0), header.readUInt32BE(4), header[8]!];
  // Grey without alpha, not interlaced.
  expect([header[9], header[12]]).toEqual([0, 0]);
  const data = inflateSync(chunks[1]![1]);
  const rowBytes = Math.ceil((width * depth) / 8) + 1;
  const rows = Array.from({ length: height }, (_, k) => data.subarray(k * rowBytes, (k + 1) * rowBytes));
  for (const row of rows) expect(row[0]).toBe(0);
  return { width, height, depth, rows: rows.map((row) => row.subarray(1)) };
}

test('eight bits a pixel, every pixel as it was', () => {
  const { width, height, depth, rows } = decoded(Buffer.from(pngBytes(ramp)));
  expect({ width, height, depth }).toEqual({ width: 7, height: 5, depth: 8 });
  expect(Buffer.concat(rows)).toEqual(Buffer.from(ramp.grey));
});

test('in a page sixteen greys, two pixels a byte, an odd width too', () => {
  const address = pngAddress(ramp);
  expect(address).toMatch(/^data:image\/png;base64,[A-Za-z0-9+/]+=*$/);
  const { depth, rows } = decoded(Buffer.from(address.slice(address.indexOf(',') + 1), 'base64'));
  expect(depth).toBe(4);
  for (let row = 0; row < 5; row++)
    for (let column = 0; column < 7; column++) {
      const byte = rows[row]![column >> 1]!;
      const level = column % 2 === 0 ? byte >> 4 : byte & 15;
      expect(Math.abs(level * 17 - ramp.grey[row * 7 + column]!)).toBeLessThanOrEqual(8.5);
    }
});

test('a picture too large for one stored block, whose greys are all there', () => {
  // 0 to 255 in steps that no row repeats; 450 rows of 301 bytes are more than two blocks of 65,535.
  const [width, height] = [600, 450];
  const grey = Uint8Array.from({ length: width * height }, (_, k) => (k * 7 + Math.floor(k / width)) % 256);
  const address = pngAddress({ width, height, grey });
  const { rows } = decoded(Buffer.from(address.slice(address.indexOf(',') + 1), 'base64'));
  const wrong = Array.from(grey, (value, k) => {
    const [row, column] = [Math.floor(k / width), k % width];
    const byte = rows[row]![column >> 1]!;
    return Math.abs((column % 2 === 0 ? byte >> 4 : byte & 15) * 17 - value) > 8.5;
  }).filter(Boolean);
  expect([rows.length, wrong.length]).toEqual([height, 0]);
});

test('dots for a terminal: each lit pixel is the dot of its place', () => {
  const lit = (x: number, y: number): GreyPicture => {
    const grey = new Uint8Array(4 * 8);
    grey[y * 4 + x] = 255;
    return { width: 4, height: 8, grey };
  };
  expect(brailleLines(lit(0, 0))).toEqual(['⠁⠀', '⠀⠀']);
  expect(brailleLines(lit(1, 0))).toEqual(['⠈⠀', '⠀⠀']);
  expect(brailleLines(lit(2, 3))).toEqual(['⠀⡀', '⠀⠀']);
  expect(brailleLines(lit(3, 7))).toEqual(['⠀⠀', '⠀⢀']);
  expect(brailleLines({ width: 2, height: 4, grey: new Uint8Array(8).fill(128) })).toEqual(['⣿']);
});
