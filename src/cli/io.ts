/** What a command is given of the world: its streams, its folder and its environment, so that a test can give its own. */
import type { Readable, Writable } from 'node:stream';

export interface Terminal extends Writable {
  readonly isTTY?: boolean;
}

export interface Io {
  readonly stdin: Readable;
  readonly stdout: Terminal;
  readonly stderr: Terminal;
  readonly env: NodeJS.ProcessEnv;
}

/** Exit codes, fixed for scripts: see the README's table. */
export const EXIT = { fine: 0, rulesBroken: 1, unusable: 2, different: 3, fault: 70 } as const;
export type ExitCode = (typeof EXIT)[keyof typeof EXIT];

/** Colour is decided per stream: only on a terminal, and never against NO_COLOR, TERM=dumb or `--no-color`. */
export function mayColour(stream: Terminal, io: Io, asked: boolean): boolean {
  return asked && stream.isTTY === true && !io.env.NO_COLOR && io.env.TERM !== 'dumb';
}
