/** Rules not-observed and misses-wanted: what they say, and when they hold their tongue. */

import { describe, expect, it } from 'vitest';
import { trimmed } from '../../src/quantity/format.ts';
import { missesWanted } from '../../src/rules/misses-wanted.ts';
import { notObserved } from '../../src/rules/not-observed.ts';
import { designFrom, type Words } from '../metrology/support/design-from.ts';
import { partPose } from '../metrology/support/reported.ts';

const DATUMS = {
  A: { plane: { point: [0, 0, 0], normal: [0, 0, -1] } },
  B: { cylinder: { point: [0, 0, 0], axis: [0, 0, 1], diameter: 240, side: 'outside' } },
};
const references = [90, 210, 330].map((azimuth, k) => {
  return { id: `r${k}`, kind: 'smr', diameter: 38.1, touches: [{ datum: 'B', azimuth }, { datum: 'A' }] };
});
const measurements = references.flatMap(({ id }) =>
  ['x', 'y', 'z'].map((axis, k) => {
    return {
      id: `${id}-${axis}`,
      reference: id,
      direction: [0, 1, 2].map((j) => (j === k ? 1 : 0)),
      uncertainty: '5 um',
    };
  }),
);
const onRim = (more: Words = {}) =>
  designFrom({ part: { origin: [0, 0, 900], datums: DATUMS }, references, measurements, ...more });

describe('not-observed', () => {
  it('warns of the turn about the axis of a rim and a face, in words', () => {
    const findings = notObserved.find(onRim());
    expect(findings).toHaveLength(1);
    expect(findings[0]).toMatchObject({
      severity: 'warning',
      rule: 'not-observed',
      where: 'part',
      path: ['part'],
    });
    expect(findings[0]!.message).toContain('rz of the part is not observed');
    expect(findings[0]!.message).toContain(
      "nothing constrains rotation about the part's z axis; the part is free to turn",
    );
  });

  it('is an error where that degree is wanted', () => {
    const findings = notObserved.find(onRim({ wanted: { x: '10 um', rz: '50 urad' } }));
    expect(findings).toHaveLength(1);
    expect(findings[0]).toMatchObject({ severity: 'error', where: 'wanted.rz', path: ['wanted', 'rz'] });
  });

  it('is silent where everything is observed', () => {
    const mounted = references.map(({ id }, k) => {
      return {
        id,
        kind: 'smr',
        diameter: 38.1,
        frame: 'part',
        at: [100 * Math.cos(k * 2.1), 100 * Math.sin(k * 2.1), 0],
      };
    });
    expect(notObserved.find(onRim({ references: mounted }))).toEqual([]);
  });

  it('names each degree of a part of which nothing is read', () => {
    expect(notObserved.find(onRim({ measurements: [] }))).toHaveLength(6);
  });
});

describe('misses-wanted', () => {
  const { sigma: stated, budget } = partPose(onRim());
  const { combined } = budget;

  it.each([
    ['x', 'um'],
    ['z', 'um'],
    ['ry', 'urad'],
  ] as const)('passes a wish for %s that is met and no less', (degree, unit) => {
    const wish = (factor: number) => onRim({ wanted: { [degree]: `${combined[degree]! * factor} ${unit}` } });
    expect(missesWanted.find(wish(1.001))).toEqual([]);
    const findings = missesWanted.find(wish(0.999));
    expect(findings).toHaveLength(1);
    expect(findings[0]).toMatchObject({
      severity: 'error',
      rule: 'misses-wanted',
      where: `wanted.${degree}`,
      path: ['wanted', degree],
      unit,
      value: expect.closeTo(combined[degree]!, 9),
      limit: expect.closeTo(combined[degree]! * 0.999, 6),
    });
    // Judged by the whole budget, which is more than the readings alone would have it; both are said.
    expect(combined[degree]!).toBeGreaterThan(1.001 * stated[degree]!);
    expect(findings[0]!.message).toContain(
      `combined standard uncertainty of ${trimmed(combined[degree]!, 2)}`,
    );
    expect(findings[0]!.message).toContain(`(${trimmed(stated[degree]!, 2)}`);
  });

  it('leaves a degree that is not observed to not-observed, and asks nothing where nothing is wanted', () => {
    expect(missesWanted.find(onRim({ wanted: { rz: '1 urad' } }))).toEqual([]);
    expect(missesWanted.find(onRim())).toEqual([]);
  });
});
