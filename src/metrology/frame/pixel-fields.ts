/**
 * The functions of a patch's return at each of its pixels: W and its changes (waves), how W runs from pixel to pixel, and whether the pixel
 * gets light of one side of the ridge. A few places of the patch are asked, and polynomials in column and row laid through them.
 */
import { fitPlane, type PlanePolynomial } from '../../algebra/plane-polynomial.ts';
import type { FrameMap } from '../location/frame-map.ts';
import { type PixelBox, type PixelMask, scattered } from './patch-pixels.ts';
import type { ReturnPart, ReturnState } from './return-model.ts';

export interface PixelFields {
  readonly count: number;
  /** How many there would be if not only some were taken. */
  readonly whole: number;
  /** Index into the frame's values. */
  readonly at: Uint32Array;
  readonly column: Float64Array;
  readonly row: Float64Array;
  /** −1 to 1 over the patch's box. */
  readonly u: Float64Array;
  readonly v: Float64Array;
  /** W at the state's amounts. */
  readonly waves: Float64Array;
  readonly shapes: readonly Float64Array[];
  /** ∂W/∂column, ∂W/∂row: fringes per pixel. */
  readonly perColumn: Float64Array;
  readonly perRow: Float64Array;
  /** Which part of the return each belongs to. */
  readonly part: Uint8Array;
}

/** Places a side that are asked, and the degree of what is laid through them. */
const NODES = 7;
const DEGREE = 5;

/** `clear`: pixels from the ridge. `most`: about so many are taken, by chance. */
export function pixelFields(
  state: ReturnState,
  { box, inside, count }: PixelMask,
  frameWidth: number,
  map: FrameMap,
  clear: number,
  most = Number.POSITIVE_INFINITY,
): PixelFields | undefined {
  const nodes = nodesOf(box, map);
  const parts: PartFields[] = [];
  for (const part of state.parts) {
    const fields = partFields(part, nodes, map);
    if (fields === undefined) return undefined;
    parts.push(fields);
  }
  const shapeCount = state.parts[0]!.shapes.length;
  const limit = (most / count) * CHANCES;
  const isTaken = (at: number): boolean => inside[at] === 1 && (limit >= CHANCES || scattered(at) < limit);
  let room = 0;
  for (let at = 0; at < inside.length; at++) if (isTaken(at)) room++;
  const all: Writable = {
    at: new Uint32Array(room),
    ...columnsOf(room),
    shapes: Array.from({ length: shapeCount }, () => new Float64Array(room)),
    part: new Uint8Array(room),
  };
  const own = new RowOfPart(box.columns, shapeCount);
  const least = clear * map.pitch;
  const isRidged = state.parts.length > 1;
  const columns = new Float64Array(box.columns);
  let filled = 0;
  for (let r = 0; r < box.rows; r++) {
    const y = box.top + r;
    const start = r * box.columns;
    let taken = 0;
    for (let c = 0; c < box.columns; c++) if (isTaken(start + c)) columns[taken++] = c;
    if (taken === 0) continue;
    parts.forEach((fields, number) => {
      own.work(fields, box.left, columns.subarray(0, taken), y);
      for (let k = 0; k < taken; k++) {
        if (isRidged && own.clear[k]! < least) continue;
        const fc = Math.round(own.fromColumn[k]!) - box.left;
        const fr = Math.round(own.fromRow[k]!) - box.top;
        if (fc < 0 || fr < 0 || fc >= box.columns || fr >= box.rows || inside[fr * box.columns + fc] === 0)
          continue;
        const c = columns[k]!;
        all.at[filled] = y * frameWidth + box.left + c;
        all.column[filled] = box.left + c;
        all.row[filled] = y;
        all.u[filled] = (2 * c + 1) / box.columns - 1;
        all.v[filled] = (2 * r + 1) / box.rows - 1;
        all.waves[filled] = own.waves[k]!;
        for (let n = 0; n < shapeCount; n++) all.shapes[n]![filled] = own.shapes[n]![k]!;
        all.perColumn[filled] = (own.right[k]! - own.left[k]!) / 2;
        all.perRow[filled] = (own.below[k]! - own.above[k]!) / 2;
        all.part[filled] = number;
        filled++;
      }
    });
  }
  return { ...trimmed(all, filled), whole: filled / Math.min(1, most / count) };
}

/** What some pixels of a row have of one part; of W also a pixel to the left and right of each, above and below. */
class RowOfPart {
  readonly waves: Float64Array;
  readonly left: Float64Array;
  readonly right: Float64Array;
  readonly above: Float64Array;
  readonly below: Float64Array;
  readonly fromColumn: Float64Array;
  readonly fromRow: Float64Array;
  readonly clear: Float64Array;
  readonly shapes: readonly Float64Array[];
  readonly #xs: Float64Array;

