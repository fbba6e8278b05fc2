/**
 * `record` as a user runs it: an alignment's record from its log and its package, refused when a byte of the package has changed. In this
 * process but for the first one.
 */
import { existsSync, mkdirSync, readdirSync, readFileSync, writeFileSync } from 'node:fs';
import { beforeAll, describe, expect, test } from 'vitest';
import { jsonText } from '../../src/writing/json.ts';
import { sha256 } from '../../src/writing/manifest.ts';
import type { AlignmentRecord } from '../../src/writing/record/record-form.ts';
import { run } from '../end-to-end/support/command.ts';
import { acceptsRecord as accepts, LOG, packageFolder, SCENARIO } from './support/recorded.ts';
import { datumlight } from './support/run.ts';

let text: string;
let record: AlignmentRecord;
let { at, make, check, logFile, bent } = {} as Awaited<ReturnType<typeof packageFolder>>;

beforeAll(async () => {
  ({ at, make, check, logFile, bent } = await packageFolder());
  const args = ['record', SCENARIO, '--log', LOG, '--package', at('package'), '--out', at('record')];
  expect(await datumlight(args)).toMatchObject({ code: 0, stderr: '' });
  text = readFileSync(at('record', 'record.json'), 'utf8');
  record = JSON.parse(text);
});

describe('a record', () => {
  test('validates against its schema, and holds what the log and the package say', () => {
    expect(accepts(record) ? [] : accepts.errors).toEqual([]);
    expect(record).toMatchObject({ serial: 'H-0042', date: '2026-01-31', operator: 'A. Operator', ok: true });
    expect(record.package.sha256).toBe(sha256(readFileSync(at('package', 'manifest.json'))));
    expect(record.scenario.sha256).toBe(sha256(readFileSync(SCENARIO)));
    for (const [name, { sha256: hash }] of Object.entries(record.package.files))
      expect(hash).toBe(sha256(readFileSync(at('package', name))));
    expect(record.deviations).toEqual([]);
  });

  test('finds that clamping moved the part along the light, as the example’s readings were made, and reseating did not', () => {
    const [clamping, reseating] = record.changes;
    expect(clamping).toMatchObject({ by: 'clamping', significant: true });
    expect(Math.abs(clamping!.change.z! - 100)).toBeLessThan(3 * clamping!.sigma.z!);
    for (const degree of ['x', 'y', 'rx', 'ry', 'rz'] as const)
      expect(Math.abs(clamping!.change[degree]!)).toBeLessThan(3 * clamping!.sigma[degree]!);
    expect(reseating).toMatchObject({ by: 'reseating', significant: false, budget: { exceeded: false } });
  });

  test('has the place that `steer` finds from the same readings: the move to make is its negative', async () => {
    const input = jsonText(record.rounds[2]!.given);
    const { stdout } = await run(['steer', SCENARIO, '--readings', '-', '--json'], input);
    const { part } = JSON.parse(stdout);
    const { displacement, combined, expanded } = record.rounds[2]!.place!;
    for (const [degree, move] of Object.entries({ ...part.move_um, ...part.move_urad })) {
      const key = degree as keyof typeof displacement;
      expect(displacement[key]).toBeCloseTo(-(move as number), 6);
      expect(combined[key]).toBeCloseTo(part.combined[degree], 6);
      expect(expanded[key]).toBeCloseTo(2 * part.combined[degree], 6);
    }
  });

  test('is the same when it is made again, and another one never takes its place', async () => {
    expect(await make(LOG, at('record'))).toMatchObject({ code: 0 });
    expect(readFileSync(at('record', 'record.json'), 'utf8')).toBe(text);
    const other = await make(
      logFile('other.yml', (log) => log.replace('fringes: 0.6}', 'fringes: 0.5}')),
      at('record'),
    );
    expect(other.code).toBe(2);
    expect(other.stderr).toMatch(/holds another record, of hologram H-0042, 2026-01-31/);
    expect(readFileSync(at('record', 'record.json'), 'utf8')).toBe(text);
    mkdirSync(at('mine'));
    writeFileSync(at('mine', 'record.html'), 'mine');
    expect((await make(LOG, at('mine'))).stderr).toMatch(/record\.html already exists/);
    expect(readdirSync(at('mine'))).toEqual(['record.html']);
    expect((await make(LOG, at('package'))).stderr).toMatch(/is the package, which a record never changes/);
  });

  test('with --json is printed whole', async () => {
    const { code, stdout } = await make(LOG, at('record'), '--json');
    expect(code).toBe(0);
    expect(JSON.parse(stdout)).toMatchObject({ ok: true, written: at('record'), findings: [], record });
  });
});

