/**
 * `record --check`: a record is found as it was written or not, with its page, its package, its scenario and its figures, which are worked out
 * anew. In this process but for the first one.
 */
import { copyFileSync, mkdirSync, readFileSync, writeFileSync } from 'node:fs';
import { beforeAll, expect, test } from 'vitest';
import { jsonText } from '../../src/writing/json.ts';
import { sha256 } from '../../src/writing/manifest.ts';
import { isUnchanged } from '../../src/writing/record/alignment-record.ts';
import type { AlignmentRecord } from '../../src/writing/record/record-form.ts';
import { isRecordPage } from '../../src/writing/record/record-html.ts';
import { run } from '../end-to-end/support/command.ts';
import { acceptsRecord, LOG, packageFolder, SCENARIO } from './support/recorded.ts';
import { datumlight } from './support/run.ts';

let text: string;
let record: AlignmentRecord;
let { at, make, check, bent } = {} as Awaited<ReturnType<typeof packageFolder>>;

beforeAll(async () => {
  ({ at, make, check, bent } = await packageFolder());
  expect(await make(LOG, at('record'))).toMatchObject({ code: 0, stderr: '' });
  text = readFileSync(at('record', 'record.json'), 'utf8');
  record = JSON.parse(text);
});

test('finds nothing wrong with a record as it was written, also after a checkout with CRLF', async () => {
  const args = ['record', SCENARIO, '--check', at('record', 'record.json'), '--package', at('package')];
  const { code, stdout } = await datumlight(args);
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
test('takes a record of an earlier version, without the keys that came since', async () => {
  const old = forged('old', ({ numbers, session, ...one }) => {
    return { ...one, rounds: one.rounds.map(({ session: _, setAside, ...round }) => round) };
  });
  expect(acceptsRecord(JSON.parse(readFileSync(old, 'utf8')))).toBe(true);
  expect(await check(old)).toMatchObject({ code: 0, stderr: '' });
});

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
  const args = [
    'record',
    SCENARIO,
    '--check',
    at('record', 'record.json'),
    '--package',
    bent('coefficients.csv'),
  ];
  expect(await run(args)).toMatchObject({
    code: 3,
    stderr: expect.stringContaining('changed-package'),
  });
});

test.each(['', '{', '[]', '{"format": 1}', '"\\u202e"'])('refuses %j, which is no record', async (input) => {
  const { code, stdout, stderr } = await run(
    ['record', SCENARIO, '--check', '-', '--package', at('package')],
    input,
  );
  expect({ code, stdout }).toEqual({ code: 2, stdout: '' });
  expect(stderr).toContain('bad-record');
});
