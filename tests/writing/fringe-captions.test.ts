/** Captions of fringe pictures: how far off in µm, along which direction where the user says it, and how many fringes that adds. */
import { expect, test } from 'vitest';
import { captionOf } from '../../src/writing/picture/fringes-page.ts';
import type { NamedPicture } from '../../src/writing/picture/picture-set.ts';

const captioned = (
  state: string,
  displacement: readonly number[] | undefined,
  fringes: readonly number[] = [],
) => captionOf({ state, displacement, fringes } as unknown as NamedPicture);

test.each<[string, readonly number[] | undefined, readonly number[], string]>([
  ['far off', [0.03, 0, 0.04], [8], 'far off: 50 µm off, 8 fringes'],
  ['one fringe', [0, -0.00125, 0], [1], 'one fringe off: 1.25 µm off, 1 fringe'],
  ['aligned', [0, 0, 0], [0], 'aligned: in place'],
  // Two directions sensed: what adds less than a hundredth of a fringe is not counted.
  ['coarse', [0.01, 0, 0], [3, 0.0099], 'coarse: 10 µm off, 3 fringes'],
  ['coarse', [0.01, 0, 0], [3, -0.011], 'coarse: 10 µm off, 3, −0.011 fringes'],
  ['coarse', [0.01, 0, 0], [0.001], 'coarse: 10 µm off'],
  ['displaced', [0.012, -0.0056, 0], [1.5], 'displaced: 13.2 µm off (12, −5.6, 0) µm, 1.5 fringes'],
  ['displaced', undefined, [], 'displaced as specified'],
  ['aligned', undefined, [], 'at the design position'],
])('%s, %j', (state, displacement, fringes, caption) => {
  expect(captioned(state, displacement, fringes)).toBe(caption);
});
