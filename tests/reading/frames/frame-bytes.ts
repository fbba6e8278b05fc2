/** Files of frames written byte by byte, as their specifications say, with none of the libraries that read them. Samples are big numbers, row by row. */
import { crc32, deflateSync } from 'node:zlib';

export interface Grey {
  readonly width: number;
  readonly height: number;
  /** One, or `channels` a pixel. */
  readonly samples: readonly number[];
}

/** A ramp that has each row and column told apart. */
export const ramp = (width: number, height: number, most: number): Grey => ({
  width,
  height,
  samples: Array.from({ length: width * height }, (_, k) => Math.round((k * most) / (width * height - 1))),
});

const big = (value: number, bytes: number): number[] =>
  Array.from({ length: bytes }, (_, k) => Math.floor(value / 256 ** (bytes - 1 - k)) % 256);
const little = (value: number, bytes: number): number[] => big(value, bytes).reverse();

/** ISO/IEC 15948. `colour`: 0 grey, 2 RGB, 3 palette, 4 grey with opacity, 6 RGB with opacity. */
export function png(
  { width, height, samples }: Grey,
  bits: number,
  colour = 0,
  palette: readonly number[] = [],
): Buffer {
  const channels = [1, 0, 3, 1, 2, 0, 4][colour]!;
  const chunk = (type: string, data: Uint8Array): Buffer => {
    const body = Buffer.concat([Buffer.from(type, 'latin1'), data]);
    return Buffer.concat([Buffer.from(big(data.length, 4)), body, Buffer.from(big(crc32(body), 4))]);
  };
  const rows = Array.from({ length: height }, (_, row) => {
    const line = samples.slice(row * width * channels, (row + 1) * width * channels);
    if (bits >= 8) return [0, ...line.flatMap((value) => big(value, bits / 8))];
    const text = line.map((value) => value.toString(2).padStart(bits, '0')).join('');
    return [0, ...(text.match(/.{1,8}/g) ?? []).map((byte) => Number.parseInt(byte.padEnd(8, '0'), 2))];
  });
  return Buffer.concat([
    Buffer.from([0x89, 0x50, 0x4e, 0x47, 0x0d, 0x0a, 0x1a, 0x0a]),
    chunk('IHDR', Buffer.from([...big(width, 4), ...big(height, 4), bits, colour, 0, 0, 0])),
    ...(palette.length === 0 ? [] : [chunk('PLTE', Buffer.from(palette))]),
    chunk('IDAT', deflateSync(Buffer.from(rows.flat()))),
    chunk('IEND', Buffer.alloc(0)),
  ]);
}

export interface TiffForm {
  readonly bits: 8 | 16 | 32 | 64;
  readonly bigEndian?: boolean;
  readonly deflate?: boolean;
  readonly rowsPerStrip?: number;
  readonly whiteIsZero?: boolean;
  readonly channels?: number;
  /** TIFF tag 339: 1 whole, 2 signed, 3 fractional. */
  readonly sampleFormat?: number;
  readonly orientation?: number;
}

/** TIFF 6.0, one page for each picture. */
export function tiff(pages: readonly Grey[], form: TiffForm): Buffer {
  const { bits, bigEndian = false, deflate = false, channels = 1, sampleFormat = bits > 16 ? 3 : 1 } = form;
  const bytes = bigEndian ? big : little;
  const sample = (value: number): number[] => {
    if (sampleFormat !== 3) return bytes(value < 0 ? value + 2 ** bits : value, bits / 8);
    const buffer = Buffer.alloc(bits / 8);
    if (bits === 32) buffer.writeFloatBE(value);
    else buffer.writeDoubleBE(value);
    return bigEndian ? [...buffer] : [...buffer].reverse();
  };
  const out: number[] = [...(bigEndian ? [0x4d, 0x4d] : [0x49, 0x49]), ...bytes(42, 2)];
  let link = out.length;
  out.push(0, 0, 0, 0);
  const put = (at: number, values: readonly number[]): void => {
    for (const [k, value] of values.entries()) out[at + k] = value;
  };
  for (const { width, height, samples } of pages) {
    const rowsPerStrip = form.rowsPerStrip ?? height;
    const strips: { offset: number; count: number }[] = [];
    for (let row = 0; row < height; row += rowsPerStrip) {
      const values = samples.slice(row * width * channels, (row + rowsPerStrip) * width * channels);
      const raw = values.flatMap(sample);
      const data = deflate ? [...deflateSync(Buffer.from(raw))] : raw;
      strips.push({ offset: out.length, count: data.length });
      for (const byte of data) out.push(byte);
    }
    const tables = (['offset', 'count'] as const).map((key) => {
      if (strips.length === 1) return strips[0]![key];
      const at = out.length;
      for (const strip of strips) out.push(...bytes(strip[key], 4));
      return at;
    });
    const bitsAt = out.length;
    for (let k = 0; k < channels; k++) out.push(...bytes(bits, 2));
    const short = (tag: number, value: number): number[] => [
      ...[...bytes(tag, 2), ...bytes(3, 2), ...bytes(1, 4)],
      ...[...bytes(value, 2), 0, 0],
    ];
    const long = (tag: number, count: number, value: number): number[] => [
      ...[...bytes(tag, 2), ...bytes(4, 2), ...bytes(count, 4), ...bytes(value, 4)],
    ];
    const entries = [
      long(256, 1, width),
      long(257, 1, height),
      channels === 1
        ? short(258, bits)
        : [...bytes(258, 2), ...bytes(3, 2), ...bytes(channels, 4), ...bytes(bitsAt, 4)],
      short(259, deflate ? 8 : 1),
      short(262, channels >= 3 ? 2 : form.whiteIsZero ? 0 : 1),
      long(273, strips.length, tables[0]!),
      short(274, form.orientation ?? 1),
      short(277, channels),
      long(278, 1, rowsPerStrip),
      long(279, strips.length, tables[1]!),
      short(339, sampleFormat),
    ];
    if (out.length % 2 === 1) out.push(0);
    put(link, bytes(out.length, 4));
    out.push(...bytes(entries.length, 2), ...entries.flat());
    link = out.length;
    out.push(0, 0, 0, 0);
  }
  return Buffer.from(out);
}

/** Netpbm's raw form. */
export const pgm = ({ width, height, samples }: Grey, most: number, head = ''): Buffer =>
  Buffer.concat([
    Buffer.from(`P5\n${head}${width} ${height}\n${most}\n`, 'latin1'),
    Buffer.from(samples.flatMap((value) => big(value, most < 256 ? 1 : 2))),
  ]);

/** NumPy's format 1.0, of bytes that the caller lays out. */
export function npy(head: string, data: Uint8Array, major = 1): Buffer {
  const text = `${head}\n`;
  return Buffer.concat([
    Buffer.from([0x93, 0x4e, 0x55, 0x4d, 0x50, 0x59, major, 0]),
    Buffer.from(little(text.length, major === 1 ? 2 : 4)),
    Buffer.from(text, 'latin1'),
    data,
  ]);
}
