/** `steer` as a user runs it: moves on stdout, one JSON document, faults with their place, a growing file watched. */
import { spawn } from 'node:child_process';
import { appendFileSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { join, resolve } from 'node:path';
import { describe, expect, it } from 'vitest';
import { datumlight, example, folder } from './support/run.ts';

const SCENARIO = example('steer-mirror-on-stage');
const READINGS = resolve('examples/steer-mirror-on-stage.readings.yml');

describe('steer', () => {
  it('finds the displacement that the example’s readings were made with, as the move to make', async () => {
    const { code, stdout } = await datumlight(['steer', SCENARIO, '--readings', READINGS, '--json']);
    expect(code).toBe(0);
    const report = JSON.parse(stdout);
    // The example's head states it: µm and µrad.
    const made = { x: 80, y: -60, z: 100, rx: 200, ry: -150, rz: 250 };
    const move = { ...report.part.move_um, ...report.part.move_urad };
    for (const [degree, value] of Object.entries(made))
      expect(Math.abs(move[degree] + value)).toBeLessThan(report.part.sigma[degree]);
    const north = report.references.find(({ id }: { id: string }) => id === 'north');
    // North stands at (0, 260, 0) of the part: x − 260 rz.
    expect(Math.abs(north.move_um.x - -(80 - 260 * 0.25))).toBeLessThan(north.sigma_um.x);
    expect(report.stage.map(({ id }: { id: string }) => id)).toEqual([
      'across',
      'up',
      'focus',
      'tip',
      'tilt',
      'clock',
    ]);
    // 2 mrad a turn of tilt, 1 mrad of clock.
    expect(report.stage[4].turns).toBeCloseTo(report.part.move_urad.ry / 2000, 9);
    expect(report.stage[5].turns).toBeCloseTo(report.part.move_urad.rz / 1000, 9);
    expect(report.ok).toBe(true);
  });

  it('says the same in words', async () => {
    const { code, stdout, stderr } = await datumlight(['steer', SCENARIO, '--readings', READINGS]);
    expect([code, stderr]).toEqual([0, '']);
    expect(stdout).toMatch(/north +x −16\.\d ± 3\.\d/);
    expect(stdout).toMatch(/Screws, in turns:/);
  });

  it('gives candidates and a trial where a sign is unknown', async () => {
    const input = 'readings:\n  - {patch: north-near, fringes: 1.2, sign: unknown}\n';
    const { code, stdout } = await datumlight(['steer', SCENARIO, '--readings', '-', '--json'], { input });
    expect(code).toBe(0);
    const [north] = JSON.parse(stdout).references;
    expect(north.move_um).toBeNull();
    expect(north.candidates).toHaveLength(2);
    expect(north.trial.expected[0].reading).toBe('north-near');
    const words = await datumlight(['steer', SCENARIO, '--readings', '-'], { input });
    expect(words.stdout).toMatch(/if north-near is \+.*\n.*if north-near is −/);
    expect(words.stdout).toMatch(/trial move to tell them apart: /);
  });

  it('ends with 1 and names the reading where some contradict each other', async () => {
    const input = readFileSync(READINGS, 'utf8').replace(
      /west-rim, fringes: \S+}/,
      'west-rim, fringes: 4.9}',
    );
    const { code, stdout, stderr } = await datumlight(['steer', SCENARIO, '--readings', '-'], { input });
    expect(code).toBe(1);
    expect(stderr).toMatch(/<stdin>:\d+:\d+: .*χ².*west-rim/);
    expect(stderr).toMatch(/they would agree if the sign of west-rim were the other one/);
    expect(stdout).toMatch(/^MOVES FROM THE OTHER READINGS ONLY\. Set aside: .*west-rim/m);
  });

  it.each([
    ['a patch that does not exist', 'readings: [{patch: nobody, fringes: 1}]', /<stdin>:1:\d+: .*nobody/],
    ['a NaN', 'readings: [{patch: north-near, fringes: .nan}]', /<stdin>:1:\d+: .*NaN/],
    ['an empty file', '', /<stdin>:1:1: .*no readings/],
    [
      'the wrong number of values',
      'readings: [{patch: north-near, fringes: [1, 2]}]',
      /<stdin>:1:\d+: .*2 values/,
    ],
  ])('ends with 2 and the place for %s', async (_, input, message) => {
    const words = await datumlight(['steer', SCENARIO, '--readings', '-'], { input });
    expect(words.code).toBe(2);
    expect(words.stderr).toMatch(message);
    expect(words.stdout).toBe('');
    const json = await datumlight(['steer', SCENARIO, '--readings', '-', '--json'], { input });
    expect(json.code).toBe(2);
    expect(JSON.parse(json.stdout)).toMatchObject({
      ok: false,
      findings: [{ place: { file: '<stdin>', line: 1 } }],
    });
  });

  it('answers each time the watched file grows, and ends when it is removed', async () => {
    const file = join(folder(), 'readings.yaml');
    writeFileSync(file, 'readings:\n  - {patch: north-near, fringes: 1.2}\n');
    const child = spawn(process.execPath, [
      resolve('bin/datumlight.js'),
      'steer',
      SCENARIO,
      '--readings',
      file,
      '--watch',
    ]);
    let stdout = '';
    const until = (pattern: RegExp): Promise<void> =>
      new Promise((done) => {
        const look = (): void => {
          if (pattern.test(stdout)) done();
        };
        child.stdout.on('data', look);
        look();
      });
    child.stdout.on('data', (chunk) => {
      stdout += chunk;
    });
    const ended = new Promise<number | null>((done) => child.on('close', done));
    await until(/^1 reading\./m);
    appendFileSync(file, '  - {patch: north-rim, fringes: 0.5}\n');
    await until(/^2 readings\./m);
    rmSync(file);
    expect(await ended).toBe(0);
  });

  it('cannot watch its standard input, nor watch for JSON', async () => {
    expect((await datumlight(['steer', SCENARIO, '--readings', '-', '--watch'])).code).toBe(2);
    expect((await datumlight(['steer', SCENARIO, '--readings', READINGS, '--watch', '--json'])).code).toBe(2);
  });
});
