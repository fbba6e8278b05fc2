/**
 * A GDSII stream file, release 6, after the Calma GDSII Stream Format Manual: records of a length, a type and big-endian data.
 *
 * Written: HEADER, BGNLIB, LIBNAME, UNITS, cells of BOUNDARY, TEXT and SREF. Not written: paths, arrays, properties.
 * User unit 1 µm; the dates are zeros or the one given, so that the same pattern has the same bytes.
 */
import { ByteBuffer } from './byte-buffer.ts';
import type { ByteSink, LayoutStream, PatternLayer } from './layers.ts';

/** Year, month from 1 on, day, hour, minute and second; UTC. */
export type GdsiiDate = readonly [number, number, number, number, number, number];

/** Vertices of a boundary at the most: its record is at most 65 535 bytes, and the first point is repeated at its end. */
export const GDSII_MOST_VERTICES = 8190;
/** Of a polygon, unless asked otherwise: what many fracturing programs take at the most. Common practice, no source. */
export const DEFAULT_VERTEX_LIMIT = 4094;
/** Characters of a cell's name at the most, and those it may have. */
export const GDSII_NAME_LENGTH = 32;
const LIBRARY = 'DATUMLIGHT';
const PIECE = 1 << 18;

const RECORD = {
  header: 0x0002,
  beginLibrary: 0x0102,
  libraryName: 0x0206,
  units: 0x0305,
  endLibrary: 0x0400,
  beginStructure: 0x0502,
  structureName: 0x0606,
  endStructure: 0x0700,
  boundary: 0x0800,
  structureReference: 0x0a00,
  text: 0x0c00,
  layer: 0x0d02,
  datatype: 0x0e02,
  points: 0x1003,
  endElement: 0x1100,
  referencedName: 0x1206,
  textType: 0x1602,
  string: 0x1906,
} as const;

export class GdsiiStream implements LayoutStream {
  readonly #sink: ByteSink;
  readonly #buffer: ByteBuffer;
  /** Last modification and last access. */
  readonly #dates: readonly number[];
  readonly #stepsPerMicron: number;

  /** `date`: for the dates of library and cells; undefined: zeros. */
  constructor(sink: ByteSink, stepsPerMicron: number, date: GdsiiDate | undefined) {
    this.#sink = sink;
    this.#buffer = new ByteBuffer(sink, PIECE);
    this.#dates = date === undefined ? new Array(12).fill(0) : [...date, ...date];
    this.#stepsPerMicron = stepsPerMicron;
  }

  begin(): void {
    const stepsPerMicron = this.#stepsPerMicron;
    this.#short(RECORD.header, 600);
    this.#shorts(RECORD.beginLibrary, this.#dates);
    this.#text(RECORD.libraryName, LIBRARY);
    this.#bytes(RECORD.units, [
      ...excess64(1 / stepsPerMicron),
      ...excess64(1 / (stepsPerMicron * MICRONS_PER_METRE)),
    ]);
  }

  beginCell(name: string): void {
    this.#shorts(RECORD.beginStructure, this.#dates);
    this.#text(RECORD.structureName, name);
  }

  polygon({ layer, datatype }: PatternLayer, points: Int32Array, count: number): void {
    if (count < 3 || count > GDSII_MOST_VERTICES)
      throw new RangeError(`a boundary has 3 to ${GDSII_MOST_VERTICES} vertices, not ${count}`);
    const buffer = this.#buffer;
    buffer.reserve(8 * count + 64);
    this.#head(RECORD.boundary, 0);
    this.#short(RECORD.layer, layer);
    this.#short(RECORD.datatype, datatype);
    this.#head(RECORD.points, 8 * (count + 1));
    const { view } = buffer;
    let at = buffer.length;
    for (let k = 0; k < 2 * count; k++, at += 4) view.setInt32(at, points[k]!);
    view.setInt32(at, points[0]!);
    view.setInt32(at + 4, points[1]!);
    buffer.length = at + 8;
    this.#head(RECORD.endElement, 0);
    buffer.pass();
  }

  note({ layer, datatype }: PatternLayer, text: string, x: number, y: number): void {
    this.#head(RECORD.text, 0);
    this.#short(RECORD.layer, layer);
    this.#short(RECORD.textType, datatype);
    this.#head(RECORD.points, 8);
    const { view, length } = this.#buffer;
    view.setInt32(length, x);
    view.setInt32(length + 4, y);
    this.#buffer.length += 8;
    this.#text(RECORD.string, text);
    this.#head(RECORD.endElement, 0);
  }

  place(cell: string): void {
    this.#head(RECORD.structureReference, 0);
    this.#text(RECORD.referencedName, cell);
    this.#bytes(RECORD.points, [0, 0, 0, 0, 0, 0, 0, 0]);
    this.#head(RECORD.endElement, 0);
  }

  endCell(): void {
    this.#head(RECORD.endStructure, 0);
    this.#buffer.pass();
  }

  cells(bytes: Uint8Array): void {
    this.#buffer.flush();
    this.#sink(bytes);
  }

  flush(): void {
    this.#buffer.flush();
  }

  end(): void {
    this.#head(RECORD.endLibrary, 0);
    this.flush();
  }

  #head(type: number, length: number): void {
    const buffer = this.#buffer;
    buffer.reserve(4 + length);
    buffer.view.setUint16(buffer.length, 4 + length);
    buffer.view.setUint16(buffer.length + 2, type);
    buffer.length += 4;
  }

  #short(type: number, value: number): void {
    this.#head(type, 2);
    const buffer = this.#buffer;
    buffer.view.setInt16(buffer.length, value);
    buffer.length += 2;
  }

  #bytes(type: number, data: readonly number[]): void {
    this.#head(type, data.length);
    this.#buffer.append(data);
  }

  #shorts(type: number, values: readonly number[]): void {
    this.#bytes(
      type,
      values.flatMap((value) => [(value >> 8) & 0xff, value & 0xff]),
    );
  }

  /** Padded with a zero byte to an even length. */
  #text(type: number, text: string): void {
    const codes = [...text].map((letter) => letter.charCodeAt(0));
    this.#bytes(type, codes.length % 2 === 0 ? codes : [...codes, 0]);
  }
}

const MICRONS_PER_METRE = 1e6;

/**
 * A GDSII real of 8 bytes: sign, exponent of 16 in excess of 64 (7 bits), and a fraction of 56 bits, 1/16 ≤ fraction < 1.
 * The number's 53 bits fit, so nothing is rounded. Throws a RangeError beyond 16^±63.
 */
export function excess64(value: number): readonly number[] {
  if (value === 0) return [0, 0, 0, 0, 0, 0, 0, 0];
  let fraction = Math.abs(value);
  let exponent = 64;
  // Powers of 16 are exact in a double.
  for (; fraction >= 1; fraction /= 16) exponent++;
  for (; fraction < 1 / 16; fraction *= 16) exponent--;
  if (!(exponent >= 0 && exponent <= 127))
    throw new RangeError(`expected a number within 16 to the power of ±63, got ${value}`);
  const bytes = [(value < 0 ? 0x80 : 0) | exponent];
  for (let k = 0; k < 7; k++) {
    fraction *= 256;
    const byte = Math.floor(fraction);
    bytes.push(byte);
    fraction -= byte;
  }
  return bytes;
}
