/**
 * Where on a surface Newton's method begins to look for the normal through a place of the pattern: a table of the surface's coordinates,
 * between its nodes bilinear. A node by a sample starts from it, the others from a neighbour that is settled, outward from the samples, so
 * that all are on the sheet of normals that the samples are on. mm.
 */
import type { Bounds } from '../geometry/extent.ts';
import type { Vec2 } from '../geometry/vector.ts';

/** A place on the surface, by its own coordinates, and where its normal meets the pattern. */
export interface FootingPlace {
  readonly on: Vec2;
  readonly at: Vec2;
}

/** Nodes along each side of the table: about as dense as the samples. */
const NODES = 21;

/** `coordinatesOf`: those of the normal through a place, mm, from a guess; undefined where none is found. */
export function guessTable(
  coordinatesOf: (x: number, y: number, guess: Vec2) => Vec2 | undefined,
  footings: readonly FootingPlace[],
  { minX, minY, maxX, maxY }: Bounds,
): (x: number, y: number) => Vec2 {
  const stepX = (maxX - minX) / (NODES - 1) || 1;
  const stepY = (maxY - minY) / (NODES - 1) || 1;
  const us = new Float64Array(NODES * NODES);
  const vs = new Float64Array(NODES * NODES);
  const isSettled = new Uint8Array(NODES * NODES);
  const settled: number[] = [];
  const settle = (i: number, j: number, guess: Vec2): void => {
    const k = j * NODES + i;
    if (i < 0 || j < 0 || i >= NODES || j >= NODES || isSettled[k] === 1) return;
    const found = coordinatesOf(minX + i * stepX, minY + j * stepY, guess) ?? guess;
    us[k] = found[0];
    vs[k] = found[1];
    isSettled[k] = 1;
    settled.push(k);
  };
  const node = (steps: number): number => Math.min(NODES - 1, Math.max(0, Math.round(steps)));
  for (const { on, at } of footings) settle(node((at[0] - minX) / stepX), node((at[1] - minY) / stepY), on);
  for (const k of settled) {
    const guess: Vec2 = [us[k]!, vs[k]!];
    const i = k % NODES;
    const j = (k - i) / NODES;
    settle(i - 1, j, guess);
    settle(i + 1, j, guess);
    settle(i, j - 1, guess);
    settle(i, j + 1, guess);
  }
  const cell = (steps: number): number => Math.min(NODES - 2, Math.max(0, Math.floor(steps)));
  return (x, y) => {
    const across = (x - minX) / stepX;
    const up = (y - minY) / stepY;
    const i = cell(across);
    const j = cell(up);
    const a = across - i;
    const b = up - j;
    const k = j * NODES + i;
    const l = k + NODES;
    const u = (1 - b) * ((1 - a) * us[k]! + a * us[k + 1]!) + b * ((1 - a) * us[l]! + a * us[l + 1]!);
    const v = (1 - b) * ((1 - a) * vs[k]! + a * vs[k + 1]!) + b * ((1 - a) * vs[l]! + a * vs[l + 1]!);
    return [u, v];
  };
}