  constructor(columns: number, shapes: number) {
    const line = (): Float64Array => new Float64Array(columns);
    [this.waves, this.left, this.right, this.above, this.below] = [line(), line(), line(), line(), line()];
    [this.fromColumn, this.fromRow, this.clear, this.#xs] = [line(), line(), line(), line()];
    this.shapes = Array.from({ length: shapes }, line);
  }

  work(part: PartFields, from: number, columns: Float64Array, y: number): void {
    const xs = this.#xs.subarray(0, columns.length);
    const shift = (by: number): void => {
      for (let k = 0; k < xs.length; k++) xs[k] = from + columns[k]! + by;
    };
    shift(-1);
    part.waves.alongRow(xs, y, this.left);
    shift(1);
    part.waves.alongRow(xs, y, this.right);
    shift(0);
    part.waves.alongRow(xs, y, this.waves);
    part.waves.alongRow(xs, y - 1, this.above);
    part.waves.alongRow(xs, y + 1, this.below);
    part.fromColumn.alongRow(xs, y, this.fromColumn);
    part.fromRow.alongRow(xs, y, this.fromRow);
    part.clear?.alongRow(xs, y, this.clear);
    for (const [k, shape] of part.shapes.entries()) shape.alongRow(xs, y, this.shapes[k]!);
  }
}

type Writable = Omit<PixelFields, 'count' | 'whole'>;

const CHANCES = 2 ** 32;

const columnsOf = (count: number) => ({
  column: new Float64Array(count),
  row: new Float64Array(count),
  u: new Float64Array(count),
  v: new Float64Array(count),
  waves: new Float64Array(count),
  perColumn: new Float64Array(count),
  perRow: new Float64Array(count),
});

const trimmed = (all: Writable, count: number): Omit<PixelFields, 'whole'> => ({
  count,
  at: all.at.subarray(0, count),
  column: all.column.subarray(0, count),
  row: all.row.subarray(0, count),
  u: all.u.subarray(0, count),
  v: all.v.subarray(0, count),
  waves: all.waves.subarray(0, count),
  shapes: all.shapes.map((shape) => shape.subarray(0, count)),
  perColumn: all.perColumn.subarray(0, count),
  perRow: all.perRow.subarray(0, count),
  part: all.part.subarray(0, count),
});

interface Nodes {
  readonly columns: Float64Array;
  readonly rows: Float64Array;
  readonly xs: Float64Array;
  readonly ys: Float64Array;
}

/** Closer together toward the edges of the box: Chebyshev's points. */
function nodesOf({ left, top, columns, rows }: PixelBox, map: FrameMap): Nodes {
  const step = (k: number): number => (1 - Math.cos((Math.PI * (k + 0.5)) / NODES)) / 2;
  const count = NODES * NODES;
  const nodes: Nodes = {
    columns: Float64Array.from({ length: count }, (_, i) => left - 0.5 + columns * step(i % NODES)),
    rows: Float64Array.from({ length: count }, (_, i) => top - 0.5 + rows * step(Math.floor(i / NODES))),
    xs: new Float64Array(count),
    ys: new Float64Array(count),
  };
  for (let i = 0; i < count; i++)
    [nodes.xs[i], nodes.ys[i]] = map.toPattern([nodes.columns[i]!, nodes.rows[i]!]);
  return nodes;
}

interface PartFields {
  readonly waves: PlanePolynomial;
  readonly shapes: readonly PlanePolynomial[];
  readonly fromColumn: PlanePolynomial;
  readonly fromRow: PlanePolynomial;
  readonly clear: PlanePolynomial | undefined;
}

function partFields(
  part: ReturnPart,
  { columns, rows, xs, ys }: Nodes,
  map: FrameMap,
): PartFields | undefined {
  const values = (of: (x: number, y: number) => number): Float64Array => xs.map((x, i) => of(x, ys[i]!));
  const from = Array.from(xs, (x, i) => map.toPixel(part.from(x, ys[i]!)));
  const asked = [
    values(part.waves),
    ...part.shapes.map(values),
    Float64Array.from(from, ([column]) => column),
    Float64Array.from(from, ([, row]) => row),
    ...(part.side === 0 ? [] : [values(part.clearOfRidge)]),
  ];
  if (asked.some((each) => !each.every(Number.isFinite))) return undefined;
  const fitted = fitPlane(columns, rows, asked, DEGREE);
  if (fitted === undefined) return undefined;
  const { polynomials } = fitted;
  const n = part.shapes.length;
  return {
    waves: polynomials[0]!,
    shapes: polynomials.slice(1, 1 + n),
    fromColumn: polynomials[1 + n]!,
    fromRow: polynomials[2 + n]!,
    clear: polynomials[3 + n],
  };
}

/** Fringes per pixel where they are closest: a twentieth of the pixels may have them closer. Some of them are looked at. */
export function closestOf({ perColumn, perRow, count }: PixelFields): number {
  const step = Math.max(1, Math.floor(count / LOOKED_AT));
  const each = new Float64Array(Math.ceil(count / step));
  for (let k = 0; k < each.length; k++) each[k] = Math.hypot(perColumn[k * step]!, perRow[k * step]!);
  each.sort();
  return each[Math.floor(0.95 * (each.length - 1))] ?? 0;
}

const LOOKED_AT = 200;
