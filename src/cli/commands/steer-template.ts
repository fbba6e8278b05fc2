/** Of `steer`, `--template`: a readings file to fill in, printed or written where nothing stands yet. */
import type { Design } from '../../design/design.ts';
import { knownByText, refusedFiles } from '../../disk/output-places.ts';
import { placeFiles } from '../../disk/place-files.ts';
import type { CameraOrientation } from '../../scenario/camera-orientation.ts';
import { readingsTemplate } from '../../writing/steering/readings-template.ts';
import type { TalkOptions } from '../command.ts';
import { EXIT, type ExitCode, type Io } from '../io.ts';
import { countOf, refusing, sayFindings, sayLine, sayLines } from '../say.ts';

/** `inputs`: files that are not to be written over. */
export function template(
  design: Design,
  orientation: CameraOrientation,
  options: TalkOptions & { readonly out?: string },
  inputs: readonly string[],
  io: Io,
): ExitCode {
  const text = readingsTemplate(design, orientation);
  const { out } = options;
  if (out === undefined || out === '-') {
    sayLines(io.stdout, text.replace(/\n$/, ''));
    return EXIT.fine;
  }
  // Of a file that was filled in since, the readings would be lost.
  const place = { option: '--out', path: out, isOwn: knownByText((standing) => standing === text) };
  const misplaced = refusedFiles([place], inputs);
  const findings = misplaced.length > 0 ? misplaced : placeFiles([{ ...place, content: text }]);
  if (countOf(findings, 'error') > 0) return refusing(options, io)(out, { findings });
  sayFindings(findings, undefined, io.stderr, io, options);
  if (!options.quiet) sayLine(io.stderr, `${out}: fill in what you read`);
  return EXIT.fine;
}
