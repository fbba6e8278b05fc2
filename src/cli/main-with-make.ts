/** The command line with `make` at hand, for a start that is known to ask for it: one bundle, loaded in one go. */
import { make } from './command-make.ts';
import type { ExitCode, Io } from './io.ts';
import { main as mainOf } from './main.ts';

export const main = (argv: readonly string[], io: Io): Promise<ExitCode> =>
  mainOf(argv, io, async () => ({ make }));
