/**
 * From a session of `steer` to its record and the check of it, through the executable. The readings are the example's, made with the part at
 * x +80, y −60, z +100 µm, rx +200, ry −150, rz +250 µrad, then at the null, then with z +100 µm: as traced, to a tenth of a fringe.
 */
import { mkdirSync, readFileSync, writeFileSync } from 'node:fs';
import { resolve } from 'node:path';
import { beforeAll, describe, expect, test } from 'vitest';
import { parse } from 'yaml';
import { jsonText } from '../../src/writing/json.ts';
import { sha256 } from '../../src/writing/manifest.ts';
import type { AlignmentRecord } from '../../src/writing/record/record-form.ts';
import { run } from '../end-to-end/support/command.ts';
import { acceptsRecord, LOG, packageFolder, SCENARIO } from './support/recorded.ts';
import { datumlight } from './support/run.ts';

const FIRST = readFileSync(resolve('examples/steer-mirror-on-stage.readings.yml'), 'utf8');
const ZERO = FIRST.replace(/fringes: \S+}/g, 'fringes: 0}');
/** One count is off by far: its patch is set aside. */
const SLIPPED = FIRST.replace(/(west-rim, fringes: )\S+}/, '$19.9}');
const log = parse(readFileSync(LOG, 'utf8'));
const [CLAMPED, RESEATED] = [log.clamped, log.reseated].map((readings) => jsonText({ readings }));
const { before: _, clamped: __, reseated: ___, ...WITHOUT_READINGS } = log;

let text: string;
let record: AlignmentRecord;
let { at, make, check, file, bent } = {} as Awaited<ReturnType<typeof packageFolder>>;

async function session(name: string, rounds: readonly (readonly [string, string, ...string[]])[]) {
  for (const [input, moment, ...more] of rounds) {
    const args = ['steer', SCENARIO, '--session', at(name), '--readings', '-', '--moment', moment, ...more];
    expect((await run(args, input)).code).toBeLessThan(3);
  }
  return readFileSync(at(name), 'utf8');
}

beforeAll(async () => {
  ({ at, make, check, file, bent } = await packageFolder());
  file('log.yml', jsonText({ ...WITHOUT_READINGS, session: 'session.yml' }));
  file('plain.yml', jsonText(WITHOUT_READINGS));
  await session('session.yml', [
    [SLIPPED, 'before', '--turned', '90'],
    [FIRST, 'before', '--turned', '90'],
    [ZERO, 'before', '--turned', '90'],
    [CLAMPED!, 'clamped', '--turned', '90'],
    [RESEATED!, 'reseated', '--turned', '90'],
  ]);
  const args = [
    'record',
    SCENARIO,
    '--log',
    at('log.yml'),
    '--package',
    at('package'),
    '--out',
    at('record'),
  ];
  expect(await datumlight(args)).toMatchObject({ code: 0, stderr: '' });
  text = readFileSync(at('record', 'record.json'), 'utf8');
  record = JSON.parse(text);
});

