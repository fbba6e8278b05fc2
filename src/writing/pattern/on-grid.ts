/** Vertices rounded to the file's grid. */

/** The farthest coordinate that both formats' readers take: 32 bits, signed. */
const FARTHEST = 2 ** 31 - 1;

/** `count` vertices, times `scale` and rounded, into `out` but for those that fall on the one before; how many there are. */
export function onGrid(xy: Float64Array, count: number, scale: number, out: Int32Array): number {
  let used = 0;
  let lastX = Number.NaN;
  let lastY = Number.NaN;
  let farthest = 0;
  for (let k = 0; k < 2 * count; k += 2) {
    const x = Math.floor(xy[k]! * scale + 0.5);
    const y = Math.floor(xy[k + 1]! * scale + 0.5);
    if (x === lastX && y === lastY) continue;
    farthest = Math.max(farthest, Math.abs(x), Math.abs(y));
    out[used++] = x;
    out[used++] = y;
    lastX = x;
    lastY = y;
  }
  if (!(farthest <= FARTHEST))
    throw new RangeError(
      `a vertex ${farthest} database units from the origin does not fit in 32 bits; expected at most ${FARTHEST}: use a coarser unit`,
    );
  // x and y at once: y compared only where x is the same, now and then, would have V8 compile this loop again.
  while (used > 2 && ((out[0]! ^ out[used - 2]!) | (out[1]! ^ out[used - 1]!)) === 0) used -= 2;
  return used >> 1;
}
