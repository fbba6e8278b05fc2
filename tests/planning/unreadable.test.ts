/** A patch whose light does not come back is never proposed, and the plan says what it found instead. */
import { describe, expect, test } from 'vitest';
import { planned, type Words } from './support/open-scenario.ts';

const open = (focus: string, more: Words = {}): Words => {
  return { id: 'p', reference: 'r', focus, centre: 'auto', outline: { circle: { diameter: 10 } }, ...more };
};
const smr = (more: Words = {}): Words => ({
  id: 'r',
  kind: 'smr',
  diameter: 38.1,
  at: [40, 90, 900],
  ...more,
});

/** Wide enough for all of the glass, so that no other rule takes the places. */
const BEAM = { focus: [0, 0, -500], fNumber: 3, pixelsAcrossBeam: 1000, readable: 0.1 };

describe.each<readonly [string, Words, Words, RegExp]>([
  ['a point focus on a retroreflector', smr(), open('point'), /at best, 0 % of the light of patch p/],
  [
    'a line focus on a ball',
    { id: 'r', kind: 'ball', diameter: 12.7, at: [20, 60, 130] },
    open('line', { lineAngle: 'auto' }),
    /at best, .*\d+(\.\d)? % of the light of patch p returns from r: .*beside the patch/,
  ],
  [
    'a retroreflector that faces away',
    smr({ axis: [1, 0, 0.2] }),
    open('line', { lineAngle: 'auto' }),
    /at best, 0 % of the light of patch p returns from r: .*the mirrors/,
  ],
])('%s', (_, reference, patch, found) => {
  const plan = planned({ references: [reference], patches: [patch], interferometer: BEAM }, { sites: 40 });

  test('has no place for the patch, and says how much light came back at best', () => {
    expect(plan.planned).toEqual([]);
    expect(plan.reasons.join('\n')).toMatch(/ruled out by .*no-return \(\d+\)/);
    expect(plan.reasons.join('\n')).toMatch(found);
  });
});
