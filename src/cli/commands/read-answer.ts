/** Of `read`: from files of frames to what is printed and written. */
import { existsSync } from 'node:fs';
import type { Design } from '../../design/design.ts';
import { closedFiles, knownByText, refusedFiles } from '../../disk/output-places.ts';
import { type PlacedFile, placeFiles } from '../../disk/place-files.ts';
import { errorFinding, type Finding } from '../../finding/finding.ts';
import { isSure } from '../../writing/frame/fault-words.ts';
import { frameReadings, isFrameReadings } from '../../writing/frame/frame-readings.ts';
import { frameReport, type ReadPicture } from '../../writing/frame/frame-report.ts';
import { frameText } from '../../writing/frame/frame-text.ts';
import { isOverlay, overlayFile } from '../../writing/frame/overlay-file.ts';
import { jsonText } from '../../writing/json.ts';
import type { GivenCamera } from '../camera-options.ts';
import type { TalkOptions } from '../command.ts';
import { type FrameOptions, readPicture } from '../frame-options.ts';
import { EXIT, type ExitCode, type Io } from '../io.ts';
import type { Loaded } from '../load-scenario.ts';
import { countOf, listing, refusing, sayFindings, sayLine, sayLines } from '../say.ts';

export interface ReadOutputs {
  readonly out?: string;
  readonly overlay?: string;
}

export interface ReadBench {
  readonly loaded: Loaded;
  readonly design: Design;
  readonly given: GivenCamera;
}

const readingsAt = (path: string) => ({ option: '--out', path, isOwn: knownByText(isFrameReadings) });
const overlayAt = (path: string) => ({ option: '--overlay', path, isOwn: knownByText(isOverlay) });

/** Before any work. */
export function refusedOutputs({ out, overlay }: ReadOutputs, inputs: readonly string[]): readonly Finding[] {
  if (overlay !== undefined && !/\.(png|svg)$/i.test(overlay)) {
    const message = `${overlay} is neither a .png nor an .svg file`;
    return [errorFinding('bad-value', '--overlay', message, 'end its name in .png or .svg')];
  }
  const files = [
    ...(out === undefined || out === '-' ? [] : [readingsAt(out)]),
    ...(overlay === undefined ? [] : [overlayAt(overlay)]),
  ];
  const misplaced = refusedFiles(files, inputs);
  return misplaced.length > 0 ? misplaced : closedFiles(files);
}

export async function answerFrames(
  bench: ReadBench,
  files: readonly string[],
  options: TalkOptions & FrameOptions & ReadOutputs,
  io: Io,
): Promise<ExitCode> {
  const { design, loaded, given } = bench;
  const read = await readPicture(design, files, options, given, io);
  if (!('picture' in read)) {
    sayLeft(options, io);
    return refusing(options, io)(files[0]!, read);
  }
  const { picture } = read;
  const findings = read.findings.map(loaded.placed);
  const isRead = picture.reading.patches.some(isSure);
  const { out, overlay } = options;
  // What was drawn shows why nothing was read; readings of nothing would be no readings file.
  const placed: PlacedFile[] = [
    ...(out === undefined || out === '-' || !isRead
      ? []
      : [{ ...readingsAt(out), content: frameReadings(design, picture) }]),
    ...(overlay === undefined
      ? []
      : [{ ...overlayAt(overlay), content: await overlayFile(design, picture, overlay) }]),
  ];
  const unwritten = placeFiles(placed);
  if (countOf(unwritten, 'error') > 0) return refusing(options, io)(files[0]!, { findings: unwritten });
  if (!isRead) {
    if (!options.json && !options.quiet) {
      if (out !== '-') io.stdout.write(frameText(design, picture));
      if (overlay !== undefined) sayLine(io.stderr, `wrote ${overlay}`);
    }
    sayLeft(options, io);
    return refusing(options, io)(loaded.file, { findings, text: loaded.text });
  }
  tell(bench, picture, [...findings, ...unwritten], options, io);
  return EXIT.fine;
}

/** Readings of an earlier frame that stay where those of this one were asked for: `steer` would take them for new ones. */
function sayLeft({ json, out }: TalkOptions & ReadOutputs, io: Io): void {
  if (!json && out !== undefined && out !== '-' && existsSync(out))
    sayLine(io.stderr, `${out} is left as it was, with the readings of an earlier frame`);
}

function tell(
  { design, loaded }: ReadBench,
  picture: ReadPicture,
  findings: readonly Finding[],
  options: TalkOptions & ReadOutputs,
  io: Io,
): void {
  const { out, overlay } = options;
  if (options.json) {
    const head = { format: 'datumlight-read/1', file: loaded.file, scenario: { sha256: loaded.hash } };
    const written = { out: out ?? null, overlay: overlay ?? null };
    io.stdout.write(jsonText({ ...head, ...listing(frameReport(design, picture, findings)), written }));
    return;
  }
  sayFindings(findings, loaded.text, io.stderr, io, options);
  if (out === '-') sayLines(io.stdout, frameReadings(design, picture).replace(/\n$/, ''));
  else if (!options.quiet) io.stdout.write(frameText(design, picture));
  if (options.quiet) return;
  for (const file of [out === '-' ? undefined : out, overlay])
    if (file !== undefined) sayLine(io.stderr, `wrote ${file}`);
}
