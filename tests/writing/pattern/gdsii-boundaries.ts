/**
 * The boundaries of one cell of a GDSII stream, one after the other from the bytes, for files too large to hold as objects. After the records
 * of the GDSII Stream Format Manual; shares no code with src/.
 */

type Taker = (points: Int32Array, count: number) => void;

const [STRUCTURE_NAME, BOUNDARY, LAYER, DATATYPE, POINTS, END_STRUCTURE] = [6, 8, 13, 14, 16, 7];

/** Calls `take` with each boundary of the cell on `layer`/`datatype`: x and y by turns, the repeated first point left out; good until it returns. */
export function eachBoundary(
  bytes: Uint8Array,
  cell: string,
  layer: number,
  datatype: number,
  take: Taker,
): void {
  const view = new DataView(bytes.buffer, bytes.byteOffset, bytes.byteLength);
  let points = new Int32Array(16_384);
  let [isCell, isBoundary, onLayer, ofType] = [false, false, -1, -1];
  for (let at = 0; at + 4 <= bytes.length; ) {
    const [length, kind] = [view.getUint16(at), view.getUint8(at + 2)];
    if (length < 4) return;
    if (kind === STRUCTURE_NAME) {
      const name = Buffer.from(bytes.subarray(at + 4, at + length)).toString('latin1');
      isCell = name.replace(/\0$/, '') === cell;
    } else if (kind === END_STRUCTURE && isCell) return;
    else if (kind === LAYER) onLayer = view.getInt16(at + 4);
    else if (kind === DATATYPE) ofType = view.getInt16(at + 4);
    else if (kind === POINTS) {
      if (isCell && isBoundary && onLayer === layer && ofType === datatype) {
        const count = (length - 4) / 8 - 1;
        if (points.length < 2 * count) points = new Int32Array(4 * count);
        for (let k = 0, from = at + 4; k < 2 * count; k++, from += 4) points[k] = view.getInt32(from);
        take(points, count);
      }
    }
    // Of an element, the records after its head are its own.
    if (kind === BOUNDARY) isBoundary = true;
    else if (kind === 0x11) isBoundary = false;
    at += length;
  }
}
