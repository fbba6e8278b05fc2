/**
 * Speed of reading a camera's frame of a thousand pixels a side with twenty patches: found, and each patch fitted; milliseconds of CPU.
 * The table is printed first. Run by `npm run bench`.
 */
import { bench, describe } from 'vitest';
import { deviates } from '../../independent/random.ts';
import { readTaken } from './support/read-taken.ts';
import { ballScene, lineScene } from './support/scenes.ts';
import { randomOff, taker } from './support/taken.ts';

const PATCHES = 20;
const PIXELS = 1000;
/** The least of so many: other programs only make it longer. */
const REPETITIONS = 15;

const CASES = [
  ['line', lineScene],
  ['ball', ballScene],
] as const;

const readers = CASES.map(([kind, make]) => {
  const random = deviates(5);
  const scene = make(random, PATCHES);
  const wishes = { pixels: PIXELS, noise: 0.03, distortion: 0.05 };
  const taken = taker(scene)(random, randomOff(scene.design, random), wishes);
  return {
    name: `${PATCHES} ${kind} patches on a ${PIXELS.toLocaleString('en')}-pixel frame`,
    read: () => readTaken(scene.design, taken, { belowBias: true }),
  };
});

const timed = readers.map(({ name, read }) => ({ name, read, first: 0, later: Number.POSITIVE_INFINITY }));
// In turn, so that what else the machine does falls on all of them.
for (let repetition = 0; repetition < REPETITIONS; repetition++)
  for (const each of timed) {
    const start = process.cpuUsage();
    const found = each.read();
    const { user, system } = process.cpuUsage(start);
    if (found?.length !== PATCHES) throw new Error('not found');
    const ms = (user + system) / 1000;
    if (repetition === 0) each.first = ms;
    else each.later = Math.min(each.later, ms);
  }
for (const { name, first, later } of timed)
  console.log(`${name}: ${Math.round(later)} ms of CPU, the first in a process ${Math.round(first)} ms`);

describe('a frame', () => {
  for (const { name, read } of readers)
    bench(name, () => {
      if (read() === undefined) throw new Error('not found');
    });
});
