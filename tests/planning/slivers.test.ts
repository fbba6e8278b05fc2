/**
 * Planned strips: no thinner than 3 : 1 unless only thinner ones meet the wish; and none that a rule refuses, its Fresnel number along the
 * line and across it worked out anew: (w/2)²/(2sλ), 2s the ray matrix's B there and back (A. E. Siegman, *Lasers*, ch. 20). mm.
 */
import { describe, expect, test } from 'vitest';
import type { Plan } from '../../src/planning/plan.ts';
import { RULES } from '../../src/rules/all-rules.ts';
import { planned, type Words } from './support/open-scenario.ts';
import '../machine/patience.ts';

const LAMBDA = 632.8e-6;
const MOST_DRAWN_OUT = 3;
/** Widths are rounded up to 0.1. */
const ROUNDING = 1e-9;
const LEAST_FRESNEL_NUMBER = 2;

/** A retroreflector and two open strips; the smaller it is, the shorter the line that comes back. */
const scene = (wish: number, more: Words, diameter = 12.7, z = 900): Words => ({
  part: { origin: [150, 50, z] },
  references: [{ id: 'c', kind: 'smr', diameter, at: [150, 50, z], centring: '0.5 um', nest: '0.5 um' }],
  patches: ['one', 'other'].map((id) => ({
    id,
    reference: 'c',
    focus: 'line',
    centre: 'auto',
    lineAngle: 'auto',
    outline: 'auto',
    size: { least: 12 },
    ...more,
  })),
  wanted: { x: `${wish} um`, y: `${wish} um` },
});

interface Strip {
  readonly drawnOut: number;
  /** The lesser of both directions. */
  readonly fresnelNumber: number;
}

function stripsOf({ scenario, planned }: Plan): Strip[] {
  return planned.map(({ patch: { outline, centre, reference } }) => {
    if (outline.shape !== 'rectangle') throw new Error('a strip is a rectangle');
    const { width, height } = outline;
    const { at } = scenario.references.find(({ id }) => id === reference)!;
    const away = Math.hypot(at[0] - centre[0], at[1] - centre[1], at[2]);
    // What a slanted view may take off at most.
    const narrowest = (Math.min(width, height) * at[2]) / away;
    return {
      drawnOut: Math.max(width / height, height / width),
      fresnelNumber: (narrowest / 2) ** 2 / (2 * away * LAMBDA),
    };
  });
}

const worst = (strips: readonly Strip[]) => ({
  drawnOut: Math.max(...strips.map(({ drawnOut }) => drawnOut)),
  fresnelNumber: Math.min(...strips.map(({ fresnelNumber }) => fresnelNumber)),
});

describe('two strips on a retroreflector whose line is 5.1 mm at most', () => {
  test('are no thinner than 3 : 1 where that meets the wish', () => {
    const plan = planned(scene(6, {}));
    expect(plan.reasons).toEqual([]);
    expect(worst(stripsOf(plan)).drawnOut).toBeLessThanOrEqual(MOST_DRAWN_OUT + ROUNDING);
  });

  test('are thinner where strips of 3 : 1 miss the wish', () => {
    // As wide as three times the longest line: what 3 : 1 allows.
    const stout = planned(scene(5.5, { size: { least: 12, most: 15.6 } }));
    expect(worst(stripsOf(stout)).drawnOut).toBeLessThanOrEqual(MOST_DRAWN_OUT + ROUNDING);
    expect(stout.worst).toBeGreaterThan(1);
    const slender = planned(scene(5.5, {}));
    expect(slender.reasons).toEqual([]);
    expect(worst(stripsOf(slender)).drawnOut).toBeGreaterThan(MOST_DRAWN_OUT);
  });

  test('are no thinner than 3 : 1 where thinner ones would not meet the wish either', () => {
    const plan = planned(scene(1, {}));
    expect(plan.worst).toBeGreaterThan(1);
    expect(worst(stripsOf(plan)).drawnOut).toBeLessThanOrEqual(MOST_DRAWN_OUT + ROUNDING);
  });
});

/** Asked before a place is taken: warnings among them. */
const OF_A_PLACE = RULES.filter(({ planning }) => planning.rank !== undefined).map(({ code }) => code);

test.each([
  ['12.7 mm, 900 mm off', 12.7, 900],
  ['38.1 mm, 2500 mm off', 38.1, 2500],
  ['38.1 mm, 5000 mm off', 38.1, 5000],
])('a loose wish for a retroreflector of %s: small strips, none refused by a rule', (_, diameter, z) => {
  const plan = planned(scene(1000, { size: {} }, diameter, z));
  expect(plan.reasons).toEqual([]);
  expect(plan.findings.filter(({ rule }) => OF_A_PLACE.includes(rule))).toEqual([]);
  const { fresnelNumber } = worst(stripsOf(plan));
  expect(fresnelNumber).toBeGreaterThanOrEqual(LEAST_FRESNEL_NUMBER);
  // Trimmed to little more than that: it is this limit that the plan stands at.
  expect(fresnelNumber).toBeLessThan(1.5 * LEAST_FRESNEL_NUMBER);
});
