/**
 * The program's commands by their command line, in this process: a scenario's words in, what the command prints out. So a test
 * goes the whole way from YAML text to printed numbers and knows nothing of what lies between.
 */
import { PassThrough, Readable } from 'node:stream';
import { text } from 'node:stream/consumers';
import { main } from '../../../src/cli/main.ts';
import { scenarioFile } from '../../cli/support/run.ts';

export type Words = Readonly<Record<string, unknown>>;

const PLAIN: Words = {
  format: 'datumlight/1',
  light: { wavelength: '632.8 nm' },
  interferometer: { focus: [0, 0, -500], fNumber: 3.2 },
  substrate: { outline: { circle: { diameter: 150 } } },
  references: [],
  patches: [],
};

/** A scenario with these words over a plain one; JSON is YAML. */
export const scenarioText = (words: Words): string => JSON.stringify({ ...PLAIN, ...words });

/** A file of that text: the same one for the same words. */
export function fileOf(words: Words): string {
  const text = scenarioText(words);
  const file = files.get(text) ?? scenarioFile(text);
  files.set(text, file);
  return file;
}

const files = new Map<string, string>();

export interface Printed {
  readonly code: number;
  readonly stdout: string;
  readonly stderr: string;
}

/** Runs `datumlight ARGS` with `input` on its standard input. */
export async function run(args: readonly string[], input = ''): Promise<Printed> {
  const [out, err] = [new PassThrough(), new PassThrough()];
  const printed = Promise.all([text(out), text(err)]);
  const code = await main(args, { stdin: Readable.from([input]), stdout: out, stderr: err, env: {} });
  out.end();
  err.end();
  const [stdout, stderr] = await printed;
  return { code, stdout, stderr };
}

/** The JSON document of a command that must not refuse its input. */
export async function json<T>(args: readonly string[], input: string): Promise<T> {
  const { stdout, stderr, code } = await run([...args, '--json'], input);
  if (code !== 0 && code !== 1) throw new Error(`exit ${code}: ${stderr}${stdout}`);
  return JSON.parse(stdout) as T;
}

export type Point = readonly [x: number, y: number];

/** What `phase` prints for points of a patch: waves at order 1, one a point. */
export async function phasesOf(words: Words, patch: string, points: readonly Point[]): Promise<number[]> {
  const table = `x_mm,y_mm\n${points.map(([x, y]) => `${x},${y}\n`).join('')}`;
  const args = ['phase', fileOf(words), '--patch', patch, '--points', '-'];
  const { code, stdout, stderr } = await run(args, table);
  if (code !== 0) throw new Error(`exit ${code}: ${stderr}`);
  return stdout
    .trimEnd()
    .split('\n')
    .slice(1)
    .map((line) => Number(line.split(',')[2]));
}

/** What `check` reports. */
export const reportOf = <T>(words: Words): Promise<T> => json<T>(['check', '-'], scenarioText(words));
