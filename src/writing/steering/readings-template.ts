/**
 * A readings file to fill in: every patch in the order of work, by its number on the sheet, with the directions it senses and which way counts as
 * positive, what it shows when aligned, the measurements, and the null where a surface is under test. `~` stands for what was not read.
 */
import type { Design, DesignedPatch } from '../../design/design.ts';
import { visibleText } from '../../finding/visible-text.ts';
import { kindOf } from '../../kinds/kinds.ts';
import { inOrderOfWork, patchNumbers } from '../../metrology/sensing/order-of-work.ts';
import { type Sense, sensesOf } from '../../metrology/sensing/sensitivity.ts';
import type { CameraOrientation } from '../../scenario/camera-orientation.ts';
import { MAIN } from '../../scenario/scenario.ts';
import { clockDirection } from '../page/clock.ts';
import { places, significant } from '../page/figures.ts';

const HEAD = `# Write a count in place of each ~ that you read, and leave the others: they count as not read.
# A count is a number of fringes, tilt from edge to edge and power from the middle to the edge: 1.3, -0.5, 1/4, 2 1/2.
# It goes beyond what the aligned patch shows. Instead you may write, for a patch:
#   sign: unknown        where only the size was seen
#   or: [-4.4, 1.2]      beside the count: what the picture may show as well (beside a tilt bias), each value with its sign
#   toward: 9            beside one size: the hour in the picture toward which the path falls (of a ball moved toward 9 o'clock)
#   counted: total       beside it: all fringes seen; what the aligned patch shows is then subtracted
#   uncertainty: 0.2     standard uncertainty, fringes
`;

export function readingsTemplate(design: Design, orientation: CameraOrientation): string {
  const { scenario, main } = design;
  const { view, turned, mirrored } = orientation;
  const numbers = patchNumbers(design);
  const numbered = inOrderOfWork(design).map((patch) => ({ patch, number: numbers.indexOf(patch.id) + 1 }));
  const lines = [
    `# Fringe readings for ${visibleText(scenario.title)}`,
    HEAD.trimEnd(),
    'format: datumlight-readings/1',
    `camera: {view: ${view}, turned: ${turned}, mirrored: ${mirrored}}`,
    'readings:',
    ...numbered.flatMap(({ patch, number }) =>
      kindOf(patch.reference).words.noCount === undefined
        ? patchLines(design, patch, number, orientation)
        : [],
    ),
    ...scenario.measurements.flatMap(({ id, reference }) => [
      `  # measured at ${reference}: found less nominal, µm`,
      `  - {measurement: ${quoted(id)}, deviation_um: ~}`,
    ]),
    ...(main === undefined
      ? []
      : [
          '  # the null of the surface under test: + where the path falls from the - edge to the + edge along x, along y; power; coma',
          `  - {patch: ${MAIN}, fringes: [~, ~], power: ~, coma: [~, ~]}`,
        ]),
  ];
  return `${lines.join('\n')}\n`;
}

function patchLines(
  design: Design,
  patch: DesignedPatch,
  number: number,
  orientation: CameraOrientation,
): readonly string[] {
  const senses = sensesOf(design, patch);
  const isPoint = patch.lineDirection === undefined;
  const values = isPoint ? 'fringes: [~, ~], power: ~' : 'fringes: ~';
  return [
    `  # ${number}  ${patch.id}, of ${patch.reference.id}; aligned it shows ${alignedWords(patch)}`,
    ...(senses.length > 0
      ? []
      : [
          '  #    tilt along x, tilt along y, power: + where the path falls from the - edge to the + edge, or from the inner edge to the outer',
        ]),
    ...senses.map((sense) => `  #    ${senseWords(sense, orientation)}`),
    `  - {patch: ${quoted(patch.id)}, ${values}}`,
  ];
}

export function alignedWords({ bias }: DesignedPatch): string {
  if (bias === undefined) return 'no fringes';
  const count = `${significant(bias.fringes)} fringe${bias.fringes === 1 ? '' : 's'}`;
  return bias.shape === 'roof' ? `a roof, ${count} in each half` : count;
}

/** A lateral component smaller than this says little about where a displacement goes. */
const MOSTLY_AXIAL = 0.2;

export function senseWords({ kind, direction, fringesPerMm }: Sense, orientation: CameraOrientation): string {
  const [x, y, z] = direction;
  const hologram = z > 0 ? 'away from the hologram' : 'toward the hologram';
  const way = Math.hypot(x, y) < MOSTLY_AXIAL ? hologram : `toward ${clockDirection([x, y], orientation)}`;
  return `${kind}: + if it stands displaced ${kind === 'power' ? hologram : way}, along ${places(direction)}; ${significant(fringesPerMm)} fringes a mm`;
}

/** An id that YAML could take for a number or a word of its own is quoted. */
export const quoted = (id: string): string =>
  /^[A-Za-z][\w.-]*$/.test(id) && !/^(true|false|null)$/i.test(id) ? id : JSON.stringify(id);
