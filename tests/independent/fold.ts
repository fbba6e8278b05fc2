/**
 * The point of a line-focus patch from which light comes straight back on itself off a corner cube: that whose ray, by Fermat through the
 * glass after the pattern, leaves the glass in the plane through the apex square to the line. Found by halving, along the line as drawn
 * from the patch's centre. mm. Shares no code with src/.
 */
import { crossingOfExit, type Place, toLine } from './fermat.ts';

export function foldOf(
  centre: readonly [number, number],
  lineAngle: number,
  line: Place,
  apex: Place,
  glass: { readonly thickness: number; readonly index: number } | undefined,
): readonly [number, number] {
  if (glass === undefined || glass.thickness === 0) return centre;
  const at = (run: number): readonly [number, number] => [
    centre[0] + run * Math.cos(lineAngle),
    centre[1] + run * Math.sin(lineAngle),
  ];
  const off = (run: number): number => {
    const [x, y] = at(run);
    const { through } = crossingOfExit([x, y, 0], glass.thickness, glass.index, (q) => toLine(q, apex, line));
    return [0, 1, 2].reduce((sum, k) => sum + (through[k]! - apex[k]!) * line[k]!, 0);
  };
  // A slab shifts no ray by more than its thickness over the cosine it leaves with.
  let [low, high] = [-20 * glass.thickness, 20 * glass.thickness];
  for (let halving = 0; halving < 60; halving++) {
    const middle = (low + high) / 2;
    if (off(middle) < 0) low = middle;
    else high = middle;
  }
  return at((low + high) / 2);
}
