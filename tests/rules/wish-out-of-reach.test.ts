/**
 * Wishes far below what anything can tell: the advice is still words and figures that can be written, with no figure of 0 and no number of
 * patches by the billion.
 */
import { expect, test } from 'vitest';
import { missesWanted } from '../../src/rules/misses-wanted.ts';
import { designFrom, pointPatch } from '../metrology/support/design-from.ts';

const AZIMUTHS = [0.3, 2.4, 4.5];
const around = (radius: number, azimuth: number): [number, number] => [
  radius * Math.cos(azimuth),
  radius * Math.sin(azimuth),
];

/** The least wishes that a scenario may have, and others on the way: mm, rad. */
test.each([
  [1e-12, 1e-15],
  [1e-9, 1e-12],
  [1e-7, 1e-9],
])('a wish of %f mm and %f rad', (length, angle) => {
  const wish = {
    x: `${length} mm`,
    y: `${length} mm`,
    z: `${length} mm`,
    rx: `${angle} rad`,
    rz: `${angle} rad`,
  };
  const design = designFrom({
    part: { origin: [0, 0, 150] },
    references: AZIMUTHS.map((azimuth, k) => ({
      id: `b${k}`,
      kind: 'ball',
      diameter: 12.7,
      at: [...around(84, azimuth), -20],
      frame: 'part',
    })),
    patches: AZIMUTHS.map((azimuth, k) => pointPatch(`p${k}`, `b${k}`, around(60, azimuth), 12)),
    wanted: wish,
  });
  const found = missesWanted.find(design);
  expect(found).toHaveLength(5);
  for (const { message, hint } of found) {
    const said = `${message}; ${hint}`;
    expect(said).not.toMatch(/NaN|Infinity|e-\d|\bof 0 |, 0 times/);
    expect(said).toMatch(/less than 0\.000001|0\.0000\d+ times|of 0\.\d*[1-9]/);
    expect(said).not.toMatch(/\d{8} times/);
  }
});
