/** The options that say which way the camera shows the hologram, by themselves or through a bench file; options go before the file. */
import { type Command, Option } from 'commander';
import { errorFinding } from '../finding/finding.ts';
import { readBench } from '../reading/bench/read-bench.ts';
import { type CameraOrientation, PLAIN_ORIENTATION, TURNS, VIEWS } from '../scenario/camera-orientation.ts';
import type { CameraPlace } from '../scenario/camera-place.ts';
import type { Io } from './io.ts';
import { readInput } from './read-input.ts';
import type { Fault } from './say.ts';

export interface CameraOptions {
  readonly bench?: string;
  readonly view?: CameraOrientation['view'];
  readonly turned?: string;
  readonly mirrored?: boolean;
}

/** What was said, by options and by the bench file. */
export interface GivenCamera {
  readonly options: Partial<CameraOrientation>;
  readonly bench: Partial<CameraOrientation>;
  /** Where the picture has the beam's circle, by the bench file. */
  readonly place?: CameraPlace;
}

export const withCameraOptions = (command: Command): Command =>
  command
    .option('--bench <yaml>', 'bench file with the camera’s orientation and place; - for standard input')
    .addOption(
      new Option(
        '--view <side>',
        `side from which the camera’s picture is seen (default: ${PLAIN_ORIENTATION.view})`,
      ).choices(VIEWS),
    )
    .addOption(
      new Option('--turned <degrees>', 'turn of the camera’s picture, clockwise (default: 0)').choices(
        TURNS.map(String),
      ),
    )
    .option('--mirrored', 'the camera’s picture is mirrored, left for right, before it is turned')
    .option('--no-mirrored', 'it is not, whatever the bench file says');

/** `inputs` are the command's other ones: standard input holds one document. */
export async function cameraGiven(
  { bench, view, turned, mirrored }: CameraOptions,
  inputs: readonly string[],
  io: Io,
): Promise<{ readonly given: GivenCamera } | { readonly fault: Fault }> {
  const options = {
    ...(view === undefined ? {} : { view }),
    ...(turned === undefined ? {} : { turned: Number(turned) as CameraOrientation['turned'] }),
    ...(mirrored === undefined ? {} : { mirrored }),
  };
  if (bench === undefined) return { given: { options, bench: {} } };
  if (bench === '-' && inputs.includes('-')) {
    const message = 'standard input cannot be both the bench file and another input';
    return { fault: { findings: [errorFinding('conflicting-keys', '--bench', message, 'name a file')] } };
  }
  const input = await readInput(bench, io);
  if ('finding' in input) return { fault: { findings: [input.finding] } };
  const { camera, place, findings } = readBench(input.text, input.name);
  if (findings.length > 0) return { fault: { findings, text: input.text } };
  return { given: { options, bench: camera, ...(place === undefined ? {} : { place }) } };
}

/** Options go before the readings file, which was written at the camera; that goes before the bench file. */
export const orientationFrom = (
  { options, bench }: GivenCamera,
  readings: Partial<CameraOrientation> = {},
): CameraOrientation => ({ ...PLAIN_ORIENTATION, ...bench, ...readings, ...options });

export async function cameraOrientation(
  options: CameraOptions,
  inputs: readonly string[],
  io: Io,
): Promise<{ readonly orientation: CameraOrientation } | { readonly fault: Fault }> {
  const camera = await cameraGiven(options, inputs, io);
  return 'fault' in camera ? camera : { orientation: orientationFrom(camera.given) };
}
