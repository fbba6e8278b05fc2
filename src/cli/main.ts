/** The command line: argv and streams in, an exit code out. What it can do is in commands/, a file for each command. */
import { Command, CommanderError } from 'commander';
import { COMMANDS } from './commands/all-commands.ts';
import { EXIT, type ExitCode, type Io } from './io.ts';
import { sayLine, sayLines } from './say.ts';
import { VERSION } from './version.ts';

export { serveCases } from '../batch/do-case.ts';

export async function main(argv: readonly string[], io: Io): Promise<ExitCode> {
  let code: ExitCode = EXIT.fine;
  const program = frame(io);
  for (const register of COMMANDS) {
    register({
      program,
      io,
      end: async (result) => {
        code = await result;
      },
    });
  }
  try {
    await program.parseAsync([...argv], { from: 'user' });
    return code;
  } catch (error) {
    if (error instanceof CommanderError) return error.exitCode === 0 ? EXIT.fine : EXIT.unusable;
    const what = error instanceof Error ? error.message : String(error);
    sayLine(io.stderr, `datumlight: internal error: ${what}`);
    sayLine(io.stderr, 'Please report it with the scenario.');
    if (io.env.DATUMLIGHT_TRACE && error instanceof Error) sayLines(io.stderr, `${error.stack}`);
    return EXIT.fault;
  }
}

const frame = (io: Io): Command =>
  new Command('datumlight')
    .description('Designs the reference patches of a null-test hologram from a YAML scenario.')
    .version(VERSION)
    .exitOverride()
    .showHelpAfterError('(datumlight --help lists the commands)')
    .configureOutput({
      writeOut: (text) => io.stdout.write(text),
      writeErr: (text) => sayLines(io.stderr, text.replace(/\n$/, '')),
    })
    .addHelpText(
      'after',
      '\nExit codes: 0 fine; 1 a rule is broken, or readings contradict each other; 2 the input cannot be used;\n' +
        '3 --verify found a difference; 70 internal error. `-` stands for standard input.',
    );
