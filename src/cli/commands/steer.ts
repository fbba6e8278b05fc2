/** `steer FILE --readings FILE`: what the camera shows in, what to turn next out. */
import process from 'node:process';
import { setTimeout as pause } from 'node:timers/promises';
import { Option } from 'commander';
import type { Design } from '../../design/design.ts';
import { errorFinding } from '../../finding/finding.ts';
import { ROUNDS, type RoundName } from '../../scenario/round-name.ts';
import { type CameraOptions, cameraGiven, orientationFrom, withCameraOptions } from '../camera-options.ts';
import { type Register, type TalkOptions, talkative } from '../command.ts';
import { type FrameOptions, withFrameOptions } from '../frame-options.ts';
import { EXIT, type ExitCode, type Io } from '../io.ts';
import { type Loaded, loadScenario } from '../load-scenario.ts';
import { readInput, stdinTwice } from '../read-input.ts';
import { refusing, sayFindings } from '../say.ts';
import { again, answer, type Bench } from './steer-answer.ts';
import { readBefore } from './steer-before.ts';
import { readFramesFor } from './steer-frames.ts';
import { openSession } from './steer-session.ts';
import { template } from './steer-template.ts';

interface SteerOptions extends TalkOptions, CameraOptions, FrameOptions {
  readonly frame?: readonly string[];
  readonly readings?: string;
  readonly session?: string;
  readonly moment?: RoundName;
  readonly template?: boolean;
  readonly out?: string;
  readonly before?: string;
  readonly watch?: boolean;
}

/** Between two looks at a growing file, ms: sooner than a person reads the answer. */
const LOOK_EVERY = 200;

export const registerSteer: Register = ({ program, io, end }) =>
  withFrameOptions(withCameraOptions(talkative(program.command('steer'))))
    .argument('<file>', 'scenario; - for standard input')
    .option('--readings <yaml>', 'fringe readings; - for standard input')
    .addOption(
      new Option(
        '--frame <frames...>',
        'read the camera’s frames as `read` does; a reading of --readings overrides that of a frame',
      ).conflicts(['template', 'watch']),
    )
    .addOption(
      new Option(
        '--session <file>',
        'YAML or JSON file that keeps the rounds of an alignment; --readings adds one, without it the last is told again',
      ).conflicts(['before', 'watch']),
    )
    .addOption(
      new Option(
        '--moment <when>',
        'with --session: when these readings were taken, before clamping (default), clamped, or reseated: taken out and put back',
      ).choices(ROUNDS),
    )
    .addOption(
      new Option(
        '--template',
        'print a readings file to fill in: every patch, and which way counts as positive',
      ).conflicts([...['readings', 'session', 'before', 'watch', 'json']]),
    )
    .option('--out <file>', 'with --template: write it there instead of printing it')
    .option(
      '--before <yaml>',
      'earlier readings, whose moves have been made since: checks that they did what was predicted',
    )
    .addOption(
      new Option(
        '--watch',
        'recompute whenever the readings file changes; ends when it is removed',
      ).conflicts('json'),
    )
    .summary('fringe readings in, moves of references and part out')
    .description(
      'Computes from fringe readings what to move: each reference in the substrate frame, the part in six degrees of freedom along its\n' +
        'own axes about its own origin, and the screws of its stage in turns. Moves are corrections to apply, not the measured errors.\n' +
        'Fringes are signed along the senses of the patch (see `check --json`): positive if the reference is displaced in the + direction\n' +
        'of the sense, so that the optical path of the return decreases from the - edge to the + edge of the patch. Count them beyond\n' +
        'what the aligned patch shows: tilt from edge to edge, power from centre to edge. The null, patch main, may be read too: positive\n' +
        'if the optical path of the return decreases from the - edge to the + edge of the footprint along the substrate’s x or y (x to the\n' +
        'left as the interferometer sees it), or from centre to edge. It counts with the surface’s own figure as an error (test.ownFigure). A ring is counted along the\n' +
        'substrate’s x and y, and from its inner to its outer edge; positive if the path decreases from the - edge to the + edge, or outward.\n' +
        'A return ring tells how to move the hologram, a ring on a datum feature how to move the part.',
    )
    .addHelpText(
      'after',
      '\nReadings, YAML as below or a CSV with the keys as its columns; --template writes them to fill in:\n  readings:\n    - {patch: north-1, fringes: 1.3}                    # a line focus: one number\n' +
        '    - {patch: ball-1, fringes: [0.4, -1.2], power: 0.3}  # a point focus: two tilts, and power if seen\n' +
        '    - {patch: return-ring, fringes: [0.8, -1.5], power: 0.2}   # a ring: along x, along y, inner to outer edge\n' +
        '    - {patch: east-1, fringes: 2, sign: unknown}\n    - {patch: ball-3, fringes: [0.4, -1.2], or: [-4.4, 1.2]}   # two readings that the picture shows alike\n    - {measurement: spacer, deviation_um: -12}\n' +
        '    - {patch: ball-2, fringes: 1.3, toward: 9}           # as seen: the path falls toward 9 o’clock in the picture\n' +
        '    - {patch: main, fringes: [0.8, -1.5], power: 0.4, coma: [0.1, 0]}   # the null: along x and y\n' +
        '    - {patch: main, fringes: 1.7, toward: 4, power: 0.4}               # its tilt as seen, instead\n' +
        '    - {patch: main, waves: {tilt: [0.2, -0.4], power: 0.1}}             # or by Zernike term, ISO 24157, instead\n' +
        '\nExample:\n  datumlight steer examples/steer-mirror-on-stage.yaml --readings examples/steer-mirror-on-stage.readings.yml\n' +
        '  datumlight steer scenario.yaml --frame frame.png --bench bench.yml',
    )
    .action((file: string, options: SteerOptions) => end(steer(file, options, io)));

