/**
 * A reader of GDSII streams: records of a length, a type and big-endian data, as the Calma manual has them, from memory. Boundaries come
 * in mm, with the cells that are placed put where they are placed. Shares no code with src/.
 */
export type Corner = readonly [number, number];

export interface GdsPolygon {
  readonly layer: number;
  readonly datatype: number;
  readonly points: readonly Corner[];
}

export interface GdsNote {
  readonly layer: number;
  readonly text: string;
  readonly at: Corner;
}

interface Cell {
  readonly own: GdsPolygon[];
  readonly notes: GdsNote[];
  readonly placed: { readonly name: string; readonly at: Corner }[];
}

export interface GdsLibrary {
  /** mm for one database unit. */
  readonly unit: number;
  /** Names of the cells that no other places. */
  readonly tops: readonly string[];
  /** Of a cell and all that it places. */
  readonly polygons: (cell: string) => readonly GdsPolygon[];
  /** A cell's own texts. */
  readonly notes: (cell: string) => readonly GdsNote[];
}

const MM_PER_M = 1000;
const KINDS = { 2048: 'polygon', 2560: 'reference', 3072: 'note' } as const;

/** An 8-byte real: sign, exponent of 16 in excess of 64, 56 bits of fraction. */
function real(bytes: Buffer): number {
  let fraction = 0;
  for (let k = 7; k > 0; k--) fraction = (fraction + bytes[k]!) / 256;
  const size = fraction * 16 ** ((bytes[0]! & 0x7f) - 64);
  return bytes[0]! & 0x80 ? -size : size;
}

const text = (bytes: Buffer): string => bytes.toString('latin1').replace(/\0$/, '');

function corners(bytes: Buffer, unit: number): Corner[] {
  const points = Array.from(
    { length: bytes.length / 8 },
    (_, k): Corner => [bytes.readInt32BE(8 * k) * unit, bytes.readInt32BE(8 * k + 4) * unit],
  );
  return points;
}

/** Throws for a record that is cut short, or of a kind that a fabricator would have to ask about. */
export function readGds(bytes: Buffer): GdsLibrary {
  const cells = new Map<string, Cell>();
  let unit = Number.NaN;
  let cell: Cell = { own: [], notes: [], placed: [] };
  let element:
    | {
        layer: number;
        datatype: number;
        name: string;
        points: Corner[];
        kind: 'polygon' | 'reference' | 'note';
      }
    | undefined;
  for (let at = 0; at < bytes.length; ) {
    const length = bytes.readUInt16BE(at);
    const type = bytes.readUInt16BE(at + 2);
    const data = bytes.subarray(at + 4, at + length);
    if (length < 4 || data.length !== length - 4) throw new Error(`a record at ${at} is cut short`);
    at += length;
    switch (type) {
      case 0x0305: // UNITS: user units and metres in a database unit
        unit = real(data.subarray(8)) * MM_PER_M;
        break;
      case 0x0606: // STRNAME
        cell = { own: [], notes: [], placed: [] };
        cells.set(text(data), cell);
        break;
      case 0x0800: // BOUNDARY
      case 0x0a00: // SREF
      case 0x0c00: // TEXT
        element = { layer: -1, datatype: -1, name: '', points: [], kind: KINDS[type] };
        break;
      case 0x0d02:
        element!.layer = data.readInt16BE();
        break;
      case 0x0e02:
      case 0x1602: // TEXTTYPE
        element!.datatype = data.readInt16BE();
        break;
      case 0x1003:
        element!.points = corners(data, unit);
        break;
      case 0x1206:
      case 0x1906: // STRING
        element!.name = text(data);
        break;
      case 0x1100: // ENDEL
        if (element!.kind === 'reference') cell.placed.push({ name: element!.name, at: element!.points[0]! });
        else if (element!.kind === 'note')
          cell.notes.push({ layer: element!.layer, text: element!.name, at: element!.points[0]! });
        else cell.own.push({ ...element!, points: element!.points.slice(0, -1) });
        break;
      case 0x0002: // HEADER, BGNLIB, LIBNAME, ENDLIB, BGNSTR, ENDSTR
      case 0x0102:
      case 0x0206:
      case 0x0400:
      case 0x0502:
      case 0x0700:
        break;
      default:
        throw new Error(`a record of the type ${type.toString(16)} at ${at - length}`);
    }
  }
  const inner = new Set([...cells.values()].flatMap(({ placed }) => placed.map(({ name }) => name)));
  const polygons = (name: string): readonly GdsPolygon[] => {
    const { own, placed } = cells.get(name)!;
    return [
      ...own,
      ...placed.flatMap(({ name: other, at: [dx, dy] }) =>
        polygons(other).map(({ points, ...rest }) => ({
          ...rest,
          points: points.map(([x, y]): Corner => [x + dx, y + dy]),
        })),
      ),
    ];
  };
  return {
    unit,
    tops: [...cells.keys()].filter((name) => !inner.has(name)),
    polygons,
    notes: (name) => cells.get(name)!.notes,
  };
}