describe('the record of a session', () => {
  test('validates, and is found as it was written', async () => {
    expect(acceptsRecord(record) ? [] : acceptsRecord.errors).toEqual([]);
    const args = ['record', SCENARIO, '--check', at('record', 'record.json'), '--package', at('package')];
    expect(await datumlight(args)).toMatchObject({ code: 0, stderr: '' });
  });

  test('holds every round with its readings, camera, what was set aside and why, and the moves asked for', () => {
    const kept = parse(readFileSync(at('session.yml'), 'utf8'));
    expect(record.session).toMatchObject({
      file: 'session.yml',
      sha256: sha256(readFileSync(at('session.yml'))),
    });
    const { rounds } = record.session!;
    expect(rounds.map(({ moment }) => moment)).toEqual(['before', 'before', 'before', 'clamped', 'reseated']);
    for (const [k, { readings, asked, camera, confirmed, settled }] of rounds.entries())
      expect({ readings, asked, camera, confirmed, settled }).toEqual({
        ...{ readings: kept.rounds[k].readings, asked: kept.rounds[k].asked },
        ...{ confirmed: kept.rounds[k].confirmed, settled: kept.rounds[k].settled },
        camera: { view: 'interferometer', turned: 90, mirrored: false },
      });
    expect(rounds[0]!.setAside).toEqual([{ reading: 'west-rim', why: 'suspect' }]);
    // After clamping the moves asked for before are not what the readings are held against.
    expect(rounds.map(({ codes }) => codes)).toEqual([
      ['contradicting-readings'],
      expect.any(Array),
      expect.any(Array),
      [],
      [],
    ]);
  });

  test('says of each round where its readings put the part: what they were made with, within three uncertainties', () => {
    const made = [
      { x: 80, y: -60, z: 100, rx: 200, ry: -150, rz: 250 },
      { x: 80, y: -60, z: 100, rx: 200, ry: -150, rz: 250 },
      { x: 0, y: 0, z: 0, rx: 0, ry: 0, rz: 0 },
      { x: 0, y: 0, z: 100, rx: 0, ry: 0, rz: 0 },
    ];
    for (const [k, place] of made.entries()) {
      const { displacement, combined } = record.session!.rounds[k]!;
      for (const [degree, value] of Object.entries(place)) {
        const key = degree as keyof typeof place;
        expect(Math.abs(displacement![key]! - value)).toBeLessThan(3 * combined![key]!);
      }
    }
  });

  test('takes the last round before clamping and the marked ones for its own, and finds that clamping moved the part', () => {
    expect(record.rounds.map(({ round, file: from, session: number }) => [round, from, number])).toEqual([
      ['before', 'session.yml', 3],
      ['clamped', 'session.yml', 4],
      ['reseated', 'session.yml', 5],
    ]);
    expect(record.changes).toMatchObject([
      { by: 'clamping', significant: true },
      { by: 'reseating', significant: false },
    ]);
    expect(Math.abs(record.changes[0]!.change.z! - 100)).toBeLessThan(3 * record.changes[0]!.sigma.z!);
    expect(record.deviations).toEqual([]);
  });

  test('shows patches by their numbers on the sheet, the camera, and the rounds, on the page', () => {
    const sheet = readFileSync(at('package', 'sheet.html'), 'utf8');
    const page = readFileSync(at('record', 'record.html'), 'utf8');
    for (const [id, number] of Object.entries(record.numbers!)) {
      expect(sheet.includes(`<h3>${number}. ${id}</h3>`), id).toBe(true);
      expect(page.includes(`<td class="n">${number}</td><td>${id}</td>`), id).toBe(true);
    }
    expect(page).toContain('seen from the interferometer, turned 90° clockwise');
    expect(page).toContain(`set aside: ${record.numbers!['west-rim']} west-rim (contradicts the others)`);
  });

  test('is the same where --session names the session, and the camera is said to be what it was', async () => {
    const more = ['--session', at('session.yml'), '--turned', '90'];
    expect(await make(at('plain.yml'), at('named'), ...more)).toMatchObject({ code: 0 });
    expect(readFileSync(at('named', 'record.json'), 'utf8')).toBe(text);
  });
});

test('a session left before its moves came to an end is a deviation; the log’s own readings come after it', async () => {
  await session('early.yml', [[FIRST, 'before']]);
  file(
    'early.log.yml',
    jsonText({ ...WITHOUT_READINGS, session: 'early.yml', clamped: log.clamped, reseated: log.reseated }),
  );
  expect(await make(at('early.log.yml'), at('early'))).toMatchObject({ code: 0 });
  const early: AlignmentRecord = JSON.parse(readFileSync(at('early', 'record.json'), 'utf8'));
  expect(acceptsRecord(early) ? [] : acceptsRecord.errors).toEqual([]);
  expect(early.rounds.map(({ session: number }) => number)).toEqual([1, null, null]);
  expect(early.deviations).toMatchObject([{ kind: 'moves left', step: 'clamp' }]);
  expect(early.deviations[0]!.words).toContain('part z');
});

