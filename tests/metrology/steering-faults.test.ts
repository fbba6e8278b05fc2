/**
 * What steering makes of readings with one slip in them: the slip is among the suggestions, moves come from the other readings alone and
 * lead to where the part stands, and more slips than one carry no moves. The truth is the displacement that the readings were traced with.
 */
import { describe, expect, it } from 'vitest';
import { steer } from '../../src/metrology/steering/steering.ts';
import { slipWords, steeringFindings } from '../../src/metrology/steering/steering-findings.ts';
import { displacementOf } from '../../src/metrology/steering/steering-part.ts';
import { undecidedSigns } from '../../src/metrology/steering/steering-signs.ts';
import type { BenchReading } from '../../src/scenario/bench-reading.ts';
import { Bench, exampleDesign } from './support/bench.ts';
import '../machine/patience.ts';

const bench = new Bench(exampleDesign('steer-mirror-on-stage'));
const PART = { translation: [0.08, -0.06, 0.1], rotation: [2e-4, -1.5e-4, 2.5e-4] } as const;
const READ = bench.read(PART);

type Fringes = Extract<BenchReading, { kind: 'fringes' }>;
const countOf = (id: string): number => (READ as Fringes[]).find(({ patch }) => patch === id)!.fringes[0]!;
const having = (counts: Readonly<Record<string, number>>): BenchReading[] =>
  (READ as Fringes[]).map((one) => (one.patch in counts ? { ...one, fringes: [counts[one.patch]] } : one));

describe('a single slip', () => {
  it.each([
    ['a sign', { 'west-rim': -countOf('west-rim') }, 'the sign of west-rim were the other one'],
    [
      'two readings exchanged',
      { 'west-rim': countOf('north-near'), 'north-near': countOf('west-rim') },
      'north-near and west-rim were exchanged',
    ],
    ['a fringe too few', { 'west-near': countOf('west-near') - 1 }, 'west-near tilt had one fringe more'],
  ])('%s is suggested, and not applied', (_, counts, words) => {
    const steering = steer(bench.design, having(counts));
    const [group, ...others] = steering.soundness.contradicting;
    expect(others).toEqual([]);
    expect(group!.slips.map(slipWords)).toContain(words);
    const [finding] = steeringFindings(steering);
    expect(finding).toMatchObject({ severity: 'error', rule: 'contradicting-readings' });
    expect(finding!.hint).toMatch(/they would agree if .*nothing of this was applied/);
  });

  it('of one reading: the moves are those of the others, inside their uncertainty of the truth', () => {
    const { part, soundness } = steer(bench.design, having({ 'west-rim': -countOf('west-rim') }));
    const west = bench.design.patches.findIndex(({ id }) => id === 'west-rim');
    expect(soundness.setAside.get(west)).toBe('suspect');
    expect(part.readings.map(({ entry }) => entry)).not.toContain(west);
    const { solution } = part.candidates[0]!;
    expect(solution.consistency.contradictory).toBe(false);
    const { translation, rotation } = displacementOf(solution.unknowns, part.pose.size);
    const truth = [...PART.translation, ...PART.rotation];
    const compared = [...translation, ...rotation].flatMap((found, k) => {
      const sigma = part.uncertainty.sigma[k];
      return sigma === undefined ? [] : [Math.abs(found - truth[k]!) / sigma];
    });
    expect(compared.length).toBeGreaterThanOrEqual(3);
    expect(Math.max(...compared)).toBeLessThan(3);
  });
});

it('several slips at once carry no moves of the part', () => {
  const counts = { 'west-near': 7, 'east-far': 5, 'north-far': -9, 'north-rim': 9 };
  const { part, soundness } = steer(bench.design, having(counts));
  expect(new Set(soundness.setAside.values())).toEqual(new Set(['contradicts']));
  expect(part.readings).toEqual([]);
});

it('a reading beyond the capture range carries none', () => {
  const { part, soundness } = steer(bench.design, having({ 'west-rim': 4000 }));
  expect([...soundness.setAside.values()]).toEqual(['beyond range']);
  expect(part.readings).toHaveLength(8);
  expect(part.candidates[0]!.solution.consistency.contradictory).toBe(false);
});

describe('unknown signs', () => {
  const unsigned = (count: number): BenchReading[] =>
    (READ as Fringes[]).map((one, k) =>
      k < count ? { ...one, fringes: one.fringes.map((n) => Math.abs(n!)), signKnown: false } : one,
    );

  it.each([7, 9])('of %i readings are found', (count) => {
    const { candidates } = steer(bench.design, unsigned(count)).part;
    const truth = READ.slice(0, count).map((one) => Math.sign((one as Fringes).fringes[0]!) || 1);
    expect(candidates.map(({ signs }) => [...signs.values()])).toContainEqual(truth);
    expect(candidates.length).toBeLessThanOrEqual(count === 7 ? 8 : 32);
  });

  it('that so many combinations agree with that none can be told are said to be', () => {
    const vague = unsigned(7).map((one) => ({ ...(one as Fringes), uncertainty: 100 }));
    const { part } = steer(bench.design, vague);
    expect(part.candidates).toEqual([]);
    expect(undecidedSigns(part.problem)).toMatch(
      /^7 signs are unknown, and 64 or more combinations of them agree/,
    );
  });
});
