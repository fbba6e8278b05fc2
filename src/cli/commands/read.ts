/** `read SCENARIO FRAME…`: frames of the camera, or a phase map, in; readings for `steer` out. */

import { errorFinding, type Finding } from '../../finding/finding.ts';
import { type CameraOptions, cameraGiven, withCameraOptions } from '../camera-options.ts';
import { type Register, type TalkOptions, talkative } from '../command.ts';
import { type FrameOptions, withFrameOptions } from '../frame-options.ts';
import type { ExitCode, Io } from '../io.ts';
import { loadScenario } from '../load-scenario.ts';
import { refusing, sayFindings } from '../say.ts';
import { answerFrames, type ReadOutputs, refusedOutputs } from './read-answer.ts';
import { watchFrames } from './read-watch.ts';

interface ReadOptions extends TalkOptions, CameraOptions, FrameOptions, ReadOutputs {
  readonly watch?: string;
}

export const registerRead: Register = ({ program, io, end }) =>
  withFrameOptions(withCameraOptions(talkative(program.command('read'))))
    .argument('<file>', 'scenario; - for standard input')
    .argument(
      '[frames...]',
      'frames of one setting in phase steps, one frame, or one phase map; - for standard input',
    )
    .option('--out <yaml>', 'readings file for steer; - for standard output')
    .option('--overlay <picture>', 'PNG or SVG file: the frame with what was fitted drawn over it')
    .option('--watch <dir>', 'answer each new frame that is saved into this folder; ends when it is removed')
    .summary('camera frames or phase maps in, readings for steer out')
    .description(
      'Finds the hologram in a frame of the interferometer’s camera, fits the fringes of each patch, and prints them as `steer` takes\n' +
        'them, each with a standard uncertainty and a quality from 0 to 1. What is not sure is not given to steer; the reason and a remedy\n' +
        'are printed. Frames: PNG, TIFF and PGM of 8 or 16 bits, .npy, or a grid of numbers as text (CSV), known by their content. Unless\n' +
        'told otherwise, how the camera is turned is found from the lit outlines, where they tell.',
    )
    .addHelpText(
      'after',
      '\nExamples:\n  datumlight read scenario.yaml frame.png --out readings.yml --overlay fitted.png\n' +
        '  datumlight read scenario.yaml step-*.tif --steps longer --out readings.yml\n' +
        '  datumlight read scenario.yaml map.npy --unit waves --steps longer --json\n' +
        '  datumlight read scenario.yaml --watch frames --out readings.yml    # beside: steer scenario.yaml --readings readings.yml --watch',
    )
    .action((file: string, frames: readonly string[], options: ReadOptions) =>
      end(read(file, frames, options, io)),
    );

async function read(
  file: string,
  frames: readonly string[],
  options: ReadOptions,
  io: Io,
): Promise<ExitCode> {
  const refuse = refusing(options, io);
  const wrong = wrongWords(file, frames, options);
  if (wrong !== undefined) return refuse(file === '-' ? '<stdin>' : file, { findings: [wrong] });
  const loaded = await loadScenario(file, io);
  const { design } = loaded;
  if (design === undefined) return refuse(loaded.file, loaded);
  const inputs = [file, ...frames, ...(options.bench === undefined ? [] : [options.bench])];
  const camera = await cameraGiven(options, inputs, io);
  if ('fault' in camera) return refuse(loaded.file, camera.fault);
  const misplaced = refusedOutputs(options, inputs);
  if (misplaced.length > 0) return refuse(loaded.file, { findings: misplaced });
  if (!options.json) sayFindings(loaded.findings, loaded.text, io.stderr, io, options);
  const bench = { loaded, design, given: camera.given };
  return options.watch === undefined
    ? answerFrames(bench, frames, options, io)
    : watchFrames(bench, options.watch, options, io);
}

function wrongWords(file: string, frames: readonly string[], options: ReadOptions): Finding | undefined {
  const conflict = (where: string, message: string, hint: string): Finding =>
    errorFinding('conflicting-keys', where, message, hint);
  if (frames.length === 0 && options.watch === undefined)
    return errorFinding('missing-key', '--watch', 'no frame is given', 'name one, or a folder with --watch');
  if (options.watch !== undefined) {
    if (frames.length > 0) return conflict('--watch', 'frames and a folder are given', 'give one of the two');
    if (options.json)
      return conflict('--json', '`--watch` has no end to its output', 'leave one of the two out');
    if (options.out === '-') return conflict('--out', '`--watch` answers on standard output', 'name a file');
  }
  if (options.json && options.out === '-')
    return conflict('--out', 'standard output cannot hold both the readings and the document', 'name a file');
  if ([file, ...frames].filter((name) => name === '-').length > 1)
    return conflict('--frame', 'standard input holds one of the inputs only', 'name files for the others');
  return undefined;
}
