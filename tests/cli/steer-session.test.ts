/**
 * A session of alignment as a user runs it: each round kept whole, the end said, another scenario refused, wrong signs found. What the
 * example's readings were made with stands in its head: x +80, y −60, z +100 µm, rx +200, ry −150, rz +250 µrad.
 */
import { appendFileSync, existsSync, readFileSync, writeFileSync } from 'node:fs';
import { join, resolve } from 'node:path';
import { Ajv2020 } from 'ajv/dist/2020.js';
import { describe, expect, test } from 'vitest';
import { parse } from 'yaml';
import { datumlight, example, folder } from './support/run.ts';

const SCENARIO = example('steer-mirror-on-stage');
const FIRST = readFileSync(resolve('examples/steer-mirror-on-stage.readings.yml'), 'utf8');
const schema = (name: string) => JSON.parse(readFileSync(`schemas/${name}.schema.json`, 'utf8'));
const isSession = new Ajv2020({ schemas: [schema('bench'), schema('readings')], strict: false }).compile(
  schema('session'),
);

/** The example's readings, so many times as large: 0 at the null. */
const times = (factor: number): string =>
  FIRST.replace(/fringes: (\S+)}/g, (_, count) => `fringes: ${(factor * Number(count)).toFixed(2)}}`);

const round = (session: string, input: string, scenario = SCENARIO) =>
  datumlight(['steer', scenario, '--session', session, '--readings', '-', '--json'], { input });

const rules = (stdout: string): string[] =>
  JSON.parse(stdout).findings.map(({ rule }: { rule: string }) => rule);

test('two rounds, the second at the null: the first asks for moves, the second confirms the signs and ends it', async () => {
  const session = join(folder(), 'session.yml');
  const first = await round(session, FIRST);
  expect(first.code).toBe(0);
  expect(JSON.parse(first.stdout)).toMatchObject({ done: false, session: { file: session, round: 1 } });
  expect(JSON.parse(first.stdout).over).toHaveLength(6);
  const second = await round(session, times(0));
  expect(JSON.parse(second.stdout)).toMatchObject({ done: true, over: [], session: { round: 2 } });
  const kept = parse(readFileSync(session, 'utf8'));
  expect(isSession(kept), JSON.stringify(isSession.errors)).toBe(true);
  expect(kept.rounds.map(({ confirmed }: { confirmed: boolean }) => confirmed)).toEqual([false, true]);
  const { asked } = kept.rounds[0];
  const made = { x: -80, y: 60, z: -100, rx: -200, ry: 150, rz: -250 };
  const { sigma } = JSON.parse(first.stdout).part;
  for (const [degree, value] of Object.entries({ ...asked.part.move_um, ...asked.part.move_urad }))
    expect(Math.abs((value as number) - made[degree as keyof typeof made])).toBeLessThan(sigma[degree]);
  // 1 mrad a turn.
  expect(asked.screws.clock).toBeCloseTo(asked.part.move_urad.rz / 1000, 9);
  const words = await datumlight(['steer', SCENARIO, '--session', session]);
  expect([words.code, words.stderr]).toEqual([0, '']);
  expect(words.stdout).toMatch(
    /^Round 2 of .*\n[\s\S]*north-near tilt 0\.00 fr[\s\S]*\nDone: every move is under/,
  );
  expect(parse(readFileSync(session, 'utf8'))).toEqual(kept);
});

test('a session named .json is JSON and says the same as one in YAML', async () => {
  const [json, yaml] = ['s.json', 's.yml'].map((name) => join(folder(), name)) as [string, string];
  for (const input of [FIRST, times(0)]) for (const file of [json, yaml]) await round(file, input);
  expect(JSON.parse(readFileSync(json, 'utf8'))).toEqual(parse(readFileSync(yaml, 'utf8')));
});

test('readings that come out reversed after the moves give no moves, and the round says so', async () => {
  const session = join(folder(), 'session.yml');
  await round(session, FIRST);
  const reversed = await round(session, times(2));
  expect({ code: reversed.code, rules: rules(reversed.stdout) }).toEqual({
    code: 2,
    rules: ['moves-reversed'],
  });
  expect(JSON.parse(reversed.stdout)).not.toHaveProperty('part');
  const [, kept] = parse(readFileSync(session, 'utf8')).rounds;
  expect(kept).toMatchObject({ asked: null, confirmed: false, found: { codes: ['moves-reversed'] } });
  // The moves undone, and read again: nothing was asked for since.
  const third = await round(session, FIRST);
  expect(third.code).toBe(0);
});

