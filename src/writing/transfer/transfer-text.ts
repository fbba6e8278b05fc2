/** Where a tracker says that the part is, in plain lines for the bench: µm, µrad and turns; ± one standard uncertainty. */

import { visibleText } from '../../finding/visible-text.ts';
import { fixed } from '../../quantity/format.ts';
import { degreesText, signed } from '../steering/bench-figures.ts';
import type { transferReport } from './transfer-report.ts';

type Report = ReturnType<typeof transferReport>;
type Side = Report['registrations']['hologram'];

export function transferText({
  findings,
  table,
  repeated,
  registrations,
  referencesInTracker,
  part,
  stage,
}: Report): string {
  const lines = [
    ...tableLines(table),
    ...repeatedLines(repeated),
    ...sideLines(registrations.hologram, 'At the hologram’s foci'),
    ...sideLines(registrations.part, 'On the part'),
  ];
  if (part !== null) {
    const { move_um, move_urad, sigma, combined } = part;
    const open = new Set(findings.filter(isInTheWay).map(({ rule }) => rule));
    if (open.size > 0)
      lines.push(`Do not make these moves before what was found is settled: ${[...open].join(', ')}.`);
    lines.push(
      'Part: moves to make, along its own axes, rotated about its own origin, ± one standard uncertainty of the tracker (in brackets: full budget):',
      `  ${degreesText(move_um, sigma, combined, 'µm')}`,
      `  ${degreesText(move_urad, sigma, combined, 'µrad')}`,
    );
    if (stage !== undefined)
      lines.push(
        `Screws, in turns: ${stage.map(({ id, turns }) => `${id} ${signed(turns, 0.01)}`).join('   ')}`,
      );
  } else if (registrations.hologram !== null) {
    lines.push('No points on the part. Design positions of the references, tracker frame, mm:');
    for (const { id, at_mm } of referencesInTracker)
      lines.push(`  ${id}: ${at_mm.map((value) => fixed(value, 3)).join(', ')}`);
  } else {
    lines.push(
      'No points at the hologram’s foci: the part’s position in the hologram’s frame cannot be determined.',
    );
  }
  return `${lines.map(visibleText).join('\n')}\n`;
}

function sideLines(side: Side, title: string): readonly string[] {
  if (side === null) return [];
  const { points, outliers, consistency } = side;
  const { chiSquared, degreesOfFreedom, probability } = consistency;
  return [
    `${title}: ${points.length} points, χ² ${chiSquared.toPrecision(3)} for ${degreesOfFreedom} degrees of freedom (probability ${probability.toPrecision(2)}); residuals, µm:`,
    ...points.map(({ point, residual_um: { x, y, z } }) => {
      const suspect = outliers.includes(point) ? '   does not fit' : '';
      return `  ${point}  ${[x, y, z].map((value) => signed(value, 1)).join('  ')}${suspect}`;
    }),
  ];
}

/** A wrong diameter only suspected would be made a move of the part too. */
const isInTheWay = ({ severity, rule }: Report['findings'][number]): boolean =>
  severity === 'error' || rule === 'wrong-target';

const SEPARATORS = { comma: 'commas', semicolon: 'semicolons', tab: 'tabs', blanks: 'blanks' };
const UNIT_FROM = {
  column: '',
  row: ' (row of units)',
  line: ' (line above the header)',
  option: ' (--unit)',
};

/** How the table was read, for the operator to check: first what each column was taken for. */
function tableLines(table: Report['table']): readonly string[] {
  const { separator, decimal, coordinates, verticalAnglesFrom, columns, left, linesPassedOver, renamed } =
    table;
  const form =
    coordinates === 'cartesian'
      ? 'x, y, z'
      : `range, azimuth and vertical angle from the ${verticalAnglesFrom}`;
  const taken = columns.map(({ column, holds, unit, unitFrom }) => {
    if (column === holds || column === `${holds}_${unit}`) return column;
    const as = column.toLowerCase() === holds ? '' : ` as ${holds}`;
    return `${column}${as}${unit === null ? '' : ` in ${unit}${UNIT_FROM[unitFrom!]}`}`;
  });
  return [
    `Table read: ${form}; ${SEPARATORS[separator]} between columns, decimal ${decimal}.`,
    `  columns: ${taken.join('; ')}`,
    ...(left.length === 0 ? [] : [`  columns not used: ${left.join('; ')}`]),
    ...(linesPassedOver.length === 0 ? [] : [`  lines passed over: ${linesPassedOver.join(', ')}`]),
    ...(renamed.length === 0
      ? []
      : [`  names read as: ${renamed.map(({ written, point }) => `${written} as ${point}`).join('; ')}`]),
  ];
}

function repeatedLines(repeated: Report['repeated']): readonly string[] {
  if (repeated.length === 0) return [];
  return [
    'Measured several times: the mean is used; standard deviation of one measurement along the tracker’s x, y, z, µm:',
    ...repeated.map(
      ({ point, count, scatter_um: { x, y, z } }) =>
        `  ${point}: ${count} times, ${[x, y, z].map((value) => fixed(value, 1)).join(', ')}`,
    ),
  ];
}
