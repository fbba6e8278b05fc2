/** A hundred alignments from random starts at each distance; see session-loop.test.ts. */
import { expect, it } from 'vitest';
import { alignFrom } from './support/session-loop.ts';

it.each([0.1, 0.5, 1, 2])(
  'a hundred starts up to %s mm and mrad off end within three standard uncertainties',
  (most) => {
    const ended = Array.from({ length: 100 }, (_, k) => ({ seed: k + 1, ...alignFrom(k + 1, most) }));
    expect(ended.filter(({ done, worst }) => !done || worst >= 3)).toEqual([]);
    // Readings as predicted are never taken for reversed or turned ones.
    expect(ended.filter(({ said }) => said.some((rule) => rule !== 'moves-undecided'))).toEqual([]);
    const rounds = ended.map((one) => one.rounds).sort((a, b) => a - b);
    expect(rounds[50]).toBeLessThanOrEqual(5);
  },
);
