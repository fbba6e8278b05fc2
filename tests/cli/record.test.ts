/**
 * `record` as a user runs it: an alignment's record from its log and its package, refused when a byte of the package has changed; checked
 * later against the schema that ships, its own hash, the package and its readings.
 */
import {
  copyFileSync,
  cpSync,
  existsSync,
  mkdirSync,
  readdirSync,
  readFileSync,
  writeFileSync,
} from 'node:fs';
import { join, resolve } from 'node:path';
import Ajv2020 from 'ajv/dist/2020.js';
import { beforeAll, describe, expect, test } from 'vitest';
import { jsonText } from '../../src/writing/json.ts';
import { sha256 } from '../../src/writing/manifest.ts';
import { isUnchanged } from '../../src/writing/record/alignment-record.ts';
import type { AlignmentRecord } from '../../src/writing/record/record-form.ts';
import { isRecordPage } from '../../src/writing/record/record-html.ts';
import { datumlight, example, folder } from './support/run.ts';

const SCENARIO = example('steer-mirror-on-stage');
const LOG = resolve('examples/steer-mirror-on-stage.log.yml');
const accepts = new Ajv2020.default({ allErrors: true, strict: true, allowUnionTypes: true }).compile(
  JSON.parse(readFileSync('schemas/record.schema.json', 'utf8')),
);

let dir: string;
let text: string;
let record: AlignmentRecord;
const at = (...steps: string[]): string => join(dir, ...steps);
const make = (log: string, out: string, ...more: string[]) =>
  datumlight(['record', SCENARIO, '--log', log, '--package', at('package'), '--out', out, ...more]);
const check = (file: string, ...more: string[]) =>
  datumlight(['record', SCENARIO, '--check', file, '--package', at('package'), ...more]);
const logFile = (name: string, change: (log: string) => string): string => {
  writeFileSync(at(name), change(readFileSync(LOG, 'utf8')));
  return at(name);
};

