/** `fringes FILE --out DIR`: what the camera will show, as pictures; and in a terminal a first look at once. */

import type { Design } from '../../design/design.ts';
import { notWritable } from '../../disk/not-writable.ts';
import { refusedFolder } from '../../disk/output-places.ts';
import { writePackage } from '../../disk/package-folder.ts';
import { manifestIn } from '../../disk/package-reading.ts';
import type { Code } from '../../finding/codes.ts';
import { errorFinding, type Finding } from '../../finding/finding.ts';
import { isReadBy } from '../../kinds/kinds.ts';
import { benchState, type Displacements } from '../../metrology/camera/fringe-picture-displacements.ts';
import { framePixels, MOST_FRAME_PIXELS } from '../../metrology/camera/whole-frame.ts';
import type { ShownMotion } from '../../metrology/null/null-fringes.ts';
import { UM_PER_MM, URAD_PER_RAD } from '../../quantity/conversion.ts';
import { didYouMean } from '../../quantity/nearest-name.ts';
import type { CameraOrientation } from '../../scenario/camera-orientation.ts';
import { jsonText } from '../../writing/json.ts';
import { manifestJson } from '../../writing/manifest.ts';
import { frameSet } from '../../writing/picture/frame-set.ts';
import { fringesPage } from '../../writing/picture/fringes-page.ts';
import { type NamedPicture, pictureSet, type SetOptions } from '../../writing/picture/picture-set.ts';
import { type CameraOptions, cameraOrientation, withCameraOptions } from '../camera-options.ts';
import { collected, type Register, type TalkOptions, talkative } from '../command.ts';
import { EXIT, type ExitCode, type Io } from '../io.ts';
import { type Loaded, loadScenario } from '../load-scenario.ts';
import { type Fault, refusing, sayFindings, sayLine } from '../say.ts';
import { VERSION } from '../version.ts';
import { displacementsOf } from './fringes-displacements.ts';
import { preview } from './fringes-preview.ts';

const DEFAULT_SIZE = 320;
const SIZES = { least: 16, most: 2048 } as const;
/** More would take minutes and help nobody. */
const MOST_PATCHES = 200;

interface FringesOptions extends TalkOptions, CameraOptions {
  readonly out: string;
  readonly patch?: readonly string[];
  readonly at?: readonly string[];
  readonly size?: string;
  readonly diffraction?: boolean;
  readonly camera?: boolean;
  readonly noise?: string;
  readonly wayIn?: boolean;
}

export const registerFringes: Register = ({ program, io, end }) =>
  withCameraOptions(talkative(program.command('fringes')))
    .argument('<file>', 'scenario; - for standard input')
    .requiredOption('--out <dir>', 'folder for the pictures; written whole or not at all')
    .option('--patch <id>', 'only this patch; repeatable', collected)
    .option('--at <displacement>', 'what is displaced, e.g. "north: [0.02, 0, 0]"; repeatable', collected)
    .option('--size <pixels>', `picture width in pixels (default: ${DEFAULT_SIZE})`)
    .option('--diffraction', 'compute the pictures by scalar diffraction, where supported')
    .option(
      '--camera',
      'as a camera sees it: its own pixels, contrast from the diffraction efficiency; and whole frames, one aligned and one for each --at',
    )
    .option(
      '--noise <fraction>',
      'with --camera: standard deviation of a pixel, as a fraction of full scale (default: 0)',
    )
    .option('--way-in', 'add moving pictures of the way in to alignment to fringes.html')
    .summary('pictures of what the camera will show, aligned and misaligned')
    .description(
      'Draws each patch on the way to alignment (far off, coarse, one fringe off, aligned), the null of the surface under test with the\n' +
        'part off along each degree (its id is `main`), the whole aperture, and a displacement\n' +
        'of your own: a reference [x, y, z] along the axes of the substrate frame; `part` [x, y, z, rx, ry, rz] along its own axes\n' +
        'about its own origin; `hologram` likewise in the substrate frame, relative to beam and references. Numbers are mm and\n' +
        'degrees; texts may have units. Several --at are one displacement together. fringes.html shows all pictures on one page. Works even\n' +
        'if a rule is broken. With --camera, frame-aligned.png and frame-displaced-1.png, -2 and so on (one for each --at) are whole frames\n' +
        'of the camera, as `read` takes them: `pixelsAcrossBeam` pixels square, the beam across them. One thing may then be named by several --at.',
    )
    .addHelpText(
      'after',
      '\nExamples:\n  datumlight fringes examples/diverging-balls.yaml --out out/fringes\n' +
        '  datumlight fringes scenario.yaml --out out/fringes --at "north: [20 um, 0, 0]" --at "part: [0, 0, 0, 0, 0, 5 arcsec]"\n' +
        '  datumlight fringes scenario.yaml --out out/frames --camera --noise 0.02 --at "north: [20 um, 0, 0]" --at "north: [40 um, 0, 0]"',
    )
    .action((file: string, options: FringesOptions) => end(fringes(file, options, io)));

