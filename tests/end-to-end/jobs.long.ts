/**
 * Ten jobs, each set by a simulated operator from random misalignments: pictures by rays traced in code of its own, read with a normal error
 * of half of `readable` and rounded to the whole of it, in a camera turned each of its eight ways, moves made with an error of 3 %. He goes
 * on until `steer` says that it is done. mm, rad.
 */
import { describe, expect, it } from 'vitest';
import { SIXTEEN } from '../independent/camera-seen.ts';
import { align, type Ended, jobNamed, type Start, steerOnce, TELLS } from './support/operator.ts';
import { zoneOfEverything } from './support/zone-of-everything.ts';

const EIGHT = SIXTEEN.filter(({ view }) => view === 'interferometer');
const PLAIN = EIGHT[0]!;

interface Case {
  readonly name: string;
  readonly start: Start;
  /** Of each orientation of the camera. */
  readonly starts: number;
}

/** Starts from which dozens of fringes show, and each can be counted. */
const ENDING: readonly (Case & { readonly most: number; readonly mean: number })[] = [
  { name: 'ring-only', start: { hologram: [0.03, 0.03, 0.2, 5e-5, 5e-5, 0] }, starts: 4, most: 5, mean: 3.5 },
  {
    ...{ name: 'balls-near', start: { part: [0.05, 0.05, 0.3, 3e-4, 3e-4, 3e-4] } },
    ...{ starts: 4, most: 8, mean: 4 },
  },
  {
    ...{ name: 'smrs-on-a-stage', start: { part: [0.5, 0.5, 0.5, 5e-4, 5e-4, 5e-4] } },
    ...{ starts: 4, most: 6, mean: 4 },
  },
  { name: 'smrs-on-towers', start: { own: [0.3, 0.3, 0.3] }, starts: 4, most: 5, mean: 3.2 },
  {
    ...{ name: 'everything', starts: 1, most: 10, mean: 7 },
    start: { hologram: [0.01, 0.01, 0.1, 2e-5, 2e-5, 0], part: [0.03, 0.03, 0.1, 1e-4, 1e-4, 1e-4] },
  },
  { name: 'tracker', start: { own: [0.3, 0.3, 0.3] }, starts: 4, most: 5, mean: 3.2 },
  // These see some combinations of motions a hundred times less well than others.
  {
    ...{ name: 'kinematic-vees', start: { part: [0.05, 0.05, 0.3, 3e-4, 3e-4, 3e-4] } },
    ...{ starts: 4, most: 6, mean: 4 },
  },
  {
    ...{ name: 'infrared', start: { part: [0.02, 0.02, 0.1, 1e-4, 1e-4, 1e-4] } },
    ...{ starts: 4, most: 10, mean: 4.5 },
  },
];

const jobOf = ({ name, start }: Case) => jobNamed(name, start, zoneOfEverything);

async function runs(one: Case, believed?: (typeof EIGHT)[number], reversed = false) {
  const job = await jobOf(one);
  const ended: (Ended & { readonly seed: number })[] = [];
  for (const [k, turn] of EIGHT.entries()) {
    if (believed !== undefined && turn === believed) continue;
    for (let start = 0; start < one.starts; start++) {
      const seed = 100 * k + start + 1;
      ended.push({ seed, ...(await align(job, seed, turn, believed ?? turn, reversed)) });
    }
  }
  return ended;
}

/** By the full budget and, stricter, by the readings' own uncertainty. */
const isWrong = ({ done, worst, worstOfReadings }: Ended): boolean =>
  done && !(worst < 3 && worstOfReadings < 3);

describe.each(ENDING)('$name', (one) => {
  it('ends within three standard uncertainties of its place from every start, the camera turned any way', async () => {
    const ended = await runs(one);
    expect(ended.filter((each) => !each.done || isWrong(each))).toEqual([]);
    const isFalse = (rule: string): boolean => TELLS.has(rule) || rule === 'moves-differ';
    expect(ended.filter(({ said }) => said.some(isFalse))).toEqual([]);
    const rounds = ended.map((each) => each.rounds);
    const mean = rounds.reduce((sum, each) => sum + each, 0) / rounds.length;
    const words = `${one.name}: ${Math.max(...rounds)} rounds at most, ${mean.toFixed(1)} on average`;
    expect(Math.max(...rounds), words).toBeLessThanOrEqual(one.most);
    expect(mean, words).toBeLessThanOrEqual(one.mean);
  });
});

/** Errors that keep an operator from going on: signs or orientation told, or readings that no move explains. */
const STOPS = new Set([...TELLS, 'moves-differ', 'contradicting-readings', 'beyond-capture-range']);

describe.each(ENDING)('$name', (one) => {
  it.each([
    ['in a camera that is turned otherwise than stated', PLAIN, false],
    ['with all signs wrong', undefined, true],
  ] as const)('read %s is not said to be done, and the operator is told', async (_, believed, reversed) => {
    const ended = await runs({ ...one, starts: 1 }, believed, reversed);
    expect(ended.filter(isWrong)).toEqual([]);
    // A start that happens to be within its uncertainty may rightly be done.
    expect(ended.filter(({ done, said }) => !done && !said.some((rule) => STOPS.has(rule)))).toEqual([]);
  });
});

it.each(['screens-only', 'seats-and-machine'])(
  '%s: there is nothing to count, and a count is refused',
  async (name) => {
    const job = await jobNamed(name, {});
    const still = { hologram: [0, 0, 0, 0, 0, 0], part: undefined as never, own: new Map() };
    expect(job.bench.read(still, PLAIN, { error: () => 0, round: 0.1 })).toEqual([]);
    const { id } = job.loaded.design!.patches[0]!;
    const report = await steerOnce(job, `readings:\n  - {patch: ${id}, fringes: 0}\n`);
    expect(report.done ?? false).toBe(false);
    expect(report.findings.map(({ severity }: { severity: string }) => severity)).toContain('error');
  },
);
