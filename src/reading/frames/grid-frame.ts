/**
 * A grid of numbers as text to a frame: one line a row, the picture's top first; commas, semicolons, tabs or blanks between, decimal commas
 * where the separator is another. Lines before the numbers may say what they are: `# unit: nm`. A field that is empty or a word such as
 * `nan` has no value.
 */
import { fractionFrame } from './fraction-frame.ts';
import {
  BadFrame,
  checkSize,
  type DecodedFrames,
  type FrameContext,
  type FrameUnit,
} from './frame-source.ts';

const UNIT =
  /\bunits?\b["']?\s*[:=,;\t ]\s*["']?(intensity|waves?|lambda|λ|rad(?:ians?)?|nm|nanomet(?:er|re)s?)\b/iu;
const NO_VALUE = /^(nan|[+-]?inf(inity)?|null|none|bad|no ?data|-+|\*+)?$/i;
/** Lines before the numbers. */
const MOST_HEAD_LINES = 200;

export function gridFrame(text: string, context: FrameContext): DecodedFrames {
  const lines = text.split(/\r\n|\n|\r/);
  while (lines.length > 0 && lines.at(-1)!.trim() === '') lines.pop();
  const first = lines.findIndex((line) => isNumeric(line));
  if (first < 0 || first > MOST_HEAD_LINES) {
    throw new BadFrame(
      'is no frame: neither a PNG, TIFF, PGM or .npy file, nor a grid of numbers',
      'give a frame in one of these forms',
    );
  }
  const head = lines.slice(0, first);
  const unit = unitOf(head, context);
  const { split, decimal } = separatorOf(lines[first]!);
  const width = split(lines[first]!).length;
  const height = lines.length - first;
  checkSize(width, height);
  const numbers = new Float64Array(width * height);
  for (let row = 0; row < height; row++) {
    const fields = split(lines[first + row]!);
    const at = (message: string, hint: string) =>
      new BadFrame(message, hint, { rule: 'bad-table', line: first + row + 1 });
    if (fields.length !== width)
      throw at(
        `has ${fields.length} numbers in this row, and ${width} in the first`,
        'give each row as many',
      );
    for (let column = 0; column < width; column++) {
      const field = fields[column]!.trim();
      const value = NO_VALUE.test(field) ? Number.NaN : Number(decimal ? field.replace(',', '.') : field);
      if (Number.isNaN(value) && !NO_VALUE.test(field))
        throw at(
          `has ${JSON.stringify(field.slice(0, 40))} in column ${column + 1}, which is no number`,
          'write `nan` where there is no value',
        );
      numbers[row * width + column] = value;
    }
  }
  const frame = fractionFrame(width, height, numbers, { ...context, unit }, 'grid');
  return { frames: [frame], form: `grid of numbers, ${unit === 'intensity' ? unit : `phase in ${unit}`}` };
}

/** A line of two or more fields that are all numbers, or have no value: the first rows of a map may have none at all. */
function isNumeric(line: string): boolean {
  const { split, decimal } = separatorOf(line);
  const fields = split(line).map((field) => field.trim());
  const isNumber = (field: string): boolean =>
    !Number.isNaN(Number(decimal ? field.replace(',', '.') : field));
  return fields.length > 1 && fields.every((field) => NO_VALUE.test(field) || isNumber(field));
}

function separatorOf(line: string): { split: (line: string) => readonly string[]; decimal: boolean } {
  for (const mark of [';', '\t'])
    if (line.includes(mark)) return { split: (one) => one.split(mark), decimal: line.includes(',') };
  // Blanks after the commas, or blanks alone with decimal commas.
  if (line.includes(',') && !/\d,\d+ +[-+]?\d+,\d/.test(line))
    return { split: (one) => one.split(','), decimal: false };
  return { split: (one) => one.trim().split(/ +/), decimal: line.includes(',') };
}

function unitOf(head: readonly string[], { unit: given }: FrameContext): FrameUnit {
  const said = head.map((line) => UNIT.exec(line)?.[1]).find((word) => word !== undefined);
  const stated = said === undefined ? undefined : unitNamed(said.toLowerCase());
  if (stated !== undefined && given !== undefined && stated !== given) {
    throw new BadFrame(
      `says that its unit is ${stated}, and --unit says ${given}`,
      'leave --unit out, or correct the head of the file',
      { rule: 'conflicting-keys', option: '--unit' },
    );
  }
  const unit = given ?? stated;
  if (unit !== undefined) return unit;
  throw new BadFrame(
    'is a grid of numbers, and nothing says what they are',
    'say it with --unit waves, rad, nm or intensity, or in the head of the file: `# unit: nm`',
    { rule: 'missing-key', option: '--unit' },
  );
}

function unitNamed(word: string): FrameUnit {
  if (word === 'intensity') return 'intensity';
  if (word.startsWith('rad')) return 'rad';
  return word.startsWith('n') ? 'nm' : 'waves';
}
