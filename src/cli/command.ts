/**
 * What a command file is to the command line: a function that registers its words (help, arguments, options, an example) and its action.
 * A new command is one file in commands/ and one line in commands/all-commands.ts.
 */
import type { Command } from 'commander';
import type { ExitCode, Io } from './io.ts';

interface Frame {
  readonly program: Command;
  readonly io: Io;
  /** Takes what the command's work comes to as the program's exit code. */
  readonly end: (code: ExitCode | Promise<ExitCode>) => Promise<void>;
}

export type Register = (frame: Frame) => void;

/** The options of every command that prints findings or a report. */
export interface TalkOptions {
  readonly json?: boolean;
  readonly quiet?: boolean;
  readonly color?: boolean;
}

export const talkative = (command: Command): Command =>
  command
    .option('--json', 'print one JSON document on stdout and nothing else')
    .option('--quiet', 'no summary; findings are still printed')
    .option('--no-color', 'no colour, even on a terminal');

/** For an option that may be given several times. */
export const collected = (value: string, before: readonly string[] = []): readonly string[] => [
  ...before,
  value,
];
