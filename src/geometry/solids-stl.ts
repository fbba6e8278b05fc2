/**
 * An STL file's bytes to triangles: binary (80 bytes of head, a count, 50 bytes a triangle, little-endian) or text (`solid`,
 * `facet`, `vertex x y z`). Coordinates are taken as mm; normals and names are passed over.
 * Source: the format as its readers have it; a text file that starts as a binary one (or the other way round) goes by its size.
 */

/** Triangles read at most: a mount has some thousands. */
const MOST_TRIANGLES = 1_000_000;
const HEAD = 84;
const RECORD = 50;

/** Nine coordinates a triangle, or what is wrong with the bytes. */
export function trianglesOfStl(bytes: Uint8Array): Float64Array | { readonly fault: string } {
  const view = new DataView(bytes.buffer, bytes.byteOffset, bytes.byteLength);
  const count = bytes.length >= HEAD ? view.getUint32(80, true) : -1;
  if (count >= 0 && bytes.length === HEAD + RECORD * count) {
    if (count === 0) return { fault: 'it contains no triangles' };
    if (count > MOST_TRIANGLES) return tooMany(count);
    return checked(fromBinary(view, count));
  }
  const start = new TextDecoder().decode(bytes.subarray(0, 5));
  if (start === 'solid') return fromText(new TextDecoder().decode(bytes));
  return {
    fault:
      count < 0
        ? `it has ${bytes.length} bytes, less than the head of a binary STL`
        : `its head counts ${count} triangles, which need ${HEAD + RECORD * count} bytes; it has ${bytes.length}`,
  };
}

function fromBinary(view: DataView, count: number): Float64Array {
  const corners = new Float64Array(9 * count);
  for (let k = 0; k < count; k++)
    for (let i = 0; i < 9; i++) corners[9 * k + i] = view.getFloat32(HEAD + RECORD * k + 12 + 4 * i, true);
  return corners;
}

function fromText(text: string): Float64Array | { readonly fault: string } {
  const values: number[] = [];
  for (const [, x, y, z] of text.matchAll(/\bvertex\s+(\S+)\s+(\S+)\s+(\S+)/g)) {
    values.push(Number(x), Number(y), Number(z));
    if (values.length > 9 * MOST_TRIANGLES) return tooMany(values.length / 9);
  }
  if (values.length === 0) return { fault: 'it contains no triangles' };
  if (values.length % 9 !== 0)
    return { fault: `it has ${values.length / 3} vertices, not a multiple of three` };
  return checked(Float64Array.from(values));
}

function checked(corners: Float64Array): Float64Array | { readonly fault: string } {
  const bad = corners.findIndex((value) => !Number.isFinite(value));
  return bad < 0
    ? corners
    : { fault: `triangle ${Math.floor(bad / 9) + 1} has a coordinate that is not a number` };
}

const tooMany = (count: number): { readonly fault: string } => ({
  fault: `it has ${count} triangles; the limit is ${MOST_TRIANGLES}`,
});
