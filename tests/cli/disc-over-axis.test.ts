/**
 * A patch over the axis of a cone or a torus, through the executable: refused with its place in the file and the axis' place on the
 * pattern, which is where the phase by an independent search has its kink (waves/mm), or the middle of where it has no value (mm).
 * A ring that leaves out next to nothing of the axis is not written either.
 */
import { existsSync } from 'node:fs';
import { join } from 'node:path';
import { expect, test } from 'vitest';
import type { DatumWords, Scene } from '../independent/scene.ts';
import { sceneSmoothPhase } from '../independent/scene-phase.ts';
import { DATUMS, ringScene, wordsOf } from '../pattern/ring-scenes.ts';
import { datumlight, folder, scenarioFile } from './support/run.ts';

const HOLLOW = { cone: { apex: [0, 0, 40], axis: [0, 0, -1], angle: 160, side: 'inside' } } as const;
const DISC = { circle: { diameter: 46 } };
/** mm: a message states a place to a micrometre. */
const STATED = 1e-3;

const discScene = (datum: DatumWords, faces: 'part' | 'interferometer', isTilted = true): Scene => {
  const scene = ringScene(['cone', faces], DISC, isTilted);
  return { ...scene, part: { ...scene.part, datums: { D: datum } } };
};

async function refused(scene: Scene, args: readonly string[]) {
  const text = JSON.stringify(wordsOf(scene), null, 1);
  const file = scenarioFile(text);
  const { code, stderr } = await datumlight([args[0]!, file, ...args.slice(1)]);
  const lines = text.split('\n');
  const line = lines.findLastIndex((words) => words.includes('"outline"'));
  const found =
    /^.*:(\d+):\d+: the axis of datum D passes through patch ring at \((.*), (.*)\) mm: .*; leave the axis out, e\.g\. by a ring around \(\2, \3\) mm \[error bad-outline\]$/m.exec(
      stderr,
    );
  expect(found, stderr).not.toBeNull();
  expect(Number(found![1])).toBe(line + 1);
  return { code, at: [Number(found![2]), Number(found![3])] as const };
}

test.each([
  ['cone', DATUMS.cone],
  ['hollow cone', HOLLOW],
  ['torus', DATUMS.torus],
])('a disc over the axis of a %s is refused where its phase has a kink', async (_, datum) => {
  const scene = discScene(datum, 'part');
  const { code, at } = await refused(scene, ['check']);
  expect(code).toBe(2);
  const phase = sceneSmoothPhase(scene, 'ring');
  const h = 20 * STATED;
  for (const [dx, dy] of [
    [h, 0],
    [0, h],
  ] as const) {
    const here = phase(...at);
    const bend = (phase(at[0] + dx, at[1] + dy) + phase(at[0] - dx, at[1] - dy) - 2 * here) / h;
    // Twice the slope of the cone, or of the way to the circle, over a wavelength: some 500 waves/mm.
    expect(Math.abs(bend)).toBeGreaterThan(100);
  }
});

test('behind glass the place is the middle of where no light leaves', async () => {
  const scene = discScene(DATUMS.cone, 'interferometer');
  const { at } = await refused(scene, ['check']);
  // Of a ring in the disc's stead, whose zero lies where there is light.
  const ring = {
    ...scene,
    patches: ringScene(['cone', 'interferometer'], { ring: { inner: 44, outer: 46 } }).patches,
  };
  const phase = sceneSmoothPhase(ring, 'ring');
  const reach = ([dx, dy]: readonly [number, number]): number => {
    let [low, high] = [0, 3];
    while (high - low > STATED / 10) {
      const middle = (low + high) / 2;
      if (Number.isNaN(phase(at[0] + middle * dx, at[1] + middle * dy))) low = middle;
      else high = middle;
    }
    return low;
  };
  const reaches = (
    [
      [1, 0],
      [-1, 0],
      [0, 1],
      [0, -1],
    ] as const
  ).map(reach);
  // The lateral cosine cos 80° through 6.35 mm of glass: 0.76 mm.
  for (const each of reaches) expect(each).toBeGreaterThan(0.7);
  expect(Math.abs(reaches[0]! - reaches[1]!) / 2).toBeLessThan(2 * STATED);
  expect(Math.abs(reaches[2]! - reaches[3]!) / 2).toBeLessThan(2 * STATED);
});

test('`make` refuses it too, as a draft and with a pattern, and writes nothing', async () => {
  const out = join(folder(), 'out');
  const args = ['make', '--out', out, '--draft', '--pattern', 'gds'];
  const { code } = await refused(discScene(HOLLOW, 'part', false), args);
  expect(code).toBe(2);
  expect(existsSync(out)).toBe(false);
});

test('a ring with a hole too small to write around is refused by its name, place and a way out', async () => {
  const out = join(folder(), 'out');
  const scene = discScene(HOLLOW, 'part', false);
  const patches = [{ ...scene.patches[0]!, outline: { ring: { inner: 0.01, outer: 30 } } }];
  const text = JSON.stringify(wordsOf({ ...scene, patches }), null, 1);
  const file = scenarioFile(text);
  // Its coefficients cannot be right either, which a draft lets pass.
  const args = ['make', file, '--out', out, '--draft', '--pattern', 'gds'];
  const { code, stderr } = await datumlight(args);
  expect(code).toBe(2);
  const line = text.split('\n').findLastIndex((words) => words.includes('"outline"')) + 1;
  expect(stderr).toMatch(
    new RegExp(
      `:${line}:\\d+: patch ring cannot be written as pattern lines: the phase between .* mm has no bound .*; leave out more around .* \\[error bad-value\\]`,
    ),
  );
  expect(stderr).toMatch(/miss its phase by [\d.]+ waves .*\[error fit-residual\]/);
  expect(existsSync(out)).toBe(false);
});
