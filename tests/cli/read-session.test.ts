/**
 * An alignment by frames in phase steps, through the executable alone, from the first frame to the record: `read --steps`, `steer --session`, then
 * `record --session`. The frames are traced and the screws turned, each turn with an error of 3 %, by code that shares none with src/.
 */
import { readFileSync, writeFileSync } from 'node:fs';
import { expect, test } from 'vitest';
import { parse } from 'yaml';
import { jsonText } from '../../src/writing/json.ts';
import type { AlignmentRecord } from '../../src/writing/record/record-form.ts';
import { deviates } from '../independent/random.ts';
import { after, type Pose, rotationAbout, sixOf } from '../independent/stage-operator.ts';
import { taker } from '../metrology/frame/support/taken.ts';
import { exampleDesign } from '../metrology/support/bench.ts';
import { benchOf, misaligned } from '../metrology/support/session-loop.ts';
import { png } from '../reading/frames/frame-bytes.ts';
import { acceptsRecord, LOG, packageFolder, SCENARIO } from './support/recorded.ts';
import { datumlight } from './support/run.ts';

const AXES = ['x', 'y', 'z', 'rx', 'ry', 'rz'] as const;
const MOST_ROUNDS = 6;
const TURN = { view: 'part', turned: 90, mirrored: false } as const;
const STATED = ['--view', 'part', '--turned', '90'];
/** Of clamping, mm along the light. */
const CLAMPING = 0.1;

interface Taken {
  readonly patch: string;
  readonly fringes: number;
}

test('frames in phase steps lead the part to its place, every sign known, and the record holds all rounds as they were read', async () => {
  const { at } = await packageFolder();
  const random = deviates(23);
  const take = taker({ design: exampleDesign('steer-mirror-on-stage'), features: {} });
  const wishes = { pixels: 280, noise: 0.03, distortion: 0.02, steps: 3, turn: TURN };
  let camera: ReturnType<typeof take>['camera'] | undefined;
  /** The files of three frames of the part as it stands. */
  const framesOf = (part: Pose, name: string): string[] => {
    const taken = take(random, { part }, { ...wishes, ...(camera && { camera }) });
    camera = taken.camera;
    return taken.frames.map(({ width, height, values, levels }, k) => {
      const file = at(`${name}-${k}.png`);
      writeFileSync(file, png({ width, height, samples: Array.from(values, (one) => one * levels!) }, 8));
      return file;
    });
  };
  const session = at('session.yml');
  let rounds = 0;
  const steered = async (...args: readonly string[]) => {
    const asked = ['steer', SCENARIO, '--session', session, ...args, '--json'];
    const { code, stdout, stderr } = await datumlight(asked);
    expect({ code, stderr }, stdout).toEqual({ code: 0, stderr: '' });
    return JSON.parse(stdout);
  };
  const bench = benchOf(random.normal);
  let pose = misaligned(random.uniform, 0.03);
  for (let done = false; !done; ) {
    rounds++;
    const frames = framesOf(pose, `round-${rounds}`);
    let source = ['--frame', ...frames, '--steps', 'longer', ...STATED];
    // The first round by way of a readings file, which says how the camera is turned.
    if (rounds === 1) {
      source = ['--readings', at('readings.yml')];
      const read = ['read', SCENARIO, ...frames, '--steps', 'longer', ...STATED, '--out', at('readings.yml')];
      expect(await datumlight(read)).toMatchObject({ code: 0 });
      const { readings } = parse(readFileSync(at('readings.yml'), 'utf8'));
      expect(readings).toHaveLength(9);
      for (const reading of readings)
        expect(Object.keys(reading)).toEqual(['patch', 'fringes', 'uncertainty']);
    }
    const report = await steered(...source);
    expect(report.session).toEqual({ file: session, round: rounds });
    ({ done } = report);
    if (done) {
      const off = sixOf(pose).map(
        (value, k) => (value * (k < 3 ? 1e3 : 1e6)) / report.part.combined[AXES[k]!],
      );
      for (const [k, one] of off.entries()) expect(Math.abs(one), AXES[k]!).toBeLessThan(3);
    } else {
      expect(rounds).toBeLessThan(MOST_ROUNDS);
      const { screws } = parse(readFileSync(session, 'utf8')).rounds.at(-1).asked;
      pose = bench.turned(pose, (id) => screws[id]);
    }
  }
  // More than one way is walked: a start that is done at once shows nothing.
  expect(rounds).toBeGreaterThan(1);

  const clamped = after(pose, { rotation: rotationAbout([1, 0, 0], 0), shift: [0, 0, CLAMPING] });
  const last = ['--frame', ...framesOf(clamped, 'clamped'), '--steps', 'longer', ...STATED];
  await steered(...last, '--moment', 'clamped');
  const { before: _, clamped: __, reseated: ___, ...log } = parse(readFileSync(LOG, 'utf8'));
  writeFileSync(at('log.yml'), jsonText(log));
  const record = ['record', SCENARIO, '--log', at('log.yml'), '--session', session];
  const made = await datumlight([...record, '--package', at('package'), '--out', at('record')]);
  expect(made, made.stderr).toMatchObject({ code: 0 });
  const written: AlignmentRecord = JSON.parse(readFileSync(at('record', 'record.json'), 'utf8'));
  expect(acceptsRecord(written) ? [] : acceptsRecord.errors).toEqual([]);
  const { rounds: kept } = parse(readFileSync(session, 'utf8'));
  expect(written.session?.rounds.map(({ round, moment }) => [round, moment])).toEqual(
    Array.from({ length: rounds + 1 }, (_, k) => [k + 1, k < rounds ? 'before' : 'clamped']),
  );
  for (const [k, { camera, readings }] of written.session!.rounds.entries()) {
    expect(camera).toEqual(TURN);
    expect(readings.map(({ patch, fringes }) => [patch, fringes])).toEqual(
      kept[k].readings.map(({ patch, fringes }: Taken) => [patch, expect.closeTo(fringes, 9)]),
    );
  }
  const [{ by, change, sigma, significant }] = written.changes as [AlignmentRecord['changes'][number]];
  expect({ by, significant }).toEqual({ by: 'clamping', significant: true });
  for (const axis of AXES) {
    const really = axis === 'z' ? CLAMPING * 1e3 : 0;
    expect(Math.abs(change[axis]! - really), axis).toBeLessThan(4 * sigma[axis]!);
  }
  const check = ['record', SCENARIO, '--check', at('record', 'record.json'), '--package', at('package')];
  expect(await datumlight(check)).toMatchObject({ code: 0, stderr: '' });
});
