/**
 * What would mean something else without a word, through the real executable: a date variable that is no number, a head that asks for
 * YAML 1.1, standard input named twice. Each is said, exit 2.
 */
import { existsSync, readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { expect, test } from 'vitest';
import { datumlight, executable, folder, soundScenario } from './support/run.ts';

function house(): string {
  const dir = folder();
  writeFileSync(join(dir, 's.yaml'), soundScenario());
  return dir;
}

test('SOURCE_DATE_EPOCH that is no whole number of seconds from 1970 to 9999 is refused by make', async () => {
  const dir = house();
  const args = ['make', 's.yaml', '--out', 'out', '--quiet'];
  for (const given of ['', '-1', '1.5e9', ' 1767225600', '253402300800']) {
    const { code, stderr } = await executable(args, { cwd: dir, env: { SOURCE_DATE_EPOCH: given } });
    expect({ given, code }).toEqual({ given, code: 2 });
    expect(stderr).toContain(`SOURCE_DATE_EPOCH: is ${JSON.stringify(given)}, not a whole number of seconds`);
    expect(existsSync(join(dir, 'out'))).toBe(false);
  }
  // `date -u -d @1767225600` and `@253402300799` say 2026-01-01 and 9999-12-31.
  for (const [given, date] of [
    ['1767225600', '2026-01-01'],
    ['253402300799', '9999-12-31'],
  ] as const) {
    expect(await executable(args, { cwd: dir, env: { SOURCE_DATE_EPOCH: given } })).toMatchObject({
      code: 0,
    });
    expect(readFileSync(join(dir, 'out', 'layout.svg'), 'utf8')).toContain(date);
  }
});

test('a head that asks for YAML 1.1 is refused with its line and column, in a scenario and in readings; 1.2 is fine', async () => {
  const dir = house();
  writeFileSync(join(dir, 'old.yaml'), `# from another program\n%YAML 1.1\n---\n${soundScenario()}`);
  writeFileSync(join(dir, 'old.yml'), '%YAML 1.1\n---\nreadings: [{patch: north-1, fringes: 010}]\n');
  writeFileSync(join(dir, 'new.yaml'), `%YAML 1.2\n---\n${soundScenario()}`);
  for (const [place, ...args] of [
    ['old.yaml:2:1', 'check', 'old.yaml'],
    ['old.yaml:2:1', 'plan', 'old.yaml', '--out', 'planned.yaml'],
    ['old.yml:1:1', 'steer', 's.yaml', '--readings', 'old.yml'],
  ] as const) {
    const { code, stderr } = await datumlight(args, { cwd: dir });
    expect({ args, code }).toEqual({ args, code: 2 });
    expect(stderr).toContain(`${place}: the head asks for YAML 1.1, where \`yes\` is true, \`010\` is 8`);
  }
  expect(await datumlight(['check', 'new.yaml'], { cwd: dir })).toMatchObject({ code: 0 });
});

test.each([
  ['check', '-', '-'],
  ['check', '-', '--table', '-'],
  ['check', '-', 's.yaml', '-', '--json'],
  ['steer', '-', '--readings', '-'],
  ['transfer', '-', '--points', '-'],
  ['record', '-', '--log', '-', '--package', 'p', '--out', 'o'],
  ['record', '-', '--check', '-', '--package', 'p'],
  ['phase', '-', '--patch', 'near-1', '--points', '-'],
])('standard input named twice is refused: %j', async (...args) => {
  const { code, stdout, stderr } = await datumlight(args, { cwd: house(), input: soundScenario() });
  expect(code).toBe(2);
  expect(stdout + stderr).toMatch(/standard input cannot be (both|two)/);
  if (args.includes('--json')) expect(JSON.parse(stdout)).toMatchObject({ ok: false });
});
