/**
 * What a patch senses of its reference, from the scene's words and exact optical paths alone (no glass in the way): a ball or a cube
 * sends the wave aimed at its place A back as if from A moved twice, so that a move δ shows W(P) = E_out(P; A) − E_out(P; A + 2δ).
 * mm, waves. Shares no code with src/.
 */
import { type Place, toLine } from './fermat.ts';
import {
  chiefRayOf,
  inner,
  lineDirectionOf,
  outer,
  type PatchWords,
  type Point,
  plus,
  type Scene,
  targetOf,
  unit,
} from './scene.ts';
import { edgePoints } from './scene-outline.ts';
import { type Field, sceneBias } from './scene-phase.ts';

/** Of a line focus ℓ̂ × û; of a point focus x made square to û, û × that, and û itself. */
export function sensesIn(scene: Scene, patch: PatchWords): readonly Place[] {
  const chief = chiefRayOf(scene, patch);
  if (patch.focus === 'line') return [unit(outer(lineDirectionOf(scene, patch), chief))];
  const first = unit(plus([1, 0, 0], chief, -chief[0]));
  return [first, outer(chief, first), chief];
}

/** From centre to target. */
export const distanceIn = (scene: Scene, patch: PatchWords): number =>
  Math.hypot(...plus(targetOf(scene, patch), [patch.centre[0], patch.centre[1], 0], -1));

/** Extent of the patch along a direction square to its chief ray, seen along that ray. */
export function seenWidth(patch: PatchWords, direction: Place): number {
  const runs = edgePoints(patch, 720).map(([x, y]) => x * direction[0] + y * direction[1]);
  return Math.max(...runs) - Math.min(...runs);
}

/** The least extent of the patch seen along its chief ray, over all directions. */
export function narrowestSeen(scene: Scene, patch: PatchWords): number {
  const chief = chiefRayOf(scene, patch);
  const first = unit(plus([1, 0, 0], chief, -chief[0]));
  const second = outer(chief, first);
  const seen = edgePoints(patch, 360).map(
    ([x, y]): Point => [inner([x, y, 0], first), inner([x, y, 0], second)],
  );
  const widths = Array.from({ length: 7200 }, (_, k) => {
    const [c, s] = [Math.cos((Math.PI * k) / 7200), Math.sin((Math.PI * k) / 7200)];
    const runs = seen.map(([u, v]) => u * c + v * s);
    return Math.max(...runs) - Math.min(...runs);
  });
  return Math.min(...widths);
}

/** Fringes over the patch for a move of the reference, mm, against the design place. */
export function fringesOfMove(scene: Scene, patch: PatchWords, move: Place): Field {
  const target = targetOf(scene, patch);
  const moved = plus(target, move, 2);
  const line = patch.focus === 'line' ? lineDirectionOf(scene, patch) : undefined;
  const way = (at: Place, to: Place): number =>
    line === undefined ? Math.hypot(...plus(at, to, -1)) : toLine(at, to, line);
  return (x, y) => (way([x, y, 0], moved) - way([x, y, 0], target)) / scene.light.wavelength;
}

/** Fringes from edge to edge for a move along a direction square to the chief ray, and from middle to edge for one along it. */
export function fringesSeen(scene: Scene, patch: PatchWords, direction: Place, by: number): number {
  const field = fringesOfMove(scene, patch, [direction[0] * by, direction[1] * by, direction[2] * by]);
  const values = edgePoints(patch, 720).map(([x, y]) => field(x, y));
  if (Math.abs(inner(direction, chiefRayOf(scene, patch))) < 0.5)
    return Math.max(...values) - Math.min(...values);
  const middle = field(...patch.centre);
  return Math.max(...values.map((value) => Math.abs(value - middle)));
}

/** Fringes a mm on the pattern, the bias's and the move's together, where they are closest in the patch. */
export function closestFringes(scene: Scene, patch: PatchWords, move: Place): number {
  const moved = fringesOfMove(scene, patch, move);
  const bias = sceneBias(scene, patch);
  // The camera sees the bias on both passages.
  const seen: Field = (x, y) => moved(x, y) + 2 * (patch.order ?? 1) * bias(x, y);
  const [cx, cy] = patch.centre;
  const places = edgePoints(patch, 16).flatMap(([x, y]): Point[] => [
    [cx + 0.97 * (x - cx), cy + 0.97 * (y - cy)],
    [cx + 0.1 * (x - cx), cy + 0.1 * (y - cy)],
  ]);
  const step = 1e-3;
  return (
    Math.max(
      ...places.map(([x, y]) =>
        Math.hypot(seen(x + step, y) - seen(x - step, y), seen(x, y + step) - seen(x, y - step)),
      ),
    ) /
    (2 * step)
  );
}
