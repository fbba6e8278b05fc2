/**
 * What a mask shop must not guess: what becomes of the written areas and of everything else, how deep they are etched or how
 * dense the chrome is, and whether
 * the writer mirrors the data. Names and texts for the drawing, the coefficient sheet and the texts in the pattern files, in ASCII.
 */
import type { Design } from '../design/design.ts';
import { etchDepth } from '../design/grooves.ts';
import { NM_PER_MM } from '../quantity/conversion.ts';
import { trimmed } from '../quantity/format.ts';
import type { Tone } from '../scenario/scenario.ts';

interface Statement {
  readonly name: 'WRITTEN' | 'DEPTH' | 'DENSITY' | 'WIDTH' | 'DATA';
  readonly text: string;
}

const BECOMES: Readonly<Record<Tone, string>> = {
  'written is etched':
    'Written areas are etched into the glass. All other areas, outside the patches too, stay unetched.',
  'written is clear':
    'Written areas are clear (no chrome). All other areas, outside the patches too, stay opaque (chrome).',
  'written is opaque':
    'Written areas are opaque (chrome). All other areas, outside the patches too, are clear (no chrome).',
};

/** `mirrored`: the pattern files are as the writer sees a patterned surface that is turned away (`--as-written`). */
export function writtenAreas(design: Design, mirrored = false): readonly Statement[] {
  const { process, substrate } = design.scenario;
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
    {
      name: 'DATA',
      text:
        substrate.patternFaces === 'part'
          ? 'Data are as seen looking at the patterned surface. Do not mirror them for writing.'
          : mirrored
            ? 'Pattern files are as seen looking at the patterned surface: mirrored already, x to -x of the drawing and the tables. Do not mirror them again; data made from the tables are to be mirrored once.'
            : 'Data are as seen through the glass. Mirror them once, x to -x, for writing on the patterned surface.',
    },
  ];
}

function depthWords(design: Design): string {
  const { glass, light, scenario } = design;
  const { etchDepth: stated, etchTolerance } = scenario.process;
  const depth = etchDepth(design);
  const halfWave = `half a wave of phase at ${trimmed(light.wavelength * NM_PER_MM, 4)} nm in transmission`;
  if (depth === undefined)
    return `${halfWave}; the scenario states no index of the glass to give the depth by.`;
  const tolerance = etchTolerance === undefined ? '' : ` +/- ${nm(etchTolerance)}`;
  const why = stated === undefined ? `: ${halfWave}, index ${trimmed(glass.index, 6)}` : '';
  return `Etch depth ${nm(depth)}${tolerance}${why}.`;
}

function densityWords({ light, scenario }: Design): string {
  const { opticalDensity } = scenario.process;
  const at = `at ${trimmed(light.wavelength * NM_PER_MM, 4)} nm`;
  return opticalDensity === undefined
    ? `Optical density of the chrome ${at}: not stated; agree on it before you start.`
    : `Optical density of the chrome ${at}: ${trimmed(opticalDensity, 3)} or more.`;
}

const nm = (length: number): string => `${trimmed(length * NM_PER_MM, 1)} nm`;
