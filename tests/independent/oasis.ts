/**
 * A reader of OASIS files as far as a pattern needs them: cells by name, polygons, placements, compressed blocks (SEMI P39, from memory).
 * Polygons come in mm by the cell that holds them. Throws for any record or point list besides. Shares no code with src/.
 */
import { inflateRawSync } from 'node:zlib';
import type { Corner, GdsNote, GdsPolygon } from './gdsii.ts';

const MAGIC = '%SEMI-OASIS\r\n';
const MM_PER_UM = 1e-3;

class Bytes {
  readonly bytes: Uint8Array;
  at = 0;

  constructor(bytes: Uint8Array) {
    this.bytes = bytes;
  }

  byte(): number {
    const value = this.bytes[this.at++];
    if (value === undefined) throw new Error('the file ends too early');
    return value;
  }

  unsigned(): number {
    let [value, place] = [0, 1];
    for (;;) {
      const byte = this.byte();
      value += (byte & 127) * place;
      place *= 128;
      if (byte < 128) return value;
    }
  }

  signed(): number {
    const value = this.unsigned();
    return value % 2 === 1 ? -(value - 1) / 2 : value / 2;
  }

  /** A step of the second form: x, then y. */
  step(): Corner {
    const first = this.unsigned();
    if (first % 2 === 0) throw new Error('a step of the first form');
    const x = (first % 4 >= 2 ? -1 : 1) * Math.floor(first / 4);
    return [x, this.signed()];
  }

  take(count: number): Uint8Array {
    this.at += count;
    return this.bytes.subarray(this.at - count, this.at);
  }

  text = (): string => Buffer.from(this.take(this.unsigned())).toString('latin1');
}

interface Reading {
  unit: number;
  cell: string;
  layer: number;
  datatype: number;
  readonly cells: Map<string, GdsPolygon[]>;
  readonly notes: GdsNote[];
}

/** The polygons of each cell, and mm for one database unit. */
export function readOasis(bytes: Buffer): {
  readonly unit: number;
  readonly cells: ReadonlyMap<string, readonly GdsPolygon[]>;
  /** The texts of all cells. */
  readonly notes: readonly GdsNote[];
} {
  const file = new Bytes(bytes);
  if (Buffer.from(file.take(MAGIC.length)).toString('latin1') !== MAGIC) throw new Error('not an OASIS file');
  const reading: Reading = {
    unit: Number.NaN,
    cell: '',
    layer: -1,
    datatype: -1,
    cells: new Map(),
    notes: [],
  };
  records(file, reading);
  return { unit: reading.unit, cells: reading.cells, notes: reading.notes };
}

function records(from: Bytes, reading: Reading): void {
  while (from.at < from.bytes.length) {
    const record = from.byte();
    if (record === 2) return; // END
    if (record === 1) start(from, reading);
    else if (record === 14) {
      [reading.cell, reading.layer, reading.datatype] = [from.text(), -1, -1];
      reading.cells.set(reading.cell, []);
    } else if (record === 34) {
      if (from.unsigned() !== 0) throw new Error('compressed otherwise than by DEFLATE');
      const length = from.unsigned();
      const inner = inflateRawSync(from.take(from.unsigned()));
      if (inner.length !== length) throw new Error('a compressed block of another length than it says');
      records(new Bytes(inner), reading);
    } else if (record === 21) polygon(from, reading);
    else if (record === 17) placement(from);
    else if (record === 19) note(from, reading);
    else throw new Error(`a record of the type ${record}`);
  }
}

function start(from: Bytes, reading: Reading): void {
  const version = from.text();
  if (version !== '1.0' || from.unsigned() !== 0)
    throw new Error('another version, or a unit that is no whole number');
  reading.unit = MM_PER_UM / from.unsigned();
  if (from.unsigned() === 0) for (let k = 0; k < 12; k++) from.unsigned();
}

/** 00PXYRDL */
function polygon(from: Bytes, reading: Reading): void {
  const info = from.byte();
  if ((info & 0b1111_1100) !== 0b0011_1000) throw new Error('a polygon without points or place, or repeated');
  if (info & 1) reading.layer = from.unsigned();
  if (info & 2) reading.datatype = from.unsigned();
  if (from.unsigned() !== 5) throw new Error('a point list of another type');
  const steps = Array.from({ length: from.unsigned() }, () => from.step());
  let [x, y] = [from.signed(), from.signed()];
  let [dx, dy] = [0, 0];
  const points: [number, number][] = [[x, y]];
  for (const [ax, ay] of steps) {
    [dx, dy] = [dx + ax, dy + ay];
    [x, y] = [x + dx, y + dy];
    points.push([x, y]);
  }
  const { layer, datatype, unit } = reading;
  reading.cells.get(reading.cell)!.push({
    layer,
    datatype,
    points: points.map(([u, v]): Corner => [u * unit, v * unit]),
  });
}

/** 0CNXYRTL: only where text, layer, text type and place are given. */
function note(from: Bytes, { unit, notes }: Reading): void {
  if (from.byte() !== 0b0101_1011) throw new Error('a text by number, or one without layer or place');
  const [text, layer] = [from.text(), from.unsigned()];
  from.unsigned();
  notes.push({ layer, text, at: [from.signed() * unit, from.signed() * unit] });
}

/** CNXYRAAF: only where the cell stands at the origin, upright. */
function placement(from: Bytes): void {
  const info = from.byte();
  if (info !== 0b1011_0000) throw new Error('a placement that is repeated, turned, or by number');
  from.text();
  if (from.signed() !== 0 || from.signed() !== 0) throw new Error('a cell placed off the origin');
}
