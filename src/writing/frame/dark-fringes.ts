/**
 * The dark fringes that were fitted to a patch, as short lines in the picture: where W + φ is half a wave beyond a whole number. W is that
 * of the traced return at the amounts read (metrology/frame/return-model.ts); φ, which no reading has, is fitted to the frame again, in
 * each half of a roof by itself, since the place along the ridge is not read either.
 */
import type { Design } from '../../design/design.ts';
import { covers } from '../../geometry/contains.ts';
import { boundsOf } from '../../geometry/extent.ts';
import type { Vec2 } from '../../geometry/vector.ts';
import type { PatchReading } from '../../metrology/frame/frame-reading.ts';
import { NormalMatrix } from '../../metrology/frame/normal-matrix.ts';
import { type ReturnPart, returnModel } from '../../metrology/frame/return-model.ts';
import type { FrameMap } from '../../metrology/location/frame-map.ts';
import type { CameraFrame } from '../../scenario/camera-frame.ts';

/** From one [column, row] to another. */
export type Line = readonly [Vec2, Vec2];

/** Nodes a side of the grid over a patch: one for each few pixels. */
const NODES = { least: 24, most: 160, pixelsEach: 2 } as const;

/** None where the patch was not read. */
export function darkFringes(
  design: Design,
  { patch, values }: PatchReading,
  frame: CameraFrame,
  map: FrameMap,
): readonly Line[] {
  if (values.every((value) => value === undefined)) return [];
  const model = returnModel(design, patch);
  if (model === undefined) return [];
  const amounts = model.spread.map((_, k) => values[k]?.fringes ?? 0);
  const state = model.about(amounts);
  if (state === undefined) return [];
  const { minX, maxX, minY, maxY } = boundsOf(patch.outline);
  const widest = Math.max(maxX - minX, maxY - minY);
  const nodes = Math.round(
    Math.min(NODES.most, Math.max(NODES.least, widest / map.pitch / NODES.pixelsEach)),
  );
  const step = widest / nodes;
  const places = Array.from(
    { length: (nodes + 1) ** 2 },
    (_, k): Vec2 => [minX + step * (k % (nodes + 1)), minY + step * Math.floor(k / (nodes + 1))],
  );
  const inside = places.map((place) => covers(patch.outline, place));
  return state.parts.flatMap((part) => {
    const waves = places.map((place, k) =>
      inside[k] ? wavesAt(part, model.linear ? amounts : undefined, place) : Number.NaN,
    );
    const seen = places.map((place) => valueAt(frame, map.toPixel(place)));
    const phase = phaseOf(waves, seen);
    return phase === undefined
      ? []
      : linesIn(
          waves.map((one) => one + phase),
          nodes + 1,
          places,
          map,
        );
  });
}

/** W of a part, NaN where its light does not come; `amounts` where the state is not already about them. */
function wavesAt(part: ReturnPart, amounts: readonly number[] | undefined, [x, y]: Vec2): number {
  if (part.clearOfRidge(x, y) < 0 || !part.returns(x, y)) return Number.NaN;
  return (
    part.waves(x, y) + (amounts ?? []).reduce((sum, amount, k) => sum + amount * part.shapes[k]!(x, y), 0)
  );
}

/** Of a phase map the fringes that it would show. */
function valueAt({ width, height, values, holds }: CameraFrame, [column, row]: Vec2): number {
  const [i, j] = [Math.round(column), Math.round(row)];
  if (!(i >= 0 && i < width && j >= 0 && j < height)) return Number.NaN;
  const value = values[j * width + i]!;
  return holds === 'phase' ? Math.cos(2 * Math.PI * value) : value;
}

/** φ of a + b cos 2π(W + φ), by least squares in a, b cos 2πφ and b sin 2πφ. */
function phaseOf(waves: readonly number[], seen: readonly number[]): number | undefined {
  const normal = new NormalMatrix(3);
  const row = new Float64Array(3);
  for (const [k, one] of waves.entries()) {
    const value = seen[k]!;
    if (Number.isNaN(one) || Number.isNaN(value)) continue;
    row[0] = 1;
    row[1] = Math.cos(2 * Math.PI * one);
    row[2] = -Math.sin(2 * Math.PI * one);
    normal.add(row, value);
  }
  const solved = normal.solve();
  return solved === undefined ? undefined : Math.atan2(solved[2]!, solved[1]!) / (2 * Math.PI);
}

/** Each cell as two triangles, in which the waves are linear. */
function linesIn(
  waves: readonly number[],
  side: number,
  places: readonly Vec2[],
  map: FrameMap,
): readonly Line[] {
  const lines: Line[] = [];
  for (let row = 0; row + 1 < side; row++) {
    for (let column = 0; column + 1 < side; column++) {
      const at = row * side + column;
      const corners = [at, at + 1, at + side, at + side + 1] as const;
      for (const triangle of [
        [corners[0], corners[1], corners[3]],
        [corners[0], corners[3], corners[2]],
      ])
        addLines(lines, triangle, waves, places, map);
    }
  }
  return lines;
}

/** In a triangle with more dark fringes than this nothing is to be seen. */
const MOST_IN_CELL = 2;

function addLines(
  lines: Line[],
  triangle: readonly number[],
  waves: readonly number[],
  places: readonly Vec2[],
  map: FrameMap,
): void {
  const values = triangle.map((k) => waves[k]!);
  const [least, most] = [Math.min(...values), Math.max(...values)];
  // NaN fails too.
  if (!(most - least <= MOST_IN_CELL)) return;
  for (let level = Math.ceil(least - 0.5) + 0.5; level < most; level++) {
    const ends = triangle.flatMap((from, k): Vec2[] => {
      const to = triangle[(k + 1) % 3]!;
      const [a, b] = [waves[from]! - level, waves[to]! - level];
      if (a < 0 === b < 0) return [];
      const share = a / (a - b);
      const [p, q] = [places[from]!, places[to]!];
      return [map.toPixel([p[0] + share * (q[0] - p[0]), p[1] + share * (q[1] - p[1])])];
    });
    if (ends.length === 2) lines.push([ends[0]!, ends[1]!]);
  }
}