test('readings as seen are taken with the camera of a bench file; the log and options go before it', async () => {
  // Toward 12 o’clock in a picture that is turned by half a turn is toward 6 o’clock in one that is not.
  const seen = (toward: number) => [{ patch: 'north-far', fringes: 1, toward }];
  const recorded = async (name: string, words: object, ...more: string[]): Promise<AlignmentRecord> => {
    file(`${name}.yml`, jsonText({ ...WITHOUT_READINGS, ...words }));
    const { stdout } = await make(at(`${name}.yml`), at(name), '--json', ...more);
    return JSON.parse(stdout).record;
  };
  file('bench.yml', 'camera: {turned: 180}\n');
  const bench = ['--bench', at('bench.yml')];
  const plain = await recorded('not-turned', { before: seen(6) });
  const turned = await recorded('turned', { before: seen(12) }, ...bench);
  expect(turned.rounds[0]!.given.camera).toEqual({ view: 'interferometer', turned: 180, mirrored: false });
  expect(turned.rounds[0]!.place!.displacement).toEqual(plain.rounds[0]!.place!.displacement);
  const byLog = await recorded('by-log', { before: seen(6), camera: { turned: 0 } }, ...bench);
  expect(byLog.rounds[0]!.given).toEqual(plain.rounds[0]!.given);
  const byOption = await recorded(
    'by-option',
    { before: seen(12), camera: { turned: 0 } },
    '--turned',
    '180',
  );
  expect(byOption.rounds[0]!.given).toEqual(turned.rounds[0]!.given);
  expect(await check(at('turned', 'record.json'))).toMatchObject({ code: 0 });
});

describe('refused is', () => {
  test('a session of another scenario', async () => {
    file('other.yml', readFileSync(at('session.yml'), 'utf8').replace(/sha256: ./, 'sha256: x'));
    const { code, stderr } = await make(at('plain.yml'), at('never'), '--session', at('other.yml'));
    expect({ code, stderr }).toMatchObject({ code: 2, stderr: expect.stringContaining('scenario-changed') });
    expect(stderr).toContain('other.yml:');
  });

  test('a session named twice, and a camera turned otherwise than the session had it', async () => {
    const twice = await make(at('log.yml'), at('never'), '--session', at('session.yml'));
    expect(twice).toMatchObject({ code: 2, stderr: expect.stringContaining('and so does --session') });
    const turned = await make(at('log.yml'), at('never'), '--turned', '180');
    expect(turned.code).toBe(2);
    expect(turned.stderr).toMatch(/--turned: round 3 of session\.yml was read with the camera .*turned 90°/);
  });

  test('a package of which a byte has changed, when the record is made and when it is checked', async () => {
    const own = ['--package', bent('samples.csv')];
    const made = ['record', SCENARIO, '--log', at('log.yml'), '--out', at('never'), ...own];
    expect(await run(made)).toMatchObject({ code: 2, stderr: expect.stringContaining('changed-package') });
    const checked = ['record', SCENARIO, '--check', at('record', 'record.json'), ...own];
    expect(await run(checked)).toMatchObject({ code: 3, stderr: expect.stringContaining('changed-package') });
  });

  test.each<[string, (one: AlignmentRecord) => void]>([
    [
      'a reading of the session',
      ({ session: of }) => Object.assign(of!.rounds[1]!.readings[0]!, { fringes: 2 }),
    ],
    [
      'a reading of a round, and not of the session',
      ({ rounds }) => Object.assign((rounds[0]!.given.readings as object[])[0]!, { fringes: 0.2 }),
    ],
    [
      'where a round puts the part',
      ({ session: of }) => Object.assign(of!.rounds[0]!.displacement!, { z: 0 }),
    ],
    [
      'why a reading was set aside',
      ({ session: of }) => Object.assign(of!.rounds[0]!.setAside[0]!, { why: null }),
    ],
    ['a patch’s number', ({ numbers }) => Object.assign(numbers!, { 'west-rim': 1 })],
    ['which round counts', ({ rounds }) => Object.assign(rounds[0]!, { session: 2 })],
  ])('a record with %s changed, its hash made anew', async (name, change) => {
    const one = structuredClone(record);
    change(one);
    const { sha256: _hash, ...content } = one;
    mkdirSync(at(name));
    writeFileSync(at(name, 'record.json'), jsonText({ ...content, sha256: sha256(jsonText(content)) }));
    const { code, stdout } = await check(at(name, 'record.json'), '--json');
    expect({ code, rules: JSON.parse(stdout).findings.map(({ rule }: { rule: string }) => rule) }).toEqual({
      ...{ code: 3, rules: ['other-figures'] },
    });
  });
});
