/** The heap's order against a whole sort. */
import { expect, test } from 'vitest';
import { randomFrom } from '../../src/algebra/random.ts';
import { leastFirst } from '../../src/planning/least-first.ts';

test.each([0, 1, 2, 3, 10, 1000])(
  '%i values: as a stable sort puts them, those without end left out',
  (count) => {
    const random = randomFrom(`heap ${count}`);
    const values = Float64Array.from({ length: count }, () =>
      random.uniform() < 0.2 ? Infinity : Math.floor(50 * random.uniform()),
    );
    const sorted = Array.from(values.keys())
      .filter((k) => values[k]! < Infinity)
      .toSorted((a, b) => values[a]! - values[b]!);
    expect([...leastFirst(values)]).toEqual(sorted);
  },
);