async function steer(file: string, options: SteerOptions, io: Io): Promise<ExitCode> {
  const refuse = refusing(options, io);
  if (options.out !== undefined && !options.template) {
    const finding = errorFinding(
      'conflicting-keys',
      '--out',
      '`--out` is for the template alone',
      'add --template',
    );
    return refuse(file, { findings: [finding] });
  }
  const isAsked = [options.readings, options.frame, options.session, options.template].some(
    (one) => one !== undefined,
  );
  if (!isAsked) {
    const message = 'no readings are given';
    const hint =
      'give `--readings FILE` or `--frame FRAME`, or `--session FILE` for the last round again, or `--template`';
    return refuse(file, { findings: [errorFinding('missing-key', '--readings', message, hint)] });
  }
  const isRound =
    options.session !== undefined && (options.readings !== undefined || options.frame !== undefined);
  if (options.moment !== undefined && !isRound) {
    const message = '`--moment` is of a round that is added to a session';
    const hint = 'give --session and --readings or --frame, or remove --moment';
    return refuse(file, { findings: [errorFinding('conflicting-keys', '--moment', message, hint)] });
  }
  const twice = stdinTwice(file, options.readings ?? '', '--readings', 'readings');
  if (twice !== undefined) return refuse('<stdin>', { findings: [twice] });
  const loaded = await loadScenario(file, io);
  const { design } = loaded;
  if (design === undefined) return refuse(loaded.file, loaded);
  if (!options.json) sayFindings(loaded.findings, loaded.text, io.stderr, io, options);
  if (options.watch && options.readings === '-') {
    const message = 'standard input cannot be watched';
    const hint = 'name a file, or remove --watch';
    return refuse('<stdin>', { findings: [errorFinding('conflicting-keys', '--watch', message, hint)] });
  }
  const inputs = [
    file,
    ...(options.readings === undefined ? [] : [options.readings]),
    ...(options.frame ?? []),
  ];
  if (inputs.filter((input) => input === '-').length > 1) {
    const message = 'standard input holds one of the inputs only';
    return refuse('<stdin>', {
      findings: [errorFinding('conflicting-keys', '--frame', message, 'name files for the others')],
    });
  }
  const camera = await cameraGiven(options, inputs, io);
  if ('fault' in camera) return refuse(loaded.file, camera.fault);
  if (options.template)
    return template(design, orientationFrom(camera.given), options, [file, ...inputs], io);
  const read = await readBefore(design, options.before, camera.given, inputs, io);
  if ('fault' in read) return refuse(read.name, read.fault);
  if (options.session === undefined) {
    if (options.watch) return watch(design, { ...options, readings: options.readings! }, read, io);
    return answerTo(design, loaded, options, read, io);
  }
  const opened = await openSession(options.session, loaded, inputs, io);
  if ('fault' in opened) return refuse(opened.name, opened.fault);
  const bench = { ...read, session: opened.open, moment: options.moment ?? 'before' };
  return options.readings === undefined && options.frame === undefined
    ? again(design, options, bench, io)
    : answerTo(design, loaded, options, bench, io);
}

async function answerTo(
  design: Design,
  { placed, text }: Loaded,
  options: SteerOptions,
  bench: Bench,
  io: Io,
): Promise<ExitCode> {
  const refuse = refusing(options, io);
  const input = options.readings === undefined ? undefined : await readInput(options.readings, io);
  if (input !== undefined && 'finding' in input) return refuse(input.name, { findings: [input.finding] });
  const { frame: files = [] } = options;
  if (files.length === 0) return answer(design, input!.text, input!.name, options, bench, io);
  const read = await readFramesFor(design, files, options, bench.given, input, io);
  if (!('frames' in read)) return refuse(files[0]!, { findings: read.findings.map(placed), text });
  const { frames } = read;
  if (!options.json) sayFindings(frames.findings, undefined, io.stderr, io, options);
  return answer(design, input?.text, input?.name ?? files.join(', '), options, { ...bench, frames }, io);
}

/** Answers again whenever the file has changed; ends when it is removed, or at an interrupt. */
async function watch(
  design: Design,
  options: SteerOptions & { readonly readings: string },
  bench: Bench,
  io: Io,
): Promise<ExitCode> {
  const ended = new AbortController();
  const interrupt = (): void => ended.abort();
  process.once('SIGINT', interrupt);
  let before: string | undefined;
  let missed = false;
  let code: ExitCode = EXIT.fine;
  try {
    for (;;) {
      const input = await readInput(options.readings, io);
      if ('finding' in input) {
        if (before === undefined) return refusing(options, io)(input.name, { findings: [input.finding] });
        // An editor may put a new file in the old one's place: only one that stays away has been removed.
        if (missed) return code;
        missed = true;
      } else if (input.text !== before) {
        missed = false;
        if (before !== undefined) io.stdout.write('\n');
        before = input.text;
        code = answer(design, input.text, input.name, options, bench, io);
      }
      if (!io.stdout.writable) return code;
      await pause(LOOK_EVERY, undefined, { signal: ended.signal });
    }
  } catch (error) {
    if (ended.signal.aborted) return code;
    throw error;
  } finally {
    process.removeListener('SIGINT', interrupt);
  }
}
