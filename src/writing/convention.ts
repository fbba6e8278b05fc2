/** What stands at the head of every file that carries phase: whether it is a draft, and the one convention of frames, signs and units. */
import { type Design, patternsOf } from '../design/design.ts';
import { NM_PER_MM } from '../quantity/conversion.ts';
import { trimmed } from '../quantity/format.ts';

export interface Draft {
  readonly draft: boolean;
}

export const DRAFT_WORDS = 'NOT FOR FABRICATION';

export const draftLines = (draft: boolean): readonly string[] =>
  draft ? [`DRAFT: ${DRAFT_WORDS}. See the findings in report.json.`] : [];

export function conventionLines(design: Design): readonly string[] {
  const { beam } = design.scenario.interferometer;
  const glass =
    design.glass.thickness === 0
      ? 'no glass in the path'
      : `${design.glass.name}, index ${trimmed(design.glass.index, 9)} against air, ${trimmed(design.glass.thickness, 6)} mm, ` +
        `on the ${design.glass.side === 'before' ? 'interferometer' : 'part'} side of the pattern`;
  return [
    'Frame: origin on the pattern surface, z = 0 there; +z with the light, from the interferometer toward the part;',
    'x right and y up as seen from the part side (looking toward -z). Lengths mm, phases waves.',
    'Phase: E_out(P) = E_in(P) + m * lambda * Phi(P), E the optical path along the light in mm, m the working order;',
    'Phi is in waves at order 1, Phi = 0 at the patch centre before any tilt or roof is added. Pattern line k lies where Phi = k.',
    ...zeroLines(design),
    `Wavelength in air: ${trimmed(design.light.wavelength * NM_PER_MM, 9)} nm. Beam: ${beam.kind}. Substrate: ${glass}.`,
  ];
}

/** What the rows of the main pattern are, where there is one. */
export const mainLines = ({ main }: Design): readonly string[] =>
  main === undefined
    ? []
    : [`Patch ${main.id} is the main pattern: the null of surface ${main.test.surface}.`];

/** One for each pattern whose phase does not count from its centre. */
export const zeroLines = (design: Design): readonly string[] =>
  patternsOf(design).flatMap(
    ({
      name,
      pattern: {
        centre,
        phase: { zeroAt },
      },
    }) =>
      zeroAt === centre
        ? []
        : [
            `No light leaves the centre of ${name}: its Phi = 0 at (${zeroAt.map((at) => trimmed(at, 12)).join(', ')}) mm before any tilt or roof.`,
          ],
  );
