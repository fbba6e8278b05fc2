/**
 * An OASIS file, SEMI P39 version 1.0: records of variable-length integers.
 *
 * Written: START, CELL by name, POLYGON and PLACEMENT in CBLOCKs, END with a CRC-32 over all that comes before it. Point lists are of type 5,
 * double deltas: each vertex by the change of its step from the step before, small where edges curve evenly. Not written:
 * name tables, repetitions, properties, other shapes.
 *
 * CBLOCKs hold raw DEFLATE (RFC 1951) by Huffman codes alone: on double deltas, repeats are rare, and the bytes then depend on no
 * machine's way of searching for them.
 */
import { constants, deflateRawSync } from 'node:zlib';
import { ByteBuffer } from './byte-buffer.ts';
import { crc32 } from './crc32.ts';
import type { ByteSink, LayoutStream, PatternLayer } from './layers.ts';

const MAGIC = '%SEMI-OASIS\r\n';
const RECORD = { start: 1, end: 2, cell: 14, placement: 17, text: 19, polygon: 21, compressed: 34 } as const;
/** Bytes gathered into one CBLOCK, about: below the 32 767 symbols that one set of Huffman codes covers at the most. */
const BLOCK = 28_000;
const PIECE = 1 << 18;
/** Bytes that are compressed into at once: more than a block makes. */
const CHUNK = 1 << 16;
const END_LENGTH = 256;
const CRC_SCHEME = 1;
const DOUBLE_DELTAS = 5;
/** Offsets of the name tables, none of which is written: six pairs of a flag and an offset. */
const NO_TABLES: readonly number[] = new Array(12).fill(0);
/** A vertex takes at most two integers of five bytes and a half. */
const MOST_PER_VERTEX = 12;

export class OasisStream implements LayoutStream {
  readonly #hand: ByteSink;
  readonly #file: ByteBuffer;
  readonly #block: ByteBuffer;
  readonly #stepsPerMicron: number;
  #check = 0;
  /** Modal layer and datatype: not repeated where they stay. */
  #layer = -1;
  #datatype = -1;

