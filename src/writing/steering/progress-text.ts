/** How far the alignment has come, in plain lines: what the moves leave of each reading, what is still over its uncertainty, and when it is done. */
import { rounded, signed } from './bench-figures.ts';
import type { steeringReport } from './steering-report.ts';

type Report = ReturnType<typeof steeringReport>;
type LeftRow = Report['left'][number];

/** Residuals that a line holds. */
const PER_LINE = 4;
/** To a hundredth of a fringe or of a wave, and a tenth of a µm. */
const DIGITS = { fringes: 0.1, waves: 0.01, µm: 1 } as const;

export const progressLines = (report: Report): readonly string[] => [
  ...leftLines(report.left),
  ...(report.ok ? suspectLines(report.left) : []),
  doneLine(report),
];

/** Why less than the whole, to be read after "since". */
const REASONS = {
  'signs not confirmed':
    'no move has confirmed the signs yet, and if all were wrong the whole step would lose the fringes',
  'moves by hand': 'moves made by hand are off by a tenth, and the whole step could lose the fringes',
  'beyond the ray trace':
    'the ray trace does not reach these readings, and the moves are right to first order only',
} as const;

/** None where the moves as they are listed are to be made whole, or there is nothing to make. */
export function stepLines({ step, over }: Report): readonly string[] {
  const { fraction, reason, reading, screws = {}, leftOut } = step;
  if (over.every(({ of }) => of === 'hologram')) return [];
  const left = partTexts(leftOut, LEAST_TOLD);
  if (reason === null && left.length === 0) return [];
  const moves = [
    ...partTexts(step.part),
    ...Object.entries(step.references).flatMap(([id, { move_um }]) =>
      named(move_um, 'µm').map((text) => `${id} ${text}`),
    ),
  ];
  const percent = Math.floor(100 * fraction);
  const where = reading === null ? '' : ` (${reading})`;
  const turns = Object.entries(screws).map(([id, value]) => `${id} ${signed(value, 0.001)}`);
  return [
    reason === null
      ? 'Make these moves now, then read again:'
      : `Make ${percent} % of the moves now, then read again: ${REASONS[reason]}${where}.`,
    `  ${moves.join(', ')}`,
    ...(turns.length === 0 ? [] : [`  screws: ${turns.join(', ')} turns`]),
    ...(left.length === 0
      ? []
      : [`  left out, as it is under its own standard uncertainty: ${left.join(', ')}`]),
  ];
}

/** What is left out is told from so many µm or µrad. */
const LEAST_TOLD = 0.005;

type PartMove = Report['step']['part'];

function partTexts(part: PartMove, least = 0): readonly string[] {
  if (part === null) return [];
  return [...named(part.move_um, 'µm', least), ...named(part.move_urad, 'µrad', least)];
}

const named = (of: Readonly<Record<string, number>>, unit: string, least = 0): string[] =>
  Object.entries(of)
    .filter(([, value]) => Math.abs(value) >= least)
    .map(([degree, value]) => `${degree} ${signed(value, 0.1)} ${unit}`);

function leftLines(left: Report['left']): readonly string[] {
  const told = left.flatMap((row) => {
    const shown = residualText(row);
    return shown === undefined ? [] : [`${row.name} ${shown}`];
  });
  if (told.length === 0) return [];
  const width = Math.max(...told.map((text) => text.length));
  const lines = Array.from({ length: Math.ceil(told.length / PER_LINE) }, (_, k) =>
    told.slice(k * PER_LINE, (k + 1) * PER_LINE).map((text) => text.padEnd(width)),
  );
  return [
    'Left of each reading once the moves are made:',
    ...lines.map((line) => `  ${line.join('   ').trimEnd()}`),
  ];
}

function residualText(row: LeftRow): string | undefined {
  const [value, unit] =
    'residual_um' in row
      ? [row.residual_um, 'µm' as const]
      : 'residual_waves' in row
        ? [row.residual_waves, 'waves' as const]
        : [row.residual_fringes, 'fringes' as const];
  return value === null || value === undefined
    ? undefined
    : `${signed(value, DIGITS[unit])} ${unit === 'fringes' ? 'fr' : unit}`;
}

const suspectLines = (left: Report['left']): readonly string[] =>
  left
    .filter(({ suspect }) => suspect)
    .map(
      ({ name, normalised }) =>
        `  ${name} is ${rounded(Math.abs(normalised!))} of its standard uncertainties off what the others say: read it again`,
    );

function doneLine({ done, atRest, over, undecided, unread, ok }: Report): string {
  if (done && ok && atRest.length > 0)
    return 'Done: what is left to move is no more than the noise of the readings, for the second time. Leave the screws alone; it stands above.';
  if (done && ok)
    return 'Done: every move is under its own standard uncertainty, alone and together. Leave the screws alone; what is left, and how well that is known, stands above.';
  if (undecided) return 'Not done: the moves are not decided.';
  if (!ok) return 'Not done: the readings contain errors.';
  if (over.length === 0)
    return `Every move is under its own standard uncertainty, but not read yet: ${unread.join(', ')}.`;
  const list = over.map(({ of, degree }) => (of === 'part' ? degree : `${of} ${degree}`)).join(', ');
  return `Not done: over its standard uncertainty is ${list}. Make the moves, then read again.`;
}
