/** Runs the program, in a folder of its own. */
import { spawn } from 'node:child_process';
import { writeFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import { join, resolve } from 'node:path';
import { PassThrough, Writable } from 'node:stream';
import { StringDecoder } from 'node:string_decoder';
import type { Terminal } from '../../../src/cli/io.ts';
import type { main } from '../../../src/cli/main.ts';
import '../../machine/patience.ts';
import { temporaryFolder } from '../../machine/temporary-folder.ts';

export interface Outcome {
  readonly code: number | null;
  readonly stdout: string;
  readonly stderr: string;
}

export const EXECUTABLE = resolve('bin/datumlight.js');

export const example = (name: string): string => resolve('examples', `${name}.yaml`);

/** A new empty folder. */
export const folder = temporaryFolder;

export function scenarioFile(text: string, name = 'scenario.yaml'): string {
  const file = join(folder(), name);
  writeFileSync(file, text);
  return file;
}

interface Surroundings {
  readonly input?: string | Uint8Array;
  readonly cwd?: string;
}

/**
 * The built program in this process, one run after another: its start would be most of what a test takes. What it leaves behind in a process
 * shows in the runs that follow.
 */
export function datumlight(args: readonly string[], surroundings: Surroundings = {}): Promise<Outcome> {
  const run = turn.then(() => runHere(args, surroundings));
  turn = run.catch(() => undefined);
  return run;
}

let turn: Promise<unknown> = Promise.resolve();

async function runHere(args: readonly string[], { input, cwd }: Surroundings): Promise<Outcome> {
  const said = { stdout: '', stderr: '' };
  const stream = (name: keyof typeof said): Terminal => {
    const decoder = new StringDecoder('utf8');
    return new Writable({
      write(chunk: Buffer, _, next) {
        said[name] += decoder.write(chunk);
        next();
      },
    });
  };
  const stdin = new PassThrough();
  stdin.end(input);
  const own = process.cwd();
  try {
    if (cwd !== undefined) process.chdir(cwd);
    const io = { stdin, stdout: stream('stdout'), stderr: stream('stderr'), env: process.env };
    return { code: await built.main([...args], io), ...said };
  } finally {
    process.chdir(own);
  }
}

const built = createRequire(import.meta.url)(resolve('dist/start.cjs')) as { readonly main: typeof main };

/** The real executable, as a user's shell would run it, several at once if asked. */
export function executable(
  args: readonly string[],
  options: Surroundings & { readonly env?: Readonly<Record<string, string>> } = {},
): Promise<Outcome> {
  return new Promise((done, fail) => {
    const child = spawn(process.execPath, [EXECUTABLE, ...args], {
      cwd: options.cwd,
      env: { ...process.env, ...options.env },
    });
    let [stdout, stderr] = ['', ''];
    child.stdout.on('data', (chunk) => {
      stdout += chunk;
    });
    child.stderr.on('data', (chunk) => {
      stderr += chunk;
    });
    child.on('error', fail);
    child.on('close', (code) => done({ code, stdout, stderr }));
    // Whoever refuses its arguments does not wait for its input.
    child.stdin.on('error', () => undefined);
    child.stdin.end(options.input ?? '');
  });
}

/** A small scenario that breaks no rule; `changes` replaces lines or adds to it. */
export function soundScenario(change: (text: string) => string = (text) => text): string {
  return change(`format: datumlight/1
title: Sound
light: {wavelength: 632.8 nm}
interferometer: {focus: [0, 0, -500], fNumber: 3.2}
substrate:
  outline: {circle: {diameter: 150}}
  edgeMargin: 3
  clearance: 0.5
references:
  - {id: north, kind: smr, diameter: 1.5 in, at: [0, 250, 2800]}
  - {id: near, kind: ball, diameter: 0.5 in, at: [90, 20, 130]}
patches:
  - id: north-1
    reference: north
    focus: line
    centre: [0, 60]
    outline: {rectangle: {width: 10, height: 10}}
    lineAngle: 90 deg
    bias: {shape: roof, fringes: 1}
  - {id: near-1, reference: near, focus: point, centre: [60, 0], outline: {circle: {diameter: 12}}}
`);
}

/** A small scenario with a place left open, for `plan`: planned in a moment. */
export const openScenario = (): string => `format: datumlight/1
title: Open
light: {wavelength: 632.8 nm}
interferometer: {focus: [0, 0, -500], fNumber: 3.2}
substrate: {outline: {circle: {diameter: 150}}, edgeMargin: 3, clearance: 0.5}
references:
  - {id: near, kind: ball, diameter: 0.5 in, at: [90, 20, 130]}
patches:
  - {id: near-1, reference: near, focus: point, centre: auto, outline: {circle: {diameter: 12}}}
`;