  constructor(sink: ByteSink, stepsPerMicron: number) {
    this.#hand = (bytes) => {
      this.#check = crc32(bytes, this.#check);
      sink(bytes);
    };
    this.#file = new ByteBuffer(this.#hand, PIECE);
    this.#block = new ByteBuffer((bytes) => this.#compress(bytes), BLOCK);
    this.#stepsPerMicron = stepsPerMicron;
  }

  begin(): void {
    const file = this.#file;
    file.append(codesOf(MAGIC));
    file.append([RECORD.start, ...text('1.0'), 0, ...unsigned(this.#stepsPerMicron), 0, ...NO_TABLES]);
  }

  beginCell(name: string): void {
    this.#block.append([RECORD.cell, ...text(name)]);
    this.#layer = -1;
    this.#datatype = -1;
  }

  polygon({ layer, datatype }: PatternLayer, points: Int32Array, count: number): void {
    if (count < 3) throw new RangeError(`a polygon has at least 3 vertices, not ${count}`);
    const block = this.#block;
    block.reserve(MOST_PER_VERTEX * count + 64);
    const newLayer = layer !== this.#layer ? 1 : 0;
    const newDatatype = datatype !== this.#datatype ? 2 : 0;
    const { bytes } = block;
    let at = block.length;
    bytes[at++] = RECORD.polygon;
    // 00PXYRDL: point list, x and y present; repetition absent; datatype and layer where they change.
    bytes[at++] = 0b0011_1000 | newDatatype | newLayer;
    if (newLayer) at = putUnsigned(bytes, at, layer);
    if (newDatatype) at = putUnsigned(bytes, at, datatype);
    this.#layer = layer;
    this.#datatype = datatype;
    bytes[at++] = DOUBLE_DELTAS;
    at = putUnsigned(bytes, at, count - 1);
    at = putDoubleDeltas(bytes, at, points, count);
    at = putUnsigned(bytes, at, withSign(points[0]!));
    block.length = putUnsigned(bytes, at, withSign(points[1]!));
    block.pass();
  }

  note({ layer, datatype }: PatternLayer, words: string, x: number, y: number): void {
    // 0CNXYRTL: the text itself, x and y, text type and layer; repetition absent.
    const head = [RECORD.text, 0b0101_1011, ...text(words), ...unsigned(layer), ...unsigned(datatype)];
    this.#block.append([...head, ...signed(x), ...signed(y)]);
  }

  place(cell: string): void {
    // CNXYRAAF: the cell by name, no x and y: at the origin, where each cell starts.
    this.#block.append([RECORD.placement, 0b1011_0000, ...text(cell), 0, 0]);
  }

  /** A CBLOCK holds no more than one cell's records, so that a cell's bytes do not depend on what stands before it. */
  endCell(): void {
    this.#block.flush();
  }

  cells(bytes: Uint8Array): void {
    this.#file.flush();
    this.#hand(bytes);
  }

  flush(): void {
    this.#block.flush();
    this.#file.flush();
  }

  end(): void {
    this.#block.flush();
    const file = this.#file;
    // The padding brings the record, with its identifier and the validation, to 256 bytes.
    const padding = END_LENGTH - 1 - 2 - 1 - 4;
    file.append([RECORD.end, ...unsigned(padding), ...new Array<number>(padding).fill(0), CRC_SCHEME]);
    file.flush();
    const check = this.#check;
    file.append([check & 0xff, (check >>> 8) & 0xff, (check >>> 16) & 0xff, check >>> 24]);
    file.flush();
  }

  #compress(bytes: Uint8Array): void {
    const compressed = deflateRawSync(bytes, {
      strategy: constants.Z_HUFFMAN_ONLY,
      memLevel: 9,
      chunkSize: CHUNK,
    });
    this.#file.append([RECORD.compressed, 0, ...unsigned(bytes.length), ...unsigned(compressed.length)]);
    this.#file.append(compressed);
    this.#file.pass();
  }
}

/** An unsigned integer: seven bits a byte, the least first, the high bit set where more follow. */
export function unsigned(value: number): number[] {
  const bytes: number[] = [];
  let rest = value;
  for (; rest >= 128; rest = Math.floor(rest / 128)) bytes.push((rest % 128) | 128);
  bytes.push(rest);
  return bytes;
}

/** What stands for a signed integer: twice its magnitude, plus 1 where negative. */
const withSign = (value: number): number => 2 * Math.abs(value) + (value < 0 ? 1 : 0);

export const signed = (value: number): number[] => unsigned(withSign(value));

const codesOf = (letters: string): number[] => [...letters].map((letter) => letter.charCodeAt(0));
const text = (letters: string): number[] => [...unsigned(letters.length), ...codesOf(letters)];

/**
 * All vertices but the first, as g-deltas of the second form: x with bit 0 set and its sign in bit 1, y with its sign in bit 0.
 * Returns the place after them.
 */
function putDoubleDeltas(bytes: Uint8Array, start: number, points: Int32Array, count: number): number {
  let at = start;
  let stepX = 0;
  let stepY = 0;
  for (let k = 2; k < 2 * count; k += 2) {
    const dx = points[k]! - points[k - 2]!;
    const dy = points[k + 1]! - points[k - 1]!;
    const changeX = dx - stepX;
    const changeY = dy - stepY;
    stepX = dx;
    stepY = dy;
    at = putUnsigned(bytes, at, changeX < 0 ? -4 * changeX + 3 : 4 * changeX + 1);
    at = putUnsigned(bytes, at, changeY < 0 ? -2 * changeY + 1 : 2 * changeY);
  }
  return at;
}

/** As `unsigned`, into `bytes` from `start` on; returns the place after it. */
function putUnsigned(bytes: Uint8Array, start: number, value: number): number {
  let at = start;
  let rest = value;
  for (; rest >= 128; rest = rest < LONG ? rest >>> 7 : Math.floor(rest / 128))
    bytes[at++] = (rest & 127) | 128;
  bytes[at++] = rest;
  return at;
}

/** From here on shifting needs more than 32 bits. */
const LONG = 2 ** 31;
