/** Runs a program in a scratch copy under a time limit, and test files one after another until one fails. */
import { spawn } from 'node:child_process';
import process from 'node:process';
import { createInterface } from 'node:readline';
import type { Scratch } from './scratch.ts';

export interface FileRun {
  readonly name: string;
  readonly ok: boolean;
  /** The first test that failed, or why the file could not be run. */
  readonly failed?: string;
  readonly seconds: number;
}

export interface TestsRun {
  readonly files: readonly FileRun[];
  /** The file that was running when the time was over. */
  readonly timedOutIn?: string;
  /** The runner itself failed, with this on its error stream. */
  readonly broken?: string;
}

/** A loaded machine is slower than a quiet one by about this. */
const SLOWER = 5;
/** A start, and what little a file may take more than before, s. */
const ALLOWANCE = 60;

/** Runs the files in this order in one process. `expected` is how long each takes without a mutant, s. */
export async function runTests(
  scratch: Scratch,
  tests: readonly string[],
  options: { readonly bail: boolean; readonly expected: (test: string) => number },
): Promise<TestsRun> {
  const files: FileRun[] = [];
  let running = tests[0] ?? '';
  let stop: NodeJS.Timeout | undefined;
  let timedOut = false;
  scratch.emptyTemporary();
  const env = { ...process.env, TMPDIR: scratch.temporary, DATUMLIGHT_MUTANT_TESTS: tests.join(',') };
  const args = ['node_modules/vitest/vitest.mjs', 'run', '--config', '.build/mutants/vitest.config.mjs'];
  const child = spawn(process.execPath, [...args, ...(options.bail ? ['--bail=1'] : [])], {
    cwd: scratch.project,
    env,
    detached: true,
    stdio: ['ignore', 'pipe', 'pipe'],
  });
  alive.add(child.pid!);
  const watch = (): void => {
    clearTimeout(stop);
    const limit = (ALLOWANCE + SLOWER * options.expected(running)) * 1000;
    stop = setTimeout(() => {
      timedOut = true;
      killGroup(child.pid!);
    }, limit);
  };
  watch();
  let errors = '';
  child.stderr.on('data', (text) => {
    errors = (errors + text).slice(-4000);
  });
  for await (const row of createInterface({ input: child.stdout })) {
    if (!row.startsWith('@{')) continue;
    const told = JSON.parse(row.slice(1));
    if (told.begun !== undefined) running = told.begun;
    if (told.ended === undefined) continue;
    const { ended: name, ok, failed, ms } = told;
    files.push({ name, ok, ...(failed === undefined ? {} : { failed }), seconds: ms / 1000 });
    running = tests[tests.indexOf(name) + 1] ?? name;
    watch();
  }
  const code = await new Promise<number | null>((done) => {
    if (child.exitCode !== null || child.signalCode !== null) done(child.exitCode);
    else child.on('close', done);
  });
  clearTimeout(stop);
  killGroup(child.pid!);
  if (timedOut) return { files, timedOutIn: running };
  const fell = files.some(({ ok }) => !ok);
  return code !== 0 && !fell ? { files, broken: errors.trim() || `vitest ended with ${code}` } : { files };
}

/** Whether a program ends well, within `seconds`. */
export function runs({ project }: Scratch, args: readonly string[], seconds: number): Promise<boolean> {
  return new Promise((done) => {
    const child = spawn(process.execPath, args, { cwd: project, detached: true, stdio: 'ignore' });
    alive.add(child.pid!);
    const stop = setTimeout(() => killGroup(child.pid!), seconds * 1000);
    child.on('close', (code) => {
      clearTimeout(stop);
      killGroup(child.pid!);
      done(code === 0);
    });
  });
}

/** Leaders of groups of processes that this driver started and that may still run. */
const alive = new Set<number>();

function killGroup(leader: number): void {
  if (!alive.delete(leader)) return;
  try {
    process.kill(-leader, 'SIGKILL');
  } catch {
    // All of the group have ended.
  }
}

/** For an interrupted run. */
export function killAll(): void {
  for (const leader of alive) killGroup(leader);
}
