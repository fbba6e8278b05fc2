/**
 * The command line: argv and streams in, an exit code out. Each command's work is in a file of its own, loaded when asked for; `check` is
 * asked for so often that it comes along at once.
 */
import { Command, CommanderError, Option } from 'commander';
import { check } from './command-check.ts';
import { EXIT, type ExitCode, type Io } from './io.ts';
import { withPatternOptions } from './pattern-options.ts';
import { VERSION } from './version.ts';

export async function main(
  argv: readonly string[],
  io: Io,
  loadMake: LoadMake = () => import('./command-make.ts'),
): Promise<ExitCode> {
  let code: ExitCode = EXIT.fine;
  const done = (result: ExitCode): void => {
    code = result;
  };
  const program = commandLine(io, done, loadMake);
  try {
    await program.parseAsync([...argv], { from: 'user' });
    return code;
  } catch (error) {
    if (error instanceof CommanderError) return error.exitCode === 0 ? EXIT.fine : EXIT.unusable;
    const what = error instanceof Error ? error.message : String(error);
    io.stderr.write(
      `datumlight: a fault of the program's own: ${what}\nPlease report it with the scenario.\n`,
    );
    if (io.env.DATUMLIGHT_TRACE && error instanceof Error) io.stderr.write(`${error.stack}\n`);
    return EXIT.fault;
  }
}

/** How `make` is come by: main-with-make.ts has it already. */
type LoadMake = () => Promise<Pick<typeof import('./command-make.ts'), 'make'>>;

