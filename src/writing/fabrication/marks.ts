/** The marks on the glass, for the fabricator: what each is for, where it stands, and how the patterns get into their frame. mm. */
import type { Design } from '../../design/design.ts';
import { type Mark, type Marks, marksOf } from '../../design/marks/marks.ts';
import { UM_PER_MM } from '../../quantity/conversion.ts';
import { trimmed } from '../../quantity/format.ts';
import { MARKS_READ, registrationWords } from '../mark-words.ts';
import { places } from '../page/figures.ts';
import { MARKS_CELL } from '../pattern/layers.ts';
import { layerWords, PATTERN_LAYERS } from '../pattern-layers.ts';
import type { WrittenFiles } from '../written-areas.ts';
import { type Block, heading, paragraph, type Row } from './blocks.ts';

/** Of the bars: `0.8/0.8 µm (line/space)`, from the bottom row up; undefined without bars. */
export function barWidths(design: Design): string | undefined {
  const bars = marksOf(design).marks.find(({ kind }) => kind === 'bars');
  return bars && `${bars.form.rows.map(({ line, space }) => `${um(line)}/${um(space)}`).join(', ')} µm`;
}

export function marksBlocks(design: Design, files: WrittenFiles | undefined): readonly Block[] {
  if (design.scenario.marks === undefined) return [];
  const { marks, missing } = marksOf(design);
  const numbers = marks.filter(({ kind }) => kind === 'patches');
  const single = marks.filter(({ kind }) => kind !== 'patches');
  const registration = registrationWords(design, files);
  return [
    heading('Marks'),
    paragraph(
      files === undefined
        ? `The shapes of the marks are in no file of this package: the table has their places, layout.dxf the boxes around them. Marks are written with the patterns; ${MARKS_READ}`
        : `Layer ${layerWords(PATTERN_LAYERS.marks)}; the cell in GDSII and OASIS and the layer in a DXF are named ${MARKS_CELL}. Written with the patterns in one exposure; ${MARKS_READ}`,
    ),
    {
      is: 'table',
      heads: ['Mark', 'What it is', 'Middle at x, y, mm', 'Size, mm'],
      rows: [
        ...single.map(
          (mark): Row => [
            TITLES[mark.kind] ?? mark.name,
            whatItIs(mark),
            onOneLine(places(mark.at)),
            onOneLine(sizeOf(mark)),
          ],
        ),
        ...(numbers.length === 0 ? [] : [numbersRow(numbers)]),
        ...leftOut(missing),
      ],
      numeric: [2, 3],
    },
    ...(registration === undefined ? [] : [paragraph(`Registration: ${registration}`)]),
  ];
}

const TITLES: Readonly<Partial<Record<Mark['kind'], string>>> = {
  drawing: 'drawing number',
  side: 'hologram side',
  serial: 'serial number',
  bars: 'widths (CD)',
};

function whatItIs({ kind, text, form }: Mark): string {
  switch (kind) {
    case 'fiducials':
      return `cross, lines ${um(form.stroke)} µm wide; its middle is the point to register to`;
    case 'orientation':
      return 'long arrow along +x with the letter X, short arrow along +y with the letter Y; it shows a turned or mirrored blank';
    case 'drawing':
      return `the letters ${text}`;
    case 'side':
      return `the letters ${text}, on the patterned face`;
    case 'serial':
      return `the letters ${text} and an empty frame: put the serial number into it`;
    case 'bars':
      return `rows of lines along y and along x to measure, lettered with line/space in µm; from the bottom row up: ${form.rows
        .map(({ line, space }) => `${um(line)}/${um(space)}`)
        .join(', ')}`;
    case 'patches':
      return 'number of a patch';
  }
}

function numbersRow(numbers: readonly Mark[]): Row {
  const [first, last] = [numbers[0]!.text, numbers.at(-1)!.text];
  const shown = numbers.length === 1 ? `the number ${first}` : `the numbers ${first} to ${last}`;
  return ['patch numbers', `${shown}, each beside its patch`, 'as written', '–'];
}

const WHY: Readonly<Record<Marks['missing'][number]['why'], string>> = {
  'no room': 'no room',
  'no number': 'the scenario states no drawing number',
  'no letters': 'the drawing number has letters without a form',
};

const leftOut = (missing: Marks['missing']): readonly Row[] =>
  missing.map(({ kind, name, why }) => [TITLES[kind] ?? name, `not written: ${WHY[why]}`, '–', '–']);

const um = (length: number): string => trimmed(length * UM_PER_MM, 3);
const sizeOf = ({ form: { width, height } }: Mark): string => `${trimmed(width, 3)} × ${trimmed(height, 3)}`;

/** Coordinates stay on one line. */
const onOneLine = (text: string): string => text.replaceAll(' ', '\u00a0');
