/**
 * Readings of frames as a file for `steer --readings`, in the form of the template: what is sure as readings, the rest as comments with the
 * reason, so that the operator can count there by eye. A checksum in the last line tells a file that nobody has changed since.
 */
import { createHash } from 'node:crypto';
import type { Design } from '../../design/design.ts';
import { visibleText } from '../../finding/visible-text.ts';
import type { PatchReading } from '../../metrology/frame/frame-reading.ts';
import { axesWords, orientationWords } from '../page/orientation-words.ts';
import { quoted } from '../steering/readings-template.ts';
import { isSure, qualityText, unsureWords } from './fault-words.ts';
import { numberOf, type ReadPicture } from './frame-report.ts';
import { sourceWords } from './frame-text.ts';
import { roundedFringes, roundedReading, roundedUncertainty } from './rounded-reading.ts';

const MARK = '# written by `datumlight read`; checksum of the lines above: ';

/** Whether a file is as it was read from frames: what was added by hand since would be lost. */
export function isFrameReadings(text: string): boolean {
  const unix = text.replaceAll('\r\n', '\n');
  const at = unix.lastIndexOf(MARK);
  return at >= 0 && unix.slice(at) === markOf(unix.slice(0, at));
}

/** The first digits of the SHA-256, hex. */
const markOf = (lines: string): string =>
  `${MARK}${createHash('sha256').update(lines).digest('hex').slice(0, 16)}\n`;

/** At least one of the patches is sure. */
export function frameReadings(design: Design, picture: ReadPicture): string {
  const { taken, reading } = picture;
  const { orientation } = reading.map;
  const { view, turned, mirrored } = orientation;
  const lines = [
    `# Fringe readings for ${visibleText(design.scenario.title)}`,
    ...taken.map(({ file, form }) => `# from ${visibleText(file)}, ${form}`),
    `# camera ${orientationWords(orientation)}: ${axesWords(orientation)} (${sourceWords(picture)})`,
    ...(picture.stated || reading.toldApart
      ? []
      : ['# Settle how the camera is turned before you move anything: signs and patches follow from it.']),
    'format: datumlight-readings/1',
    `camera: {view: ${view}, turned: ${turned}, mirrored: ${mirrored}}`,
    'readings:',
    ...reading.patches.flatMap((patch) => patchLines(design, patch)),
  ];
  const text = `${lines.join('\n')}\n`;
  return `${text}${markOf(text)}`;
}

function patchLines(design: Design, reading: PatchReading): readonly string[] {
  const { patch, quality, visibility } = reading;
  const seen = visibility === undefined ? '' : `visibility ${visibility.toFixed(2)}, `;
  const head = `  # ${numberOf(design, reading)}  ${patch.id}: ${seen}quality ${qualityText(quality)}`;
  const taken = roundedReading(reading);
  const entry = taken === undefined ? [] : [entryText(reading, taken)];
  if (isSure(reading)) return [head, `  - ${entry[0]}`];
  const { seen: why, remedy } = unsureWords(reading);
  return [`${head}; not given to steer: ${why}; ${remedy}`, ...entry.map((text) => `  # - ${text}`)];
}

type Taken = NonNullable<ReturnType<typeof roundedReading>>;

function entryText(
  { patch: { id, lineDirection } }: PatchReading,
  { fringes, signKnown, or, uncertainty }: Taken,
): string {
  const value = (fringes: number | undefined): string =>
    fringes === undefined ? '~' : String(roundedFringes(fringes));
  const [first, second, third] = fringes;
  const counts =
    lineDirection !== undefined
      ? `fringes: ${value(first)}`
      : `fringes: [${value(first)}, ${value(second)}], power: ${value(third)}`;
  const words = [
    `patch: ${quoted(id)}`,
    counts,
    ...(or === undefined ? [] : [`or: [${or.map(value).join(', ')}]`]),
    ...(signKnown || or !== undefined ? [] : ['sign: unknown']),
    ...(uncertainty === undefined ? [] : [`uncertainty: ${roundedUncertainty(uncertainty)}`]),
  ];
  return `{${words.join(', ')}}`;
}