function commandLine(io: Io, done: (code: ExitCode) => void, loadMake: LoadMake): Command {
  const program = new Command('datumlight');
  program
    .description('Designs the reference patches of a null-test hologram from a YAML scenario.')
    .version(VERSION)
    .exitOverride()
    .showHelpAfterError('(datumlight --help lists the commands)')
    .configureOutput({
      writeOut: (text) => io.stdout.write(text),
      writeErr: (text) => io.stderr.write(text),
    })
    .addHelpText(
      'after',
      '\nExit codes: 0 fine, 1 the design breaks a rule or readings contradict each other, 2 the input cannot be used, 3 --verify found a difference,\n' +
        '70 a fault of the program. `-` stands for standard input.',
    );

  talkative(program.command('check'))
    .argument('<files...>', 'scenarios; - for standard input')
    .option(
      '--table <csv>',
      'instead, prove that a coefficient table that came back still means this design; - for standard input',
    )
    .option('--within <waves>', 'with --table: the largest difference allowed anywhere in a patch; 0.002')
    .summary('read, validate, solve and apply every rule; writes nothing')
    .description(
      'Reads each scenario, works its design out and applies every rule. Writes nothing.\n' +
        'With --table no rule is applied: rows and columns may come in any order, rounded, in the units that the columns’ names give and\n' +
        'with the signs that the head states; exit 0 if the table means the same, 1 if not, with the misreading that explains it.',
    )
    .addHelpText(
      'after',
      '\nExamples:\n  datumlight check examples/converging-retroreflectors.yaml --json\n' +
        '  datumlight check scenario.yaml --table returned.csv',
    )
    .action(async (files: string[], options) => {
      done(await check(files, options, io));
    });

  withPatternOptions(talkative(program.command('make')))
    .argument('<file>', 'scenario; - for standard input')
    .requiredOption('--out <dir>', 'folder for the package; appears whole or not at all')
    .option('--draft', 'write even if a rule is broken; each drawing says NOT FOR FABRICATION')
    .summary('check, then write drawings, tables, report and sheet')
    .description(
      'Checks a scenario, then writes its package: drawings, phase tables, report, sheet and manifest.',
    )
    .addHelpText(
      'after',
      '\nExamples:\n  datumlight make examples/diverging-balls.yaml --out out/balls\n' +
        '  datumlight make examples/diverging-balls.yaml --out out/balls --pattern gds oas',
    )
    .action(async (file: string, options) => {
      const { make } = await loadMake();
      done(await make(file, options, io));
    });

  talkative(program.command('plan'))
    .argument('<file>', 'scenario with places left open; - for standard input')
    .requiredOption('--out <file>', 'the complete scenario; - for standard output')
    .option('--seed <text>', 'decides between equals; the same seed gives the same bytes', 'plan')
    .option('--reach <svg>', 'also draw which places can serve which reference under process.minFeature')
    .summary(
      'fill in what a scenario leaves open: sizes, places and line angles of patches, and which references to use',
    )
    .description(
      'Fills in every place of a scenario that says `auto`, so that `wanted` is met with little glass and every rule is kept.\n' +
        'Ctrl-C stops the search and writes the best so far. Exit 1 where the wishes cannot be met, with the reasons in words.',
    )
    .addHelpText(
      'after',
      '\nExample:\n  datumlight plan examples/plan-retroreflectors.yaml --out out/planned.yaml',
    )
    .action(async (file: string, options) => {
      const { plan } = await import('./command-plan.ts');
      done(await plan(file, options, io));
    });

  talkative(program.command('phase'))
    .argument('<file>', 'scenario; - for standard input')
    .requiredOption('--patch <id>', 'the patch')
    .requiredOption('--points <csv>', 'points x_mm,y_mm in the substrate frame; - for standard input')
    .summary('phase and period at points of your own, as CSV')
    .description(
      'Prints x_mm,y_mm,phase_waves,period_um for points of the pattern plane, in the substrate frame. The phase is in waves at\n' +
        'order 1, E_out = E_in + m lambda Phi, 0 at the patch centre before any bias; it is given even where a rule is broken.',
    )
    .addHelpText('after', '\nExample:\n  datumlight phase scenario.yaml --patch north-1 --points points.csv')
    .action(async (file: string, options) => {
      const { phase } = await import('./command-phase.ts');
      done(await phase(file, options, io));
    });

  talkative(program.command('fringes'))
    .argument('<file>', 'scenario; - for standard input')
    .requiredOption('--out <dir>', 'folder for the pictures; appears whole or not at all')
    .option('--patch <id>', 'only this patch; again for more', collected)
    .option(
      '--at <displacement>',
      'what is out of place, such as "north: [0.02, 0, 0]"; again for more',
      collected,
    )
    .option('--size <pixels>', 'a side of a patch’s picture; 320')
    .addOption(
      new Option('--view <side>', 'from where it is seen; interferometer').choices([
        'interferometer',
        'part',
      ]),
    )
    .option('--diffraction', 'true pictures by scalar diffraction, where there is a model of it')
    .option('--camera', 'as a camera sees it: its own pixels, the contrast of the pattern’s efficiency')
    .option('--noise <part>', 'with --camera: standard deviation of a pixel, as a part of full scale')
    .summary('pictures of what the camera will show, aligned and misaligned')
    .description(
      'Pictures of each patch on the way to alignment (far off, coarse, one fringe, aligned), of the whole aperture, and at a\n' +
        'displacement of your own: a reference [x, y, z] along the axes of the substrate frame; `part` [x, y, z, rx, ry, rz] along its\n' +
        'own axes about its own origin; `hologram` likewise in the substrate frame, against beam and references. Numbers are mm and\n' +
        'degrees; texts may have units. With fringes.html, all on one page; given even where a rule is broken.',
    )
    .addHelpText(
      'after',
      '\nExamples:\n  datumlight fringes examples/diverging-balls.yaml --out out/fringes\n' +
        '  datumlight fringes scenario.yaml --out out/fringes --at "north: [20 um, 0, 0]" --at "part: [0, 0, 0, 0, 0, 5 arcsec]"',
    )
    .action(async (file: string, options) => {
      const { fringes } = await import('./command-fringes.ts');
      done(await fringes(file, options, io));
    });

  talkative(program.command('steer'))
    .argument('<file>', 'scenario; - for standard input')
    .requiredOption('--readings <yaml>', 'what the camera shows; - for standard input')
    .addOption(
      new Option(
        '--watch',
        'answer anew whenever the readings’ file grows; ends when it is removed',
      ).conflicts('json'),
    )
    .summary('fringe readings in, moves of references and part out')
    .description(
      'Says from fringe readings what to move: each reference in the substrate frame, the part in six degrees along its own axes\n' +
        'about its own origin, and the screws of its stage in turns. A move is what to do, not the error found.\n' +
        'Fringes are signed along the patch’s senses (see `check --json`): positive where the reference is displaced along + that\n' +
        'direction, which makes the return’s path fall from the - edge to the + edge of the patch. They are counted beyond what the\n' +
        'design place shows: tilt from edge to edge, power from the middle to the edge.',
    )
    .addHelpText(
      'after',
      '\nReadings:\n  readings:\n    - {patch: north-1, fringes: 1.3}                    # a line focus: one number\n' +
        '    - {patch: ball-1, fringes: [0.4, -1.2], power: 0.3}  # a point focus: its two tilts, and power if seen\n' +
        '    - {patch: east-1, fringes: 2, sign: unknown}\n    - {measurement: spacer, deviation_um: -12}\n' +
        '\nExample:\n  datumlight steer examples/steer-mirror-on-stage.yaml --readings examples/steer-mirror-on-stage.readings.yml',
    )
    .action(async (file: string, options) => {
      const { steer } = await import('./command-steer.ts');
      done(await steer(file, options, io));
    });

  talkative(program.command('transfer'))
    .argument('<file>', 'scenario; - for standard input')
    .requiredOption('--points <csv>', 'points as a laser tracker found them; - for standard input')
    .summary('tracker points in, where the part is and what to move out')
    .description(
      'Ties a tracker to the hologram by retroreflectors at their foci and to the part by those that touch its datums, each a\n' +
        'rigid motion weighted by covariance; says where the part is, what to move, and which points do not fit.\n' +
        'Columns: point,x_mm,y_mm,z_mm with sx_mm,sy_mm,sz_mm if known, or point,range_mm,azimuth_deg,elevation_deg with\n' +
        'srange_mm and sazimuth_deg,selevation_deg or sazimuth_arcsec,selevation_arcsec. Standard uncertainties; where there are\n' +
        'none: 20 um an axis, or 10 um and 1 arcsec. Tracker frame: right-handed, azimuth from +x toward +y, elevation up.\n' +
        'A point is named after its reference: north@hologram sits at its focus, north@part touches the part; a bare id means the\n' +
        'part if it touches datums and no patch looks at it, and the focus otherwise.',
    )
    .addHelpText(
      'after',
      '\nExample:\n  datumlight transfer examples/transfer-mirror-on-rim.yaml --points examples/transfer-mirror-on-rim.points.csv',
    )
    .action(async (file: string, options) => {
      const { transfer } = await import('./command-transfer.ts');
      done(await transfer(file, options, io));
    });

  talkative(program.command('batch'))
    .argument(
      '<patterns...>',
      'scenarios, or patterns such as "scenarios/*.yaml"; with --gather, folders of parts',
    )
    .requiredOption('--out <dir>', 'folder for the packages, the summary and the page')
    .option('--draft', 'write even where a rule is broken; each drawing says NOT FOR FABRICATION')
    .option('--jobs <count>', 'workers; as many as the machine has cores')
    .option('--cache <dir>', "where to keep what was made; the user's cache folder")
    .option('--no-cache', 'make everything, keep nothing')
    .option('--cache-size <size>', 'least recently used results go past this; 2 GB')
    .option('--shard <i/n>', 'only the i-th of n parts')
    .option('--gather', 'join the parts that --shard made')
    .option(
      '--verify',
      'compare with the packages that stand in --out; writes nothing there, exits 3 on a difference',
    )
    .option('--markdown <file>', 'with --verify: what moved, as Markdown; - for standard output')
    .option('--overlay <dir>', 'with --verify: old and new layouts over each other, as SVG')
    .summary('make many scenarios, or one swept over parameters; cached, resumable')
    .description(
      'Makes the package of each scenario, and of each case of a scenario with a `sweep`, in a folder of its name under --out;\n' +
        'with summary.csv, summary.json and contact.html, the layouts side by side. One bad scenario stops no other: the exit\n' +
        'code is the largest of all. A run that was stopped goes on where it was.',
    )
    .addHelpText(
      'after',
      '\nExamples:\n  datumlight batch "scenarios/*.yaml" --out packages\n' +
        '  datumlight batch "scenarios/*.yaml" --out packages --verify --markdown moved.md\n' +
        '  datumlight batch sweep.yaml --out part-2 --shard 2/4\n' +
        '  datumlight batch --gather part-1 part-2 part-3 part-4 --out packages',
    )
    .action(async (patterns: string[], options) => {
      const { batch } = await import('./command-batch.ts');
      done(await batch(patterns, options, io));
    });

  program
    .command('completion')
    .argument('<shell>', 'bash or zsh')
    .summary('print the completion script of a shell')
    .description('Prints a script that completes commands, options and files in bash or zsh.')
    .addHelpText('after', '\nExample:\n  source <(datumlight completion bash)')
    .action(async (shell: string) => {
      const { completion } = await import('./command-completion.ts');
      done(completion(shell, program, io));
    });
  return program;
}

const collected = (value: string, before: readonly string[] = []): readonly string[] => [...before, value];

/** The options that every command has. */
const talkative = (command: Command): Command =>
  command
    .option('--json', 'one JSON document on stdout and nothing else')
    .option('--quiet', 'no summary; findings are still said')
    .option('--no-color', 'no colour, whatever the terminal');
