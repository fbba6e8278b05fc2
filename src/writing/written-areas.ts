/**
 * What a mask shop must not guess: what becomes of the written areas and of everything else, how deep they are etched or how
 * dense the chrome is, whether the writer mirrors the data, whether edges are shifted, and which layers are written. Names and texts for
 * the drawing, the tables, the texts in the pattern files and the page for the fabricator, in ASCII: the same words in all of them.
 */
import type { Design } from '../design/design.ts';
import { etchDepth } from '../design/grooves.ts';
import { marksOf } from '../design/marks/marks.ts';
import { NM_PER_MM } from '../quantity/conversion.ts';
import { trimmed } from '../quantity/format.ts';
import type { Tone } from '../scenario/scenario.ts';
import { DRAFT_WORDS } from './convention.ts';
import { layerWords, PATTERN_LAYERS } from './pattern-layers.ts';

interface Statement {
  readonly name: 'WRITTEN' | 'DEPTH' | 'DENSITY' | 'WIDTH' | 'DATA' | 'EDGE SHIFT' | 'LAYERS';
  readonly text: string;
}

/** Where the limits stand. */
export const ACCEPTANCE_WORDS = 'Acceptance: see fabrication.pdf.';

/** How the pattern files of a package are written. */
export interface WrittenFiles {
  /** As the writer sees a patterned surface that is turned away (`--as-written`): x to -x of all else. */
  readonly mirrored: boolean;
  /** Outward shift of each written edge. */
  readonly edgeShift_um: number;
  /** Only some of the lines, for a picture. */
  readonly thinned: boolean;
  /** Whether they hold the main pattern. */
  readonly main: boolean;
}

/** What is said where the scenario states no limit: a limit that nobody stated is not invented. */
export const NOT_STATED = 'not stated, to be agreed';

const BECOMES: Readonly<Record<Tone, string>> = {
  'written is etched':
    'Written areas are etched into the glass. All other areas, outside the patches too, stay unetched.',
  'written is clear':
    'Written areas are clear (no chrome). All other areas, outside the patches too, stay opaque (chrome).',
  'written is opaque':
    'Written areas are opaque (chrome). All other areas, outside the patches too, are clear (no chrome).',
};

/** `files`: those of the package that it is said in; undefined without. */
export function writtenAreas(design: Design, files?: WrittenFiles): readonly Statement[] {
  const { process } = design.scenario;
  const { widthTolerance } = process;
  return [
    { name: 'WRITTEN', text: BECOMES[process.tone] },
    process.kind === 'etched'
      ? { name: 'DEPTH', text: depthWords(design) }
      : { name: 'DENSITY', text: densityWords(design) },
    ...(widthTolerance === undefined
      ? []
      : [
          {
            name: 'WIDTH',
            text: `Width of each written line as designed +/- ${nm(widthTolerance)}.`,
          } as const,
        ]),
    { name: 'DATA', text: mirroringWords(design, files) },
    { name: 'EDGE SHIFT', text: edgeWords(files) },
    ...(files === undefined ? [] : [{ name: 'LAYERS', text: layersWords(design, files) } as const]),
  ];
}

/** Which face of the blank is written on. */
export const faceWords = ({ scenario }: Design): string =>
  `Patterns are on the face toward the ${scenario.substrate.patternFaces}.`;

/** The same at the head of a table, whatever the pattern files beside it are. */
export const writtenLines = (design: Design): readonly string[] => [
  zoneWords(design),
  faceWords(design),
  ...writtenAreas(design).map(({ text }) =>
    text
      .replace(/^Data are/, 'Data made from this table are')
      .replace(/^No edge shift is applied\./, 'No edge shift is applied to this table.'),
  ),
  ACCEPTANCE_WORDS,
];

/** Which zones of the phase are written, and where their edges are. */
export function zoneWords({ scenario }: Design): string {
  const duty = trimmed(scenario.process.dutyCycle, 6);
  return `A zone is written where Phi - floor(Phi) is less than the duty cycle, ${duty}: from pattern line k, where Phi = k, to where Phi = k + ${duty}.`;
}

function mirroringWords({ scenario }: Design, files: WrittenFiles | undefined): string {
  if (scenario.substrate.patternFaces === 'part')
    return 'Data are as seen looking at the patterned surface. Do not mirror them for writing.';
  return files?.mirrored
    ? 'Pattern files are as seen looking at the patterned surface: mirrored already, x to -x of the drawing and the tables. Do not mirror them again; data made from the tables are to be mirrored once.'
    : 'Data are as seen through the glass. Mirror them once, x to -x, for writing on the patterned surface.';
}

/** Outward or inward is said in words, for a sign is easily lost. */
function edgeWords(files: WrittenFiles | undefined): string {
  if (files === undefined || files.edgeShift_um === 0)
    return 'No edge shift is applied. Add what your process needs.';
  const way = files.edgeShift_um > 0 ? 'outward' : 'inward';
  return `Applied already to the pattern files: every edge of a written area is moved ${way} by ${trimmed(Math.abs(files.edgeShift_um), 6)} um. Do not size them again. The tables have the edges as designed.`;
}

function layersWords(design: Design, { thinned }: WrittenFiles): string {
  if (thinned)
    return `Layer ${layerWords(PATTERN_LAYERS.thinned)} of the pattern files has every nth zone only, a picture: ${DRAFT_WORDS}.`;
  const { written, marks } = PATTERN_LAYERS;
  const zones = `${layerWords(written)} (${written.name})`;
  return marksOf(design).marks.length === 0
    ? `Write layer ${zones} of the pattern files and no other.`
    : `Write layers ${zones} and ${layerWords(marks)} (${marks.name}) of the pattern files and no other.`;
}

function depthWords(design: Design): string {
  const { glass, light, scenario } = design;
  const { etchDepth: stated, etchTolerance } = scenario.process;
  const depth = etchDepth(design);
  const halfWave = `half a wave at ${trimmed(light.wavelength * NM_PER_MM, 4)} nm`;
  if (depth === undefined)
    return `Etch depth: ${halfWave} in transmission, the wavelength over 2 (n - 1). The index n of the glass is ${NOT_STATED}.`;
  const why = stated === undefined ? ` (${halfWave}, index ${trimmed(glass.index, 6)})` : '';
  return etchTolerance === undefined
    ? `Etch depth ${nm(depth)}${why}; tolerance ${NOT_STATED}.`
    : `Etch depth ${nm(depth)} +/- ${nm(etchTolerance)}${why}.`;
}

function densityWords({ light, scenario }: Design): string {
  const { opticalDensity } = scenario.process;
  const at = `at ${trimmed(light.wavelength * NM_PER_MM, 4)} nm`;
  const density = opticalDensity === undefined ? ` ${NOT_STATED}` : `: ${trimmed(opticalDensity, 3)} or more`;
  return `Optical density of the chrome ${at}${density}.`;
}

/** What the package does not say of the blank. */
export const blankDrawingWords = ({ glass }: Design): string =>
  `Form, imperfections, bevels${glass.thickness === 0 ? ', thickness, material' : ''}: see the drawing of the blank (not in this package).`;

const nm = (length: number): string => `${trimmed(length * NM_PER_MM, 1)} nm`;