async function fringes(file: string, options: FringesOptions, io: Io): Promise<ExitCode> {
  const loaded = await loadScenario(file, io);
  const { design } = loaded;
  const refuse = (...faults: readonly Fault[]): ExitCode => refusing(options, io)(loaded.file, ...faults);
  if (design === undefined) return refuse(loaded);
  const camera = await cameraOrientation(options, [file], io);
  if ('fault' in camera) return refuse(camera.fault);
  const asked = readOptions(design, options, camera.orientation);
  if ('faults' in asked) return refuse(...asked.faults);
  const misplaced = refusedFolder('--out', options.out, [
    file,
    ...(options.bench === undefined ? [] : [options.bench]),
  ]);
  if (misplaced !== undefined) return refuse({ findings: [misplaced] });
  const packageThere = packageIn(options.out);
  if (packageThere !== undefined) return refuse({ findings: [packageThere] });

  // Its library takes longer to load than a small `check` runs.
  const { pngBytes } = await import('../../writing/picture/png.ts');
  const { films } = await import('../../writing/picture/way-in.ts');
  let pictures: readonly NamedPicture[];
  try {
    pictures = pictureSet(design, asked.set);
    // A bench that cannot be is found out before any frame is drawn.
    for (const displacements of asked.frames ?? []) benchState(design, displacements);
  } catch (error) {
    const moved = [asked.set.at, ...(asked.frames ?? [])].some((at) => at?.hologram !== undefined);
    if (!(error instanceof RangeError) || !moved) throw error;
    const finding = errorFinding('out-of-range', '--at', error.message, 'use a smaller displacement');
    return refuse({ findings: [finding] });
  }
  const bytes = new Map(pictures.map(({ file: name, picture }) => [name, pngBytes(picture)]));
  const files = new Map<string, string | Uint8Array>(bytes);
  const frames: WrittenFrame[] = [];
  for (const frame of asked.frames === undefined
    ? []
    : frameSet(design, asked.frames, frameWishes(asked.set))) {
    files.set(frame.file, pngBytes(frame.picture));
    frames.push({
      ...{ file: frame.file, pixels: frame.picture.width },
      at: frame.displacement === undefined ? undefined : options.at![frame.displacement - 1],
    });
  }
  files.set(
    'fringes.html',
    fringesPage(design, pictures, bytes, asked.set, VERSION, options.wayIn ? films(design, asked.set) : []),
  );
  files.set(
    'manifest.json',
    manifestJson(files, { version: VERSION, scenarioHash: loaded.hash, draft: false }),
  );
  const warn = (warnings: readonly Finding[]): void =>
    sayFindings(warnings, undefined, io.stderr, io, options);
  const unwritten = writePackage(options.out, files, { warn });
  if (unwritten !== undefined) return refuse({ findings: [unwritten] });

  if (options.json) io.stdout.write(jsonText(reportOf(loaded, asked.set, pictures, frames, options.out)));
  else {
    sayFindings(loaded.findings, loaded.text, io.stderr, io, options);
    if (!options.quiet) {
      preview(design, asked.set, io);
      const whole =
        frames.length === 0 ? '' : `, ${frames.length} whole frame${frames.length > 1 ? 's' : ''}`;
      sayLine(
        io.stdout,
        `${loaded.file}: wrote ${pictures.length} pictures${whole} and fringes.html to ${options.out}`,
      );
    }
  }
  return EXIT.fine;
}

interface WrittenFrame {
  readonly file: string;
  readonly pixels: number;
  /** As it was given; undefined where all is in place. */
  readonly at: string | undefined;
}

const frameWishes = ({ orientation, diffraction, camera }: SetOptions) => ({
  orientation,
  diffraction: diffraction === true,
  noise: camera?.noise ?? 0,
});