describe('no record is written', () => {
  test('when a byte of the package has changed', async () => {
    const names = readdirSync(at('package'));
    for (const name of ['coefficients.csv', 'manifest.json']) {
      expect(names).toContain(name);
      const args = ['record', SCENARIO, '--log', LOG, '--package', bent(name), '--out', at('never')];
      const { code, stderr } = await run(args);
      expect({ name, code }).toEqual({ name, code: 2 });
      expect(stderr).toContain(`changed or missing: ${name}; `);
      expect(stderr).toContain('[error changed-package]');
    }
    expect(existsSync(at('never'))).toBe(false);
  });

  test.each<[string, RegExp, (log: string) => string, ...string[]]>([
    [
      'of a log without a serial number',
      /the hologram has no serial number/,
      (log) => log.replace(/serial:.*\n/, ''),
    ],
    ['where log and --serial differ', /of hologram H-0042, not of H-7/, (log) => log, '--serial', 'H-7'],
    [
      'where unknown signs leave several places',
      /log.*:\d+:\d+.*signs that were not seen/,
      (log) => log.replaceAll(/(fringes: \S+)}/g, '$1, sign: unknown}'),
    ],
    ['of a log with a fault', /:\d+:\d+: .*nobody/, (log) => log.replace('north-near', 'nobody')],
    ['with an empty --serial', /--serial/, (log) => log, '--serial', ' '],
  ])('%s: exit 2', async (_, message, change, ...more) => {
    const { code, stderr } = await make(logFile('faulty-log.yml', change), at('never'), ...more);
    expect(code).toBe(2);
    expect(stderr).toMatch(message);
    expect(existsSync(at('never'))).toBe(false);
  });

  test.each([
    ['no log', ['--out', 'x'], /there is no log/],
    ['no folder', ['--log', 'x'], /there is no folder/],
    [
      'a session on standard input',
      ['--log', 'x', '--out', 'y', '--session', '-'],
      /a session is kept in a file/,
    ],
    ['a check and a camera', ['--check', 'a', '--mirrored'], /--mirrored makes a record, --check checks one/],
    ['a check and a log', ['--check', 'a', '--log', 'x'], /--log makes a record, --check checks one/],
  ])('with %s', async (_, more, message) => {
    const { code, stderr } = await run(['record', SCENARIO, '--package', at('package'), ...more]);
    expect(code).toBe(2);
    expect(stderr).toMatch(message);
  });
});

test('contradicting readings are recorded as such, with exit 1, and marked on the page', async () => {
  const log = logFile('contradicting.yml', (all) =>
    all.replace('west-rim, fringes: 0}', 'west-rim, fringes: 4.9}'),
  );
  const { code, stderr } = await make(log, at('contradicting'));
  expect(code).toBe(1);
  expect(stderr).toMatch(/contradicting\.yml:\d+:\d+: .*contradict/);
  const made: AlignmentRecord = JSON.parse(readFileSync(at('contradicting', 'record.json'), 'utf8'));
  expect(accepts(made) ? [] : accepts.errors).toEqual([]);
  expect(made.ok).toBe(false);
  const page = readFileSync(at('contradicting', 'record.html'), 'utf8');
  expect(page).toContain('Readings contradict each other: do not rely on the figures below.');
  expect(await check(at('contradicting', 'record.json'))).toMatchObject({ code: 0 });
});
