/**
 * Small pictures of sixteen greys or colours in a page, as PNG (ISO/IEC 15948) of 4 bits a pixel, not packed: packing would cost more time than room. Its
 * data are stored blocks (RFC 1951) within a zlib stream (RFC 1950). Written here because loading a library for it takes longer.
 */
import type { GreyPicture } from '../../metrology/camera/fringe-picture.ts';
import { crc32 } from '../pattern/crc32.ts';

const SIGNATURE = Uint8Array.of(0x89, 0x50, 0x4e, 0x47, 0x0d, 0x0a, 0x1a, 0x0a);
/** Of each of 256 greys, the nearest of sixteen. */
const SIXTEENTHS = Uint8Array.from({ length: 256 }, (_, grey) => Math.round((grey * 15) / 255));
/** Deflate with a window of 32 KiB, fastest. */
const ZLIB_HEAD = Uint8Array.of(0x78, 0x01);
const LONGEST_BLOCK = 65535;

/** The picture in sixteen greys, as a `data:` address for a page. */
export const pngAddress = ({ width, height, grey }: GreyPicture): string =>
  address(width, height, GREY_TYPE, [], (at) => SIXTEENTHS[grey[at]!]!);

interface ColouredPicture {
  readonly width: number;
  readonly height: number;
  /** From 0 to 15, row by row: places in `colours`; the one after the last of them is clear. */
  readonly pixels: Uint8Array;
  /** `#rrggbb`, at most 15. */
  readonly colours: readonly string[];
}

/** The picture with its colours, as a `data:` address for a page. */
export function colouredPngAddress({ width, height, pixels, colours }: ColouredPicture): string {
  const known = Buffer.from([...colours, CLEAR].map((colour) => colour.slice(1)).join(''), 'hex');
  const opaque = new Uint8Array(colours.length + 1).fill(255);
  opaque[colours.length] = 0;
  const ahead = [...chunk('PLTE', known), ...chunk('tRNS', opaque)];
  return address(width, height, INDEXED_TYPE, ahead, (at) => pixels[at]!);
}

const GREY_TYPE = 0;
const INDEXED_TYPE = 3;
const CLEAR = '#ffffff';

/** `sample` gives the four bits of a pixel; `ahead` are chunks between the head and the data. */
function address(
  width: number,
  height: number,
  colourType: number,
  ahead: readonly Uint8Array[],
  sample: (at: number) => number,
): string {
  const rowBytes = 1 + Math.ceil(width / 2);
  const rows = new Uint8Array(rowBytes * height);
  for (let row = 0; row < height; row++) {
    // The first byte of a row is its filter: none.
    const start = row * rowBytes + 1;
    for (let column = 0; column < width; column += 2) {
      const at = row * width + column;
      const second = column + 1 < width ? sample(at + 1) : 0;
      rows[start + (column >> 1)] = (sample(at) << 4) | second;
    }
  }
  const head = new Uint8Array(13);
  const view = new DataView(head.buffer);
  view.setUint32(0, width);
  view.setUint32(4, height);
  head[8] = 4;
  head[9] = colourType;
  const bytes = Buffer.concat([
    SIGNATURE,
    ...chunk('IHDR', head),
    ...ahead,
    ...chunk('IDAT', Buffer.concat([ZLIB_HEAD, ...storedBlocks(rows), bigEndian(adler32(rows))])),
    ...chunk('IEND', new Uint8Array(0)),
  ]);
  return `data:image/png;base64,${bytes.toString('base64')}`;
}

function chunk(name: string, data: Uint8Array): Uint8Array[] {
  const named = Buffer.concat([Buffer.from(name, 'latin1'), data]);
  return [bigEndian(data.length), named, bigEndian(crc32(named))];
}

function storedBlocks(bytes: Uint8Array): Uint8Array[] {
  const blocks: Uint8Array[] = [];
  for (let at = 0; at < bytes.length; at += LONGEST_BLOCK) {
    const block = bytes.subarray(at, at + LONGEST_BLOCK);
    const isLast = at + LONGEST_BLOCK >= bytes.length ? 1 : 0;
    const [low, high] = [block.length & 0xff, block.length >> 8];
    blocks.push(Uint8Array.of(isLast, low, high, ~low, ~high), block);
  }
  return blocks;
}

const bigEndian = (value: number): Uint8Array =>
  Uint8Array.of(value >>> 24, value >>> 16, value >>> 8, value);

function adler32(bytes: Uint8Array): number {
  let [a, b] = [1, 0];
  for (let k = 0; k < bytes.length; ) {
    // So many bytes can be summed before either sum outgrows 32 bits.
    const end = Math.min(bytes.length, k + 2048);
    for (; k < end; k++) {
      a += bytes[k]!;
      b += a;
    }
    a %= 65521;
    b %= 65521;
  }
  return ((b << 16) | a) >>> 0;
}
