/** `transfer` as a user runs it: the part's six errors and moves, outliers by exit code 1, refusals by 2. */
import { readFileSync } from 'node:fs';
import { resolve } from 'node:path';
import { describe, expect, it } from 'vitest';
import { datumlight, example } from './support/run.ts';

const SCENARIO = example('transfer-mirror-on-rim');
const POINTS = resolve('examples/transfer-mirror-on-rim.points.csv');
const table = readFileSync(POINTS, 'utf8');
const run = (input: string, ...more: string[]) =>
  datumlight(['transfer', SCENARIO, '--points', '-', ...more], { input });
const rows = (change: (range: number, name: string) => number): string =>
  table.replace(/^([a-z]+-?\d?),([\d.]+),/gm, (_, name, range) => `${name},${change(Number(range), name)},`);

describe('transfer', () => {
  it('finds the errors that the example’s points were made with', async () => {
    const { code, stdout } = await datumlight(['transfer', SCENARIO, '--points', POINTS, '--json']);
    expect(code).toBe(0);
    const { part, registrations, ok } = JSON.parse(stdout);
    const made = { x: 120, y: -90, z: 200, rx: 150, ry: -250, rz: 400 };
    const found = { ...part.error_um, ...part.error_urad };
    for (const [degree, value] of Object.entries(made)) {
      expect(Math.abs(found[degree] - value)).toBeLessThan(3 * part.sigma[degree]);
      expect(part.combined[degree]).toBeGreaterThan(part.sigma[degree]);
    }
    expect(part.move_um.x).toBeCloseTo(-part.error_um.x, 9);
    expect(registrations.hologram.points).toHaveLength(4);
    expect(registrations.part.consistency.contradictory).toBe(false);
    expect(ok).toBe(true);
  });

  it('says the same in words', async () => {
    const { code, stdout } = await datumlight(['transfer', SCENARIO, '--points', POINTS]);
    expect(code).toBe(0);
    expect(stdout).toMatch(/At the hologram’s foci: 4 points, χ²/);
    expect(stdout).toMatch(/rz −\d+ ± \d+ \(\d+\) µrad/);
  });

  it('names an outlier and ends with 1', async () => {
    const { code, stderr, stdout } = await run(
      rows((range, name) => (name === 'tower-2' ? range + 1 : range)),
    );
    expect(code).toBe(1);
    expect(stderr).toMatch(/tower-2 is off by \(.*\) mm.*outlying-point/);
    expect(stdout).toMatch(/tower-2 .*does not fit/);
  });

  it('suggests that two names were exchanged, ends with 1 and holds the moves back', async () => {
    const exchanged = table.replace(/^rim-[14],/gm, (name) => (name === 'rim-1,' ? 'rim-4,' : 'rim-1,'));
    const { code, stderr, stdout } = await run(exchanged);
    expect(code).toBe(1);
    expect(stderr).toMatch(
      /<stdin>:\d+:1: .*they all fit if the names of rim-[14] and rim-[14] are exchanged .*swapped-points/,
    );
    expect(stdout).toMatch(
      /^Do not make these moves before what was found is settled: swapped-points, outlying-point\.\nPart: moves to make/m,
    );
  });

  it('takes a point measured twice, and refuses two places under one name', async () => {
    const again = (range: string): string => `${table}tower-1,${range},-41.715658,7.386947,0.01,1,1\n`;
    const twice = await run(again('3400.0600'), '--json');
    expect(twice.code).toBe(0);
    expect(JSON.parse(twice.stdout).repeated).toMatchObject([{ point: 'tower-1', count: 2 }]);
    const { code, stderr } = await run(again('3410.0600'));
    expect(code).toBe(2);
    expect(stderr).toMatch(
      /<stdin>:13:1: tower-1 is 10\.0 mm from where it was first measured on line 4: two places/,
    );
  });

  it.each([
    [
      'two points on a side',
      table.replace(/^(tower-[34]|rim|groove).*\n/gm, ''),
      'degenerate-points',
      /tower-1, tower-2/,
    ],
    ['inches', rows((range) => range / 25.4), 'mixed-units', /inches/],
    [
      'an azimuth counted the other way',
      table.replace(/,-(\d+\.\d+),/g, ',$1,'),
      'mirrored-points',
      /mirror image/,
    ],
    ['an unknown point', table.replace('tower-1', 'towr-1'), 'unknown-reference', /<stdin>:4:1: .*tower-1/],
    ['nothing', '', 'bad-table', /<stdin>:1:1: .*empty/],
  ])('refuses %s with 2', async (_, input, rule, message) => {
    const words = await run(input);
    expect(words.code).toBe(2);
    expect(words.stderr).toMatch(message);
    const json = await run(input, '--json');
    expect(json.code).toBe(2);
    expect(JSON.parse(json.stdout).findings[0].rule).toBe(rule);
  });

  it('says where the references stand for the tracker where only the hologram was tracked', async () => {
    const { code, stdout } = await run(table.replace(/^(rim|groove).*\n/gm, ''), '--json');
    expect(code).toBe(0);
    const report = JSON.parse(stdout);
    expect(report.part).toBeNull();
    expect(report.referencesInTracker).toHaveLength(9);
  });
});
