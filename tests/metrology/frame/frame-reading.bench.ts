/**
 * Speed of reading a camera's frame of a thousand pixels a side with twenty patches: found, and each patch fitted; milliseconds of CPU.
 * The table is printed first. Run by `npm run bench`.
 */
import { bench, describe } from 'vitest';
import { deviates } from '../../independent/random.ts';
import { readTaken } from './support/read-taken.ts';
import { ballScene, lineScene } from './support/scenes.ts';
import { randomOff, taker } from './support/taken.ts';

const PATCHES = 18;
const PIXELS = 1000;
const REPETITIONS = 4;

const CASES = [
  ['line foci with roofs', lineScene],
  ['balls', ballScene],
] as const;

const readers = CASES.map(([name, make]) => {
  const random = deviates(5);
  const scene = make(random, PATCHES);
  const wishes = { pixels: PIXELS, noise: 0.03, distortion: 0.05 };
  const taken = taker(scene)(random, randomOff(scene.design, random), wishes);
  return { name, read: () => readTaken(scene.design, taken, { belowBias: true }) };
});

for (const { name, read } of readers) {
  const times = Array.from({ length: REPETITIONS }, () => {
    const start = process.cpuUsage();
    const found = read();
    const { user, system } = process.cpuUsage(start);
    return { ms: (user + system) / 1000, patches: found?.length };
  });
  const later = times.slice(1).map(({ ms }) => ms);
  console.log(
    JSON.stringify({
      frame: name,
      patches: times[0]!.patches,
      'first, ms CPU': Math.round(times[0]!.ms),
      'later, ms CPU': Math.round(Math.min(...later)),
    }),
  );
}

describe('a frame', () => {
  for (const { name, read } of readers)
    bench(name, () => {
      if (read() === undefined) throw new Error('not found');
    });
});
