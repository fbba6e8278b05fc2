/**
 * Alignments from random starts, read with noise and rounded, screws turned with an error of 3 %: each is said to be done, and the part then
 * stands within three standard uncertainties of its place, in all six degrees. A hundred starts are in session-loop.long.ts.
 */
import { expect, it } from 'vitest';
import { alignFrom } from './support/session-loop.ts';
import '../machine/patience.ts';

it.each([
  ['near the null', 0.1, 4],
  ['where dozens of fringes show', 1, 4],
])('from %s', (_, most, starts) => {
  for (let seed = 1; seed <= starts; seed++) {
    const { done, worst, said } = alignFrom(seed, most);
    expect({ seed, done, said: said.filter((rule) => rule !== 'moves-undecided') }).toEqual({
      seed,
      done: true,
      said: [],
    });
    expect(worst).toBeLessThan(3);
  }
});
