/**
 * An operator at jobs that are read in few rings or see some motions weakly: by the readings after his first moves he is told that his camera
 * is turned otherwise or that all signs are wrong, and is told neither where all is right. Pictures by independent rays; see operator.ts.
 */
import { expect, test } from 'vitest';
import { SIXTEEN } from '../independent/camera-seen.ts';
import '../machine/patience.ts';
import { align, jobNamed, TELLS } from './support/operator.ts';

const EIGHT = SIXTEEN.filter(({ view }) => view === 'interferometer');
const PLAIN = EIGHT[0]!;
const STARTS = {
  'ring-only': { hologram: [0.03, 0.03, 0.2, 5e-5, 5e-5, 0] },
  'kinematic-vees': { part: [0.05, 0.05, 0.3, 3e-4, 3e-4, 3e-4] },
  infrared: { part: [0.02, 0.02, 0.1, 1e-4, 1e-4, 1e-4] },
} as const;
const jobs = Object.keys(STARTS) as (keyof typeof STARTS)[];

test.each(jobs)(
  '%s: rightly read, it ends where the datums ask for, and nothing is said to be wrong',
  async (name) => {
    const job = await jobNamed(name, STARTS[name]);
    for (const seed of [2, 5]) {
      const { done, worst, worstOfReadings, said } = await align(job, seed, PLAIN, PLAIN);
      expect({ seed, done }).toEqual({ seed, done: true });
      expect(Math.max(worst, worstOfReadings)).toBeLessThan(3);
      expect(said.filter((rule) => TELLS.has(rule) || rule === 'moves-differ')).toEqual([]);
    }
  },
);

test('a hologram moved by its ring in a camera that is turned otherwise: the next reading of the ring tells', async () => {
  const job = await jobNamed('ring-only', STARTS['ring-only']);
  for (const [k, turn] of EIGHT.entries()) {
    if (turn === PLAIN) continue;
    const { done, rounds, said } = await align(job, k, turn, PLAIN);
    expect({ turn, done, told: said.includes('camera-turned') }).toEqual({ turn, done: false, told: true });
    expect(rounds).toBeLessThanOrEqual(3);
  }
});

test.each(jobs)('%s: all signs wrong at once are told, and nothing is said to be done', async (name) => {
  const job = await jobNamed(name, STARTS[name]);
  const { done, said } = await align(job, 4, PLAIN, PLAIN, true);
  expect(done).toBe(false);
  expect(said).toContain('moves-reversed');
});
