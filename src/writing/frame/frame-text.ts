/** What `read` prints: the frames, the camera, and a row for each patch in the order of their numbers. */
import type { Design } from '../../design/design.ts';
import { visibleText } from '../../finding/visible-text.ts';
import type { FrameReading, PatchReading } from '../../metrology/frame/frame-reading.ts';
import { UM_PER_MM } from '../../quantity/conversion.ts';
import { NONE, significant } from '../page/figures.ts';
import { axesWords, orientationWords } from '../page/orientation-words.ts';
import { rounded, signed } from '../steering/bench-figures.ts';
import { isSure, qualityText, unsureWords } from './fault-words.ts';
import { numberOf, type ReadPicture, valueNames } from './frame-report.ts';

const HEADS = ['no.', 'patch', 'fringes', 'visibility', 'quality', ''];

export function frameText(design: Design, picture: ReadPicture): string {
  const { taken, reading } = picture;
  const { map } = reading;
  const sure = reading.patches.filter(isSure).length;
  const rows = reading.patches.map((patch) => patchCells(design, patch));
  const table = [HEADS, ...rows];
  const widths = HEADS.map((_, column) => Math.max(...table.map((row) => row[column]!.length)));
  const lines = [
    ...taken.map(
      ({ file, form, frames }) => `${file}: ${form}, ${frames[0]!.width} × ${frames[0]!.height} pixels`,
    ),
    `  camera  ${orientationWords(map.orientation)}: ${axesWords(map.orientation)} (${sourceWords(picture)})`,
    `  scale   ${significant(map.pitch * UM_PER_MM)} µm on the pattern a pixel${foundWords(map.uncertainty)}`,
    ...table.map((row) =>
      `  ${row.map((cell, column) => cell.padEnd(widths[column]!)).join('  ')}`.trimEnd(),
    ),
    ...diffractionWords(reading),
    `${sure} of ${reading.patches.length} patches read`,
  ];
  return `${lines.map(visibleText).join('\n')}\n`;
}

/** The part that diffraction has in the uncertainties, from the least to the most. */
function diffractionWords({ patches }: FrameReading): readonly string[] {
  const terms = patches.flatMap(({ values }) => values.flatMap((value) => value?.diffraction ?? []));
  if (terms.length === 0) return [];
  const [least, most] = [Math.min(...terms), Math.max(...terms)].map((term) => significant(term, 2));
  const range = least === most ? most : `${least} to ${most}`;
  return [`  of each uncertainty ${range} fringe is for diffraction, by the patch’s Fresnel number`];
}

/** Nothing of a place that is taken for known. */
const foundWords = (pixels: number): string =>
  pixels > 0 ? `; outlines found to ${significant(pixels, 2)} pixels` : '';

export function sourceWords({ reading, stated }: ReadPicture): string {
  if (stated) return 'as stated';
  return reading.toldApart ? 'told by the outlines' : 'assumed: the outlines do not tell';
}

function patchCells(design: Design, reading: PatchReading): readonly string[] {
  const { visibility, quality, faults } = reading;
  const isPlain = isSure(reading) && faults.length === 0 && reading.other === undefined;
  const remarks = isPlain ? '' : remarkOf(reading);
  return [
    ...[String(numberOf(design, reading)), reading.patch.id, fringesText(design, reading)],
    ...[visibility === undefined ? NONE : visibility.toFixed(2), qualityText(quality), remarks],
  ];
}

function remarkOf(reading: PatchReading): string {
  const { seen, remedy } = unsureWords(reading);
  // Of what is not read, a finding says what to do.
  return isSure(reading) ? `${seen}; ${remedy}` : `not given to steer: ${seen}`;
}

/** `tilt +1.31 ± 0.02, power −0.10 ± 0.04`; where all signs are open, without them. */
function fringesText(design: Design, reading: PatchReading): string {
  const { values, signKnown, other } = reading;
  if (values.every((value) => value === undefined)) return 'not read';
  const told = valuesText(design, reading, values);
  if (other !== undefined) return `${told}; or ${valuesText(design, reading, other)}`;
  return `${told}${signKnown ? '' : ', or all signs reversed'}`;
}

function valuesText(design: Design, reading: PatchReading, values: PatchReading['values']): string {
  const words = valueNames(design, reading).flatMap((name, k) => {
    const value = values[k];
    if (value === undefined) return [];
    const { fringes, uncertainty } = value;
    return [`${name} ${signed(fringes, uncertainty)} ± ${rounded(uncertainty)}`];
  });
  return words.join(', ');
}