describe('a session is refused and stays as it was', () => {
  test.each([
    [
      'with a scenario that changed',
      'scenario-changed',
      (scenario: string) => appendFileSync(scenario, '# more\n'),
    ],
    [
      'where it is not one',
      'output-exists',
      (_: string, session: string) => writeFileSync(session, 'a letter\n'),
    ],
    [
      'with two faults, each with its place',
      'unknown-name',
      (_: string, session: string) =>
        writeFileSync(
          session,
          readFileSync(session, 'utf8')
            .replace('north-near,', 'nobody,')
            .replace('fringes: 0.4', 'fringes: lots'),
        ),
    ],
  ])('%s', async (_, rule, change) => {
    const scenario = join(folder(), 'scenario.yaml');
    writeFileSync(scenario, readFileSync(SCENARIO));
    const session = join(folder(), 'session.yml');
    await round(session, FIRST, scenario);
    change(scenario, session);
    const before = readFileSync(session, 'utf8');
    const { code, stdout } = await round(session, FIRST, scenario);
    expect({ code, rule: rules(stdout)[0] }).toEqual({ code: 2, rule });
    expect(readFileSync(session, 'utf8')).toBe(before);
    if (rule === 'unknown-name') {
      const places = JSON.parse(stdout).findings.map(({ place }: { place: { line: number } }) => place.line);
      expect(places).toEqual([7, 9]);
    }
  });

  test('and not begun with readings that cannot be used, or on standard input', async () => {
    const session = join(folder(), 'session.yml');
    expect((await round(session, 'readings: [{patch: nobody, fringes: 1}]')).code).toBe(2);
    expect(existsSync(session)).toBe(false);
    expect((await round('-', FIRST)).code).toBe(2);
    expect((await datumlight(['steer', SCENARIO, '--session', session])).code).toBe(2);
    expect((await datumlight(['steer', SCENARIO])).code).toBe(2);
  });
});

describe('a readings file to fill in', () => {
  test('names every patch with the directions it senses, and filled in it is read', async () => {
    const out = join(folder(), 'readings.yml');
    const args = ['steer', SCENARIO, '--template', '--turned', '90'];
    const { code, stdout } = await datumlight(args);
    expect(code).toBe(0);
    const written = await datumlight([...args, '--out', out]);
    expect([written.code, written.stdout]).toEqual([0, '']);
    expect(readFileSync(out, 'utf8')).toBe(stdout);
    const { readings, camera } = parse(stdout);
    expect(camera.turned).toBe(90);
    const report = JSON.parse((await datumlight(['check', SCENARIO, '--json'])).stdout);
    expect(readings.map(({ patch }: { patch: string }) => patch).sort()).toEqual(
      report.patches.map(({ id }: { id: string }) => id).sort(),
    );
    // north-rim senses x, which from the interferometer is at 9 o'clock, and at 12 with the picture turned a quarter clockwise.
    expect(stdout).toMatch(
      /north-rim, of north;.*\n.*tilt: \+ if it stands displaced (toward 12 o’clock, along \(1, 0|toward 6 o’clock, along \(−1, 0)/,
    );
    expect((await datumlight(['steer', SCENARIO, '--readings', out])).code).toBe(2);
    writeFileSync(out, stdout.replace('north-near, fringes: ~', 'north-near, fringes: 1/2'));
    const filled = await datumlight(['steer', SCENARIO, '--readings', out, '--json']);
    expect(filled.code).toBe(0);
    expect(JSON.parse(filled.stdout).left).toHaveLength(1);
    // What was filled in is not written over.
    expect((await datumlight([...args, '--out', out])).code).toBe(2);
    expect(readFileSync(out, 'utf8')).toContain('1/2');
  });

  test('goes with no readings', async () => {
    expect((await datumlight(['steer', SCENARIO, '--template', '--readings', '-'])).code).toBe(2);
    expect((await datumlight(['steer', SCENARIO, '--readings', '-', '--out', 'x'])).code).toBe(2);
  });
});

test('a patch may be read by its number on the sheet, in a table too; the template has the same numbers', async () => {
  const table = 'patch,fringes\n1,1 1/2\n2,-0.5\n';
  const { code, stdout } = await datumlight(['steer', SCENARIO, '--readings', '-', '--json'], {
    input: table,
  });
  expect(code).toBe(0);
  const { stdout: template } = await datumlight(['steer', SCENARIO, '--template']);
  // The sheet numbers the patches as the scenario lists them.
  const ids = parse(readFileSync(SCENARIO, 'utf8')).patches.map(({ id }: { id: string }) => id);
  const [, ...numbers] = template.split(/^ {2}# (?=\d)/m).map((part) => /^(\d+) {2}(\S+), of/.exec(part));
  expect(numbers.map((found) => ids[Number(found![1]) - 1])).toEqual(numbers.map((found) => found![2]));
  expect(new Set(JSON.parse(stdout).left.map(({ name }: { name: string }) => name))).toEqual(
    new Set([`${ids[0]} tilt`, `${ids[1]} tilt`]),
  );
});