function reportOf(
  { file, hash }: Loaded,
  { orientation, diffraction, camera }: SetOptions,
  pictures: readonly NamedPicture[],
  frames: readonly WrittenFrame[],
  written: string,
): unknown {
  return {
    format: 'datumlight-fringes/1',
    file,
    scenario: { sha256: hash },
    orientation,
    diffraction: diffraction === true,
    camera: camera !== undefined,
    written,
    pictures: pictures.map(({ file: name, patch, state, displacement, fringes: counts, motion, moved }) => ({
      file: name,
      patch: patch ?? null,
      state,
      displacement_um: displacement === undefined ? null : xyz(displacement.map((part) => part * UM_PER_MM)),
      ...(moved === undefined
        ? {}
        : {
            moved: moved.of,
            move_um: xyz(moved.translation.map((part) => part * UM_PER_MM)),
            move_urad: Object.fromEntries(
              ['rx', 'ry', 'rz'].map((name, k) => [name, moved.rotation[k]! * URAD_PER_RAD]),
            ),
          }),
      fringesAlongSenses: counts,
      ...(motion === undefined ? {} : { motion: motionOf(motion) }),
    })),
    ...(frames.length === 0
      ? {}
      : { frames: frames.map(({ file: name, pixels, at }) => ({ file: name, pixels, at: at ?? null })) }),
  };
}

const motionOf = ({ degree, amount, forms }: ShownMotion): unknown => ({
  degree,
  ...(degree.startsWith('r') ? { urad: amount * URAD_PER_RAD } : { um: amount * UM_PER_MM }),
  fringes: forms,
});

const xyz = ([x, y, z]: readonly number[]): unknown => ({ x, y, z });

type Asked =
  | {
      readonly set: SetOptions;
      /** The displacement of each whole frame but the aligned one; undefined: none are asked for. */
      readonly frames?: readonly Displacements[];
    }
  | { readonly faults: readonly Fault[] };

function readOptions(design: Design, options: FringesOptions, orientation: CameraOrientation): Asked {
  const findings: Finding[] = [];
  const fault = (rule: Code, option: string, message: string, hint: string): void =>
    void findings.push(errorFinding(rule, option, message, hint));
  const size = options.size === undefined ? DEFAULT_SIZE : Number(options.size);
  if (!(Number.isInteger(size) && size >= SIZES.least && size <= SIZES.most)) {
    const hint = `expected a whole number of pixels from ${SIZES.least} to ${SIZES.most}`;
    fault('out-of-range', '--size', `--size is ${JSON.stringify(options.size)}`, hint);
  }
  const noise =
    options.noise === undefined ? 0 : options.noise.trim() === '' ? Number.NaN : Number(options.noise);
  if (!(noise >= 0 && noise <= 1)) {
    const hint = 'expected the standard deviation of a pixel as a fraction of full scale, 0 to 1';
    fault('out-of-range', '--noise', `--noise is ${JSON.stringify(options.noise)}`, hint);
  }
  const names = design.patches.map(({ id }) => id);
  for (const id of options.patch ?? []) {
    if (id === design.main?.id) continue;
    const patch = design.patches.find((candidate) => candidate.id === id);
    if (patch !== undefined && isReadBy(patch.reference, 'mark')) {
      const message = `patch ${id} sends its light to a ${patch.reference.kind} and has no fringe picture`;
      fault('bad-value', '--patch', message, 'name another patch');
    }
    if (patch !== undefined) continue;
    const known = design.main === undefined ? names : [design.main.id, ...names];
    const hint = didYouMean(id, known) ?? `known patches: ${known.slice(0, 14).join(', ')}`;
    fault('unknown-name', '--patch', `the scenario has no patch ${JSON.stringify(id)}`, hint);
  }
  const count = options.patch?.length ?? names.length;
  if (count > MOST_PATCHES) {
    const hint = `name up to ${MOST_PATCHES} of them with --patch`;
    fault('too-many', '--patch', `there are ${count} patches, too many to draw at once`, hint);
  }
  const camera = options.camera || noise > 0 ? { noise } : undefined;
  const pixels = framePixels(design);
  if (camera !== undefined && pixels > MOST_FRAME_PIXELS) {
    const message = `the camera has ${pixels} pixels across the beam; whole frames have at most ${MOST_FRAME_PIXELS}`;
    fault('out-of-range', '--camera', message, 'leave --camera out, or check `pixelsAcrossBeam`');
  }
  const { at, each, faults } = displacementsOf(design, options.at ?? [], camera !== undefined);
  if (findings.length > 0) faults.unshift({ findings });
  if (faults.length > 0) return { faults };
  return {
    ...(camera === undefined ? {} : { frames: each }),
    set: {
      size,
      orientation,
      ...(options.patch === undefined ? {} : { patches: options.patch }),
      ...(at === undefined ? {} : { at }),
      ...(options.diffraction ? { diffraction: true } : {}),
      ...(camera === undefined ? {} : { camera }),
    },
  };
}

/** Pictures never take the place of a package that `make` wrote. */
function packageIn(folder: string): Finding | undefined {
  const found = manifestIn(folder);
  if (found === undefined || !('report.json' in found.manifest.files)) return undefined;
  const message = 'contains a package written by make, which the pictures would replace';
  return notWritable(folder, message, 'name another folder');
}
