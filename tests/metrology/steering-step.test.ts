/**
 * Screws with what no reading sees in their uncertainty, steps that the readings can vouch for, and when an alignment is done. A screw that
 * works one degree of freedom alone has that degree's uncertainty over its gear; a step with all signs wrong must leave readings countable.
 */
import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { designScenario } from '../../src/design/design-scenario.ts';
import { progressOf } from '../../src/metrology/steering/progress.ts';
import { screwTurns } from '../../src/metrology/steering/screw-uncertainty.ts';
import { steer } from '../../src/metrology/steering/steering.ts';
import { stepOf } from '../../src/metrology/steering/step.ts';
import { readScenario } from '../../src/reading/scenario/read-scenario.ts';
import type { BenchReading } from '../../src/scenario/bench-reading.ts';
import { Bench, exampleDesign } from './support/bench.ts';
import '../machine/patience.ts';

const bench = new Bench(exampleDesign('steer-mirror-on-stage'));
const SMALL = { translation: [0.08, -0.06, 0.1], rotation: [2e-4, -1.5e-4, 2.5e-4] } as const;
const fringes = (patch: string, count: number): BenchReading => ({
  kind: 'fringes',
  patch,
  fringes: [count],
  signKnown: true,
  uncertainty: undefined,
});

describe('a screw that works one degree of freedom alone', () => {
  // Of the example's screws: mm or rad for a turn.
  const ALONE = { across: [0, 0.5], up: [1, 0.5], tilt: [4, 2e-3], clock: [5, 1e-3] } as const;
  const seen = (of: Bench['design'], patches: (id: string) => boolean) =>
    steer(
      of,
      bench.read(SMALL).filter((one) => one.kind === 'fringes' && patches(one.patch)),
    ).part;
  it.each([
    ['all readings', () => true, 4],
    ['those of two retroreflectors', (id: string) => !id.startsWith('east'), 0],
    ['five, which leave one combination unseen', (id: string) => /near|north-rim|west-rim/.test(id), 1],
    ['those of one', (id: string) => id.startsWith('north'), 0],
  ] as const)('has its uncertainty over the gear: %s', (_, patches, least) => {
    const part = seen(bench.design, patches);
    const { screws } = screwTurns(bench.design.scenario.stage, part)!;
    let told = 0;
    for (const [id, [degree, perTurn]] of Object.entries(ALONE)) {
      const { sigma, combined } = screws.find((one) => one.id === id)!;
      for (const [screw, whole] of [
        [sigma, part.uncertainty.sigma[degree]],
        [combined, part.uncertainty.combined[degree]],
      ]) {
        expect(screw === undefined, id).toBe(whole === undefined);
        if (screw === undefined) continue;
        expect(screw / (whole! / perTurn)).toBeCloseTo(1, 6);
        told++;
      }
    }
    expect(told).toBeGreaterThanOrEqual(2 * least);
  });
});

describe('a step', () => {
  const edge = bench.displaced(0.8, 260, { uniform: () => 0.9 } as never);
  it('is the whole move where even wrong signs would leave every reading countable', () => {
    const { fraction, reason } = stepOf(bench.design, steer(bench.design, bench.read(SMALL)), false);
    expect({ fraction, reason }).toEqual({ fraction: 1, reason: undefined });
  });

  it('before signs are confirmed leads with all signs wrong to the edge of the capture range, and no further', () => {
    const steering = steer(bench.design, bench.read(edge));
    const { fraction, reason, reading } = stepOf(bench.design, steering, false);
    expect(reason).toBe('signs not confirmed');
    // 0.8 of the range, and as much again times the fraction.
    expect(0.8 * (1 + fraction)).toBeCloseTo(1, 2);
    expect(reading).toMatch(/tilt$/);
    expect(stepOf(bench.design, steering, true).reason).not.toBe('signs not confirmed');
  });

  it('of large moves that hold each other in balance is a part of them', () => {
    // The part's origin 10 m beyond its retroreflectors: a turn about it is balanced by a shift.
    const text = readFileSync('examples/steer-mirror-on-stage.yaml', 'utf8')
      .replace('origin: [0, 0, 1000]', 'origin: [0, 0, 11000]')
      .replaceAll(/, 0\], frame: part/g, ', -10000], frame: part')
      .replace(/stage:[\s\S]*$/, '');
    const { scenario } = readScenario(text, 'far');
    const made = designScenario(scenario!);
    if (!('design' in made)) throw new Error(JSON.stringify(made.findings));
    const far = new Bench(made.design);
    // x of a point 10 m below the origin turned by ry about it: −10000 ry.
    const part = { translation: [2000e-3 * 10, 0, 0], rotation: [0, 2e-3, 0] } as const;
    const step = stepOf(made.design, steer(made.design, far.read(part)), true);
    expect(step.reason).toBe('moves by hand');
    expect(step.fraction).toBeLessThan(1);
  });
});

describe('an alignment', () => {
  const nulls = bench.design.patches.map(({ id }) => fringes(id, 0));
  it('is done at the null, and not where a reference was not read', () => {
    expect(progressOf(bench.design, steer(bench.design, nulls))).toMatchObject({ done: true, over: [] });
    const some = nulls.filter((one) => one.kind === 'fringes' && !one.patch.startsWith('east'));
    expect(progressOf(bench.design, steer(bench.design, some))).toMatchObject({
      done: false,
      unread: ['east'],
    });
  });

  it('is done without references that no patch looks at: they are a tracker’s matter', () => {
    const text = readFileSync('tests/writing/sheet/jobs/tracker.yaml', 'utf8');
    const made = designScenario(readScenario(text, 'tracker').scenario!);
    if (!('design' in made)) throw new Error(JSON.stringify(made.findings));
    const { design } = made;
    const towers = design.patches.map(({ id }) => fringes(id, 0));
    expect(design.references.map(({ id }) => id)).toContain('rim-1');
    expect(progressOf(design, steer(design, towers))).toMatchObject({ done: true, unread: [] });
    const some = progressOf(design, steer(design, towers.slice(2)));
    expect(some).toMatchObject({ done: false, unread: ['tower-1'] });
  });

  it('is not done one and a half standard uncertainties off in any one degree', () => {
    const { sigma } = steer(bench.design, nulls).part.uncertainty;
    for (let degree = 0; degree < 6; degree++) {
      const at = [0, 1, 2, 3, 4, 5].map((k) => (k === degree ? 1.5 * sigma[k]! : 0));
      const part = { translation: [at[0]!, at[1]!, at[2]!], rotation: [at[3]!, at[4]!, at[5]!] } as const;
      const { over, done } = progressOf(bench.design, steer(bench.design, bench.read(part, 0)));
      expect(done).toBe(false);
      expect(over).toContainEqual({ of: 'part', degree: ['x', 'y', 'z', 'rx', 'ry', 'rz'][degree] });
    }
  });

  it('names a residual over three of its standard uncertainties', () => {
    const off = nulls.map((one) =>
      one.kind === 'fringes' && one.patch === 'west-near' ? fringes('west-near', 0.75) : one,
    );
    const { left } = progressOf(bench.design, steer(bench.design, off));
    const suspects = left.filter(({ normalised }) => Math.abs(normalised ?? 0) > 3);
    expect(suspects.map(({ reading }) => reading.reading.name)).toContain('west-near tilt');
  });
});
