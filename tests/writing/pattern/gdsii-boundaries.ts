/**
 * The boundaries of a GDSII stream, one after the other from the bytes, for files too large to hold as objects. After the records
 * of the GDSII Stream Format Manual; shares no code with src/.
 */

type Taker = (points: Int32Array, count: number) => void;

interface Place {
  readonly cell: string;
  readonly layer: number;
  readonly datatype: number;
}

interface Placement {
  readonly in: string;
  readonly cell: string;
  readonly at: readonly [number, number];
}

const [STRUCTURE_NAME, BOUNDARY, LAYER, DATATYPE, POINTS, END_STRUCTURE] = [6, 8, 13, 14, 16, 7];
const [REFERENCE, TEXT, END_ELEMENT, PLACED_NAME] = [10, 12, 17, 18];
/** What may stand in a file besides: heads, ends, texts. All else would draw what no boundary shows, or place it turned. */
const WITHOUT_AREA = [0, 1, 2, 3, 4, 5, 22, 23, 25];

/** Calls `take` with each boundary of the cell on `layer`/`datatype`: x and y by turns, the repeated first point left out; good until it returns. */
export function eachBoundary(
  bytes: Uint8Array,
  cell: string,
  layer: number,
  datatype: number,
  take: Taker,
): void {
  const isWanted = (place: Place): boolean =>
    place.cell === cell && place.layer === layer && place.datatype === datatype;
  walk(bytes, isWanted, take);
}

/** Calls `take` with every boundary of the file and where it is; answers which cells are placed where. Throws for any other shape. */
export function everyBoundary(
  bytes: Uint8Array,
  take: (points: Int32Array, count: number, place: Place) => void,
): readonly Placement[] {
  return walk(bytes, () => true, take);
}

function walk(
  bytes: Uint8Array,
  isWanted: (place: Place) => boolean,
  take: (points: Int32Array, count: number, place: Place) => void,
): readonly Placement[] {
  const view = new DataView(bytes.buffer, bytes.byteOffset, bytes.byteLength);
  const text = (from: number, to: number): string =>
    Buffer.from(bytes.subarray(from, to)).toString('latin1').replace(/\0$/, '');
  let points = new Int32Array(16_384);
  const placements: Placement[] = [];
  let [element, cell, placed, layer, datatype] = [0, '', '', -1, -1];
  for (let at = 0; at + 4 <= bytes.length; ) {
    const [length, kind] = [view.getUint16(at), view.getUint8(at + 2)];
    const end = at + length;
    if (length < 4) break;
    if (kind === STRUCTURE_NAME) cell = text(at + 4, end);
    else if (kind === PLACED_NAME) placed = text(at + 4, end);
    else if (kind === LAYER) layer = view.getInt16(at + 4);
    else if (kind === DATATYPE) datatype = view.getInt16(at + 4);
    else if (kind === BOUNDARY || kind === REFERENCE || kind === TEXT) element = kind;
    else if (kind === POINTS && element === REFERENCE)
      placements.push({ in: cell, cell: placed, at: [view.getInt32(at + 4), view.getInt32(at + 8)] });
    else if (kind === POINTS && element === BOUNDARY && isWanted({ cell, layer, datatype })) {
      const count = (length - 4) / 8 - 1;
      if (points.length < 2 * count) points = new Int32Array(4 * count);
      for (let k = 0, from = at + 4; k < 2 * count; k++, from += 4) points[k] = view.getInt32(from);
      take(points, count, { cell, layer, datatype });
    } else if (![POINTS, END_ELEMENT, END_STRUCTURE, ...WITHOUT_AREA].includes(kind))
      throw new Error(`a record of the kind ${kind} at ${at}`);
    at = end;
  }
  return placements;
}
