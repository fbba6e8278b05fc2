/**
 * An operator at the bench of a job who knows nothing but what `steer` answers him: he writes down what his camera shows, keeps a session,
 * makes the moves that it asks for, each with an error, and reads again, until it says that it is done or that something is wrong.
 */
import { mkdtempSync, readFileSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { Readable, Writable } from 'node:stream';
import { parse } from 'yaml';
import { answer } from '../../../src/cli/commands/steer-answer.ts';
import { openSession } from '../../../src/cli/commands/steer-session.ts';
import type { Io } from '../../../src/cli/io.ts';
import { type Loaded, loadScenario } from '../../../src/cli/load-scenario.ts';
import { movesWithPart } from '../../../src/kinds/reference.ts';
import type { Turn } from '../../independent/camera-seen.ts';
import { deviates } from '../../independent/random.ts';
import {
  after,
  type Pose,
  rotationAbout,
  type Screw,
  screwMotion,
  sixOf,
  type Vector,
} from '../../independent/stage-operator.ts';
import { benchOfJob, type JobBench, motionAt, type Standing, type Zone } from './bench-of-job.ts';

/** How far off a job starts, at most, each way: mm and rad. */
export interface Start {
  readonly hologram?: readonly number[];
  readonly part?: readonly number[];
  readonly own?: readonly number[];
}

export interface Job {
  readonly name: string;
  readonly loaded: Loaded;
  readonly bench: JobBench;
  readonly own: readonly string[];
  readonly stage: readonly Screw[];
  readonly start: Start;
}

export interface Ended {
  readonly rounds: number;
  readonly done: boolean;
  /** The largest of what is left, over its combined standard uncertainty, of what is observed; and over that of its readings. */
  readonly worst: number;
  readonly worstOfReadings: number;
  /** Codes of the findings on the way. */
  readonly said: readonly string[];
}

export const quiet = (): Io & { readonly text: () => string } => {
  let said = '';
  const kept = (): Writable =>
    new Writable({
      write(chunk, _, next) {
        said += String(chunk);
        next();
      },
    });
  const lost = new Writable({ write: (_, __, next) => next() });
  return { stdin: Readable.from([]), stdout: kept(), stderr: lost, env: {}, text: () => said };
};

export async function jobNamed(name: string, start: Start, zone?: Zone): Promise<Job> {
  const loaded = await loadScenario(`tests/writing/sheet/jobs/${name}.yaml`, quiet());
  const design = loaded.design!;
  const withPart = new Set(design.references.filter(movesWithPart).map(({ id }) => id));
  return {
    ...{ name, loaded, start, stage: design.scenario.stage },
    bench: benchOfJob(design, withPart, zone),
    own: design.references.map(({ id }) => id).filter((id) => !withPart.has(id)),
  };
}

/** A count errs normally by this share of the scenario's `readable`, and is rounded to the whole of it: together 0.58 of what is stated. */
const ERROR = 0.5;
/** Of each move, by screws or by hand. */
const MOVE_ERROR = 0.03;
const MOST_ROUNDS = 12;
/** Codes that tell him that signs or the camera's orientation are wrong; `bad-value`: a line focus shows no tilt that way. */
export const TELLS: ReadonlySet<string> = new Set(['camera-turned', 'moves-reversed', 'bad-value']);
const STILL = [0, 0, 0, 0, 0, 0];
const UNTURNED: Pose = { rotation: rotationAbout([1, 0, 0], 0), shift: [0, 0, 0] };
const DEGREES = ['x', 'y', 'z', 'rx', 'ry', 'rz'] as const;
/** Of what is told in µm and µrad. */
const MICRO = 1e6;
const UM = 1e3;

/** A move of the part about its origin by six numbers. */
function poseBy([x, y, z, a, b, c]: readonly number[]): Pose {
  const angle = Math.hypot(a!, b!, c!);
  if (angle === 0) return { ...UNTURNED, shift: [x!, y!, z!] };
  return { rotation: rotationAbout([a! / angle, b! / angle, c! / angle], angle), shift: [x!, y!, z!] };
}

// biome-ignore lint/suspicious/noExplicitAny: reports as a program reads them
type Told = any;

/** What `steer --json` answers to readings; with a path, of a session. */
export async function steerOnce({ loaded }: Job, text: string, path?: string): Promise<Told> {
  const io = quiet();
  const bench = { given: { options: {}, bench: {} }, before: undefined };
  if (path === undefined) answer(loaded.design!, text, 'readings.yml', { json: true }, bench, io);
  else {
    const opened = await openSession(path, loaded, [], io);
    if (!('open' in opened)) throw new Error(JSON.stringify(opened.fault));
    const session = { ...bench, session: opened.open };
    answer(loaded.design!, text, 'readings.yml', { json: true }, session, io);
  }
  return JSON.parse(io.text());
}

/** `actual`: how the camera is turned; `believed`: what the readings file says of it; `reversed`: he takes every fall of path for a rise. */
export async function align(
  job: Job,
  seed: number,
  actual: Turn,
  believed: Turn,
  reversed = false,
): Promise<Ended> {
  const { uniform, normal } = deviates(seed);
  const drawn = (most: readonly number[] = STILL): number[] => most.map((each) => each * (2 * uniform() - 1));
  let now: Standing = {
    hologram: drawn(job.start.hologram),
    part: poseBy(drawn(job.start.part)),
    own: new Map(job.own.map((id) => [id, drawn(job.start.own ?? [0, 0, 0]) as unknown as Vector])),
  };
  const { readable } = job.loaded.design!.scenario.interferometer;
  const eye = { error: () => ERROR * readable * normal(), round: readable };
  const erring = (value: number): number => value * (1 + MOVE_ERROR * normal());
  const folder = mkdtempSync(join(tmpdir(), 'operator-'));
  const path = join(folder, 'session.yml');
  const said: string[] = [];
  try {
    for (let rounds = 1; ; rounds++) {
      const seen = job.bench.read(now, actual, eye);
      const entries = reversed ? seen.map(otherWay) : seen;
      const { view, turned, mirrored } = believed;
      const text = `camera: {view: ${view}, turned: ${turned}, mirrored: ${mirrored}}\nreadings:\n${entries.map((entry) => `  - ${entry}\n`).join('')}`;
      const report = await steerOnce(job, text, path);
      said.push(...report.findings.map(({ rule }: { rule: string }) => rule));
      const wrong = said.some((rule) => TELLS.has(rule));
      if (report.done || wrong || rounds === MOST_ROUNDS) {
        const [worst, worstOfReadings] = report.done ? left(job, report, now) : [Number.NaN, Number.NaN];
        return { rounds, done: report.done === true, worst, worstOfReadings, said };
      }
      // Readings that are refused are taken again.
      if (report.done === undefined) continue;
      now = moved(job, now, parse(readFileSync(path, 'utf8')).rounds.at(-1).asked, erring);
    }
  } finally {
    rmSync(folder, { recursive: true });
  }
}

/** An entry with its fringes falling the other way; a gauge's stays. */
const otherWay = (entry: string): string =>
  entry
    .replace(
      /toward: ([\d.]+)/,
      (_, hour: string) => `toward: ${Number(hour) > 6 ? Number(hour) - 6 : Number(hour) + 6}`,
    )
    .replace(/power: (-?)/, (_, sign: string) => `power: ${sign === '' ? '-' : ''}`);

/** The bench after what is asked for: the hologram first, where that is to be moved. */
function moved(job: Job, now: Standing, asked: Told, erring: (value: number) => number): Standing {
  if (asked === null) return now;
  if (asked.hologram !== undefined) {
    const by = six(asked.hologram).map(erring);
    // Turns this small add up.
    return { ...now, hologram: now.hologram.map((value, k) => value + by[k]!) };
  }
  const own = new Map(now.own);
  for (const [id, { move_um }] of Object.entries<Told>(asked.references)) {
    const by = DEGREES.slice(0, 3).map((axis) => erring(move_um[axis]) / UM);
    own.set(id, now.own.get(id)!.map((value, k) => value + by[k]!) as unknown as Vector);
  }
  const { screws, part } = asked;
  if (screws !== undefined) {
    const by = (screw: Screw): Pose => screwMotion(screw, erring(screws[screw.id]));
    return { ...now, own, part: job.stage.reduce((pose, screw) => after(pose, by(screw)), now.part) };
  }
  return { ...now, own, part: part === null ? now.part : after(now.part, poseBy(six(part).map(erring))) };
}

/** mm and rad. */
const six = ({ move_um, move_urad }: Told): number[] =>
  DEGREES.map((degree, k) => (k < 3 ? (move_um[degree] ?? 0) / UM : (move_urad[degree] ?? 0) / MICRO));

/** The largest error that is left, over its standard uncertainties. */
function left(job: Job, report: Told, { hologram, part, own }: Standing): readonly [number, number] {
  const over: (readonly [number, number])[] = [];
  const judge = (values: readonly number[], combined: Told, sigma: Told, names: readonly string[]): void =>
    names.forEach((name, k) => {
      const told = values[k]! * (name.startsWith('r') ? MICRO : UM);
      if (combined[name] === null || combined[name] === undefined) return;
      over.push([Math.abs(told / combined[name]), Math.abs(told / sigma[name])]);
    });
  if (report.hologram !== undefined) {
    // A ring shows no more than where the focus lies as the hologram sees it.
    const { sigma } = report.hologram;
    judge(job.bench.focusOff(hologram), sigma, sigma, ['x', 'y', 'z']);
  }
  if (report.part.readings > 0) {
    // Against the hologram, wherever that is left.
    const from = motionAt(hologram, job.loaded.design!.scenario.part.frame.origin);
    const off = sixOf(part).map((value, k) => value - from[k]!);
    judge(off, report.part.combined, report.part.sigma, DEGREES);
  }
  for (const { id, movesWith, combined_um, sigma_um } of report.references)
    if (movesWith === 'mount') judge(own.get(id)!, combined_um, sigma_um, ['x', 'y', 'z']);
  return [Math.max(...over.map(([all]) => all)), Math.max(...over.map(([, all]) => all))];
}
