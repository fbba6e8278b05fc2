/**
 * Speed of the written pattern of a ring around the axis of a cone or a torus, in parts clear of the axis, against a square of like area
 * beside the axis in the same wave: vertices per second of CPU, at the default bound. The table is printed first. Run by `npm run bench`.
 */
import { bench, describe } from 'vitest';
import type { DesignedPatch } from '../../src/design/design.ts';
import { tracePattern } from '../../src/pattern/trace-pattern.ts';
import type { OutlineWords } from '../independent/scene.ts';
import { designFrom } from '../metrology/support/design-from.ts';
import { CASES, type Case, ring, ringScene, wordsOf } from './ring-scenes.ts';

const REPETITIONS = 4;
/** mm: 0.3 mm wide at a radius of 20 mm, 37.98 mm²; the square stands where the ring is. */
const [INNER, OUTER] = [20, 20.3];
const SIDE = Math.sqrt(Math.PI * (OUTER ** 2 - INNER ** 2));

function patchOf(of: Case, outline: OutlineWords, centre: readonly [number, number]): DesignedPatch {
  const scene = ringScene(of, outline);
  return designFrom(wordsOf({ ...scene, patches: [{ ...scene.patches[0]!, centre }] })).patches[0]!;
}

function traced(patch: DesignedPatch): { vertices: number; zones: number } {
  let [vertices, zones] = [0, 0];
  for (const { count } of tracePattern(patch, { dutyCycle: 0.5 }).zones()) {
    vertices += count;
    zones++;
  }
  return { vertices, zones };
}

const PATCHES = CASES.flatMap((of) => {
  const around = patchOf(of, ring(2 * INNER, 2 * OUTER), [0, 0]);
  const beside = patchOf(of, { rectangle: { width: SIDE, height: SIDE } }, [(INNER + OUTER) / 2, 0]);
  return [
    { name: `${of[0]}, pattern toward the ${of[1]}: ring`, patch: around },
    { name: `${of[0]}, pattern toward the ${of[1]}: square`, patch: beside },
  ];
});

for (const { name, patch } of PATCHES) {
  let [seconds, found] = [Number.POSITIVE_INFINITY, { vertices: 0, zones: 0 }];
  for (let repetition = 0; repetition < REPETITIONS; repetition++) {
    const start = process.cpuUsage().user;
    found = traced(patch);
    seconds = Math.min(seconds, (process.cpuUsage().user - start) / 1e6);
  }
  const { vertices, zones } = found;
  console.log(
    JSON.stringify({
      patch: name,
      zones,
      vertices,
      'vertices/s': Math.round(vertices / seconds),
      'ms CPU': Math.round(1000 * seconds),
    }),
  );
}

describe('ring', () => {
  for (const { name, patch } of PATCHES.slice(0, 2))
    bench(name, () => {
      if (traced(patch).vertices === 0) throw new Error('empty');
    });
});
