/** Places of an array by rising value, only as many put in order as are asked for: a binary heap. */

/** Indices of the finite values, the least first, of equal ones the first in the array. */
export function* leastFirst(values: Float64Array): Generator<number> {
  const heap: number[] = [];
  for (let k = 0; k < values.length; k++) if (values[k]! < Infinity) heap.push(k);
  const isBefore = (a: number, b: number): boolean =>
    values[a]! < values[b]! || (values[a]! === values[b]! && a < b);
  const settle = (from: number): void => {
    const moved = heap[from]!;
    let place = from;
    for (;;) {
      let child = 2 * place + 1;
      if (child >= heap.length) break;
      if (child + 1 < heap.length && isBefore(heap[child + 1]!, heap[child]!)) child++;
      if (!isBefore(heap[child]!, moved)) break;
      heap[place] = heap[child]!;
      place = child;
    }
    heap[place] = moved;
  };
  for (let k = (heap.length >> 1) - 1; k >= 0; k--) settle(k);
  while (heap.length > 0) {
    yield heap[0]!;
    const last = heap.pop()!;
    if (heap.length === 0) return;
    heap[0] = last;
    settle(0);
  }
}