beforeAll(async () => {
  dir = folder();
  expect(await datumlight(['make', SCENARIO, '--out', at('package'), '--quiet'])).toMatchObject({ code: 0 });
  expect(await make(LOG, at('record'))).toMatchObject({ code: 0, stderr: '' });
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
    const { stdout } = await datumlight(['steer', SCENARIO, '--readings', '-', '--json'], { input });
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
      cpSync(at('package'), at('bent', name), { recursive: true });
      const bytes = readFileSync(at('bent', name, name));
      bytes[bytes.length - 40] = bytes[bytes.length - 40]! ^ 1;
      writeFileSync(at('bent', name, name), bytes);
      const args = ['record', SCENARIO, '--log', LOG, '--package', at('bent', name), '--out', at('never')];
      const { code, stderr } = await datumlight(args);
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
    ['a check and a log', ['--check', 'a', '--log', 'x'], /--log makes a record, --check checks one/],
  ])('with %s', async (_, more, message) => {
    const { code, stderr } = await datumlight(['record', SCENARIO, '--package', at('package'), ...more]);
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

describe('--check', () => {
  test('finds nothing wrong with a record as it was written, also after a checkout with CRLF', async () => {
    const { code, stdout } = await check(at('record', 'record.json'));
    expect({ code, stdout }).toMatchObject({ code: 0, stdout: expect.stringContaining('unchanged') });
    mkdirSync(at('crlf'));
    writeFileSync(at('crlf', 'record.json'), text.replaceAll('\n', '\r\n'));
    const { stdout: json } = await check(at('crlf', 'record.json'), '--json');
    expect(JSON.parse(json)).toMatchObject({ ok: true, serial: 'H-0042', findings: [] });
  });

  test('no byte of a record or of its page can change unnoticed', () => {
    expect(isUnchanged(text)).toBe(true);
    const page = readFileSync(at('record', 'record.html'), 'utf8');
    expect(isRecordPage(page)).toBe(true);
    const bent = (whole: string, k: number): string =>
      whole.slice(0, k) + String.fromCharCode(whole.charCodeAt(k) ^ 1) + whole.slice(k + 1);
    const holds = (one: string): boolean => {
      try {
        return isUnchanged(one);
      } catch {
        return false;
      }
    };
    for (let k = 0; k < text.length; k += 37) expect([k, holds(bent(text, k))]).toEqual([k, false]);
    for (let k = 0; k < page.length; k += 37) expect([k, isRecordPage(bent(page, k))]).toEqual([k, false]);
  });

  /** The record with something changed, as one would who knows how its hash is made. */
  const forged = (name: string, change: (one: AlignmentRecord) => object): string => {
    const { sha256: _, ...content } = change(structuredClone(record)) as AlignmentRecord;
    mkdirSync(at(name), { recursive: true });
    writeFileSync(at(name, 'record.json'), jsonText({ ...content, sha256: sha256(jsonText(content)) }));
    return at(name, 'record.json');
  };
  const withRound = (one: AlignmentRecord, k: number, changed: object): AlignmentRecord => {
    return { ...one, rounds: one.rounds.map((round, j) => (j === k ? { ...round, ...changed } : round)) };
  };

  test.each<[string, string, number, (one: AlignmentRecord) => object]>([
    [
      'a reading changed after the fact',
      'other-figures',
      3,
      (one) => {
        const [first, ...rest] = one.rounds[1]!.given.readings as readonly { fringes: number }[];
        return withRound(one, 1, { given: { readings: [{ ...first, fringes: 0.5 }, ...rest] } });
      },
    ],
    [
      'a better uncertainty',
      'other-figures',
      3,
      (one) => {
        const place = one.rounds[2]!.place!;
        return withRound(one, 2, { place: { ...place, combined: { ...place.combined, z: 1 } } });
      },
    ],
    [
      'a verdict turned round',
      'other-figures',
      3,
      (one) => {
        return { ...one, changes: one.changes.map((change) => ({ ...change, significant: false })) };
      },
    ],
    [
      'a patch that the design does not have',
      'other-figures',
      3,
      (one) => {
        return withRound(one, 0, { given: { readings: [{ patch: 'nobody', fringes: 1 }] } });
      },
    ],
    [
      'another package',
      'other-package',
      3,
      (one) => {
        return { ...one, package: { ...one.package, sha256: '0'.repeat(64) } };
      },
    ],
    [
      'another scenario',
      'other-scenario',
      3,
      (one) => {
        return { ...one, scenario: { ...one.scenario, sha256: '0'.repeat(64) } };
      },
    ],
    ['a key too many', 'bad-record', 2, (one) => ({ ...one, extra: 1 })],
    ['a round too few', 'bad-record', 2, (one) => ({ ...one, rounds: [] })],
    ['another format', 'bad-record', 2, (one) => ({ ...one, format: 'datumlight-record/2' })],
  ])('finds %s although its hash is right', async (name, rule, code, change) => {
    const outcome = await check(forged(name, change), '--json');
    expect(outcome.code).toBe(code);
    const { ok, findings } = JSON.parse(outcome.stdout);
    expect(ok).toBe(false);
    expect([...new Set(findings.map((one: { rule: string }) => one.rule))]).toEqual([rule]);
  });

  test('finds a changed byte, a changed page, and a package that was changed since', async () => {
    mkdirSync(at('since'));
    writeFileSync(at('since', 'record.json'), text.replace('A. Operator', 'B. Operator'));
    expect(await check(at('since', 'record.json'))).toMatchObject({
      code: 3,
      stderr: expect.stringContaining('changed-record'),
    });
    copyFileSync(at('record', 'record.json'), at('since', 'record.json'));
    const page = readFileSync(at('record', 'record.html'), 'utf8');
    writeFileSync(at('since', 'record.html'), page.replace('A. Operator', 'B. Operator'));
    const changedPage = await check(at('since', 'record.json'));
    expect(changedPage).toMatchObject({
      code: 3,
      stderr: expect.stringContaining('is not the page of this record'),
    });
    const bent = [
      'record',
      SCENARIO,
      '--check',
      at('record', 'record.json'),
      '--package',
      at('bent', 'coefficients.csv'),
    ];
    expect(await datumlight(bent)).toMatchObject({
      code: 3,
      stderr: expect.stringContaining('changed-package'),
    });
  });

  test.each(['', '{', '[]', '{"format": 1}', '"\\u202e"'])(
    'refuses %j, which is no record',
    async (input) => {
      const { code, stdout, stderr } = await datumlight(
        ['record', SCENARIO, '--check', '-', '--package', at('package')],
        { input },
      );
      expect({ code, stdout }).toEqual({ code: 2, stdout: '' });
      expect(stderr).toContain('bad-record');
    },
  );
});
