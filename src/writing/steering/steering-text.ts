/** What to turn next, in plain lines for the bench. Moves to make: µm, µrad and turns; ± one standard uncertainty. */
import { visibleText } from '../../finding/visible-text.ts';
import { directionWords } from '../../metrology/estimate/free-motion.ts';
import type { Steering } from '../../metrology/steering/steering.ts';
import type { CameraOrientation } from '../../scenario/camera-orientation.ts';
import { clockDirection } from '../page/clock.ts';
import { withMinusSigns } from '../page/figures.ts';
import { degreesText, rounded, signed } from './bench-figures.ts';
import { progressLines, stepLines } from './progress-text.ts';
import type { steeringReport } from './steering-report.ts';

type Report = ReturnType<typeof steeringReport>;
type Steered = Report['references'][number];
type SteeredPart = Report['part'];

/** To which turns are told that nothing is known of, as if ± this. */
const TURNS = 0.01;
/** µm or µrad that count as nothing left. */
const NOTHING_LEFT = 1e-3;

interface Move {
  readonly move_um: Readonly<Record<string, number>>;
  readonly move_urad?: Readonly<Record<string, number>>;
}

/** A round of a session. */
interface Round {
  readonly path: string;
  readonly number: number;
}

/** Directions on a clock are those of the camera’s picture. */
export function steeringText(
  report: Report,
  { bench }: Steering,
  orientation: CameraOrientation,
  round?: Round,
): string {
  const { references, part, stage, stageLeaves } = report;
  const width = Math.max(
    4,
    ...references.map(({ id }) => id.length),
    ...(stage ?? []).map(({ id }) => id.length),
  );
  const lines = [
    ...(round === undefined ? [] : [`Round ${round.number} of ${round.path}.`]),
    `${bench.length} reading${bench.length === 1 ? '' : 's'}. Moves to make (corrections, not errors found), ± one standard uncertainty of the readings (in brackets: full budget).`,
    ...setAsideLines(report),
    ...(report.hologram === undefined ? [] : hologramLines(report.hologram, report.over)),
    'References are the balls and retroreflectors, not the interferometer’s reference arm.',
    'References, substrate frame:',
    ...references.flatMap((each) => referenceLines(each, width, orientation)),
    ...mountLines(references),
    'Part, along its own axes, rotated about its own origin:',
    ...partLines(part),
  ];
  if (stage !== undefined) {
    lines.push('Screws, in turns:');
    for (const { id, turns, sigma_turns, combined_turns } of stage)
      lines.push(
        sigma_turns === null || combined_turns === null
          ? `  ${id.padEnd(width)}  ${signed(turns, TURNS)}, unobserved`
          : `  ${id.padEnd(width)}  ${signed(turns, sigma_turns)} ± ${rounded(sigma_turns)} (${rounded(combined_turns)})`,
      );
    const left = stageLeaves === undefined ? [] : moveTexts(stageLeaves, NOTHING_LEFT);
    if (left.length > 0) lines.push(`  not achievable with the screws: ${left.join(', ')}`);
  }
  lines.push(...stepLines(report), ...progressLines(report));
  return `${lines.map(visibleText).join('\n')}\n`;
}

/** How each reason to set a reading aside is told. */
const ASIDE = {
  'beyond range': 'beyond the capture range',
  suspect: 'one of these contradicts the others',
  contradicts: 'these contradict each other',
} as const;

function setAsideLines({ setAside }: Report): readonly string[] {
  if (setAside.length === 0) return [];
  const told = Object.entries(ASIDE).flatMap(([why, words]) => {
    const names = setAside.filter((one) => one.why === why).map(({ reading }) => reading);
    return names.length === 0 ? [] : [`${names.join(', ')} (${words})`];
  });
  return [`MOVES FROM THE OTHER READINGS ONLY. Set aside: ${told.join('; ')}.`];
}

/** First of all: whatever else is read is read against a hologram in its place. */
function hologramLines(hologram: NonNullable<Report['hologram']>, over: Report['over']): readonly string[] {
  const { move_um, move_urad, insteadByShift_um, sigma, candidates, notTold, trial } = hologram;
  const isLeft = move_um !== null && !over.some(({ of }) => of === 'hologram');
  const head = `Hologram, in the substrate frame, turned about its origin on the pattern. ${isLeft ? 'Within its uncertainty, leave it' : 'Make this move first, then read the rest again'}:`;
  const told = [`  what the return ring cannot tell: ${notTold.join('; ')}`];
  if (move_um === null || move_urad === null) {
    if (candidates.length === 0) return [head, '  too many unknown signs to try them all'];
    return [
      head,
      ...candidates.map(
        (candidate) => `  ${signsOf(candidate.signs)}: ${plain(turnsOf(candidate, sigma.z))}`,
      ),
      ...trialLines(trial === null ? null : { ...trial, ...turnsOf(trial, sigma.z) }, '  '),
      ...told,
    ];
  }
  const turns = [
    figure('rx', move_urad.rx, sigma.rx, 'µrad'),
    figure('ry', move_urad.ry, sigma.ry, 'µrad'),
    figure('z', move_um.z, sigma.z, 'µm'),
  ];
  const shifts =
    insteadByShift_um === null
      ? []
      : [
          `  or, without turning it, ${[
            figure('x', insteadByShift_um.x, sigma.x, 'µm'),
            figure('y', insteadByShift_um.y, sigma.y, 'µm'),
            figure('z', insteadByShift_um.z, sigma.z, 'µm'),
          ].join('   ')}`,
        ];
  return [head, `  ${turns.join('   ')}`, ...shifts, ...told];
}

const figure = (degree: string, value: number, sigma: number | null, unit: string): string =>
  sigma === null ? `${degree} unobserved` : `${degree} ${signed(value, sigma)} ± ${rounded(sigma)} ${unit}`;

/** Of the hologram: its turns, and z where that shows. */
function turnsOf({ move_um, move_urad }: Required<Move>, sigmaZ: number | null): Move {
  return {
    move_um: sigmaZ === null ? {} : { z: move_um.z! },
    move_urad: { rx: move_urad.rx!, ry: move_urad.ry! },
  };
}

/** The references that stay where they are when the part moves. */
function mountLines(references: readonly Steered[]): readonly string[] {
  const ids = references.filter(({ movesWith }) => movesWith === 'mount').map(({ id }) => id);
  return ids.length === 0
    ? []
    : [`  on mounts of their own (\`frame: substrate\`), not moved with the part: ${ids.join(', ')}`];
}

function referenceLines(steered: Steered, width: number, orientation: CameraOrientation): readonly string[] {
  const { id, move_um, sigma_um, combined_um, unobserved, candidates, trial } = steered;
  const head = `  ${id.padEnd(width)}  `;
  const notSeen =
    unobserved.length === 0 ? '' : `   [unobserved ${unobserved.map(withMinusSigns).join(', ')}]`;
  const lines =
    move_um === null
      ? candidates.map((candidate) => `${head}${signsOf(candidate.signs)}: ${plain(candidate)}${notSeen}`)
      : [
          `${head}${degreesText(move_um, sigma_um, combined_um, 'µm')}${seenWay(steered, orientation)}${notSeen}`,
        ];
  const across = steered.knownAcross.map(
    ({ direction, move_um: along, sigma_um: own, combined_um: all }) =>
      `along ${withMinusSigns(directionWords(direction))} ${signed(along, own)} ± ${rounded(own)} (${rounded(all)}) µm`,
  );
  const known =
    across.length === 0 ? [] : [`${' '.repeat(head.length)}known across that: ${across.join('   ')}`];
  return [...lines, ...known, ...trialLines(move_um === null ? trial : null, head)];
}

/** Where the move goes in the picture, where it is more than twice its uncertainty and not along the light alone. */
function seenWay({ move_um, sigma_um: { x: ux, y: uy } }: Steered, orientation: CameraOrientation): string {
  if (move_um === null || typeof ux !== 'number' || typeof uy !== 'number') return '';
  const { x, y } = move_um;
  // Twice the uncertainty along the move itself.
  if (x ** 2 + y ** 2 <= 2 * Math.hypot(x * ux, y * uy)) return '';
  return `   (in the picture toward ${clockDirection([x, y], orientation)})`;
}

function partLines(part: SteeredPart): readonly string[] {
  const { readings, move_um, move_urad, sigma, combined, freeMotions, candidates, trial, signs = {} } = part;
  if (readings === 0)
    return ['  not read: none of these readings is of a reference that moves with the part'];
  const free =
    freeMotions.length === 0 ? [] : [`  unobserved, free ${freeMotions.map(withMinusSigns).join('; ')}`];
  if (move_um === null || move_urad === null)
    return candidates.length === 0
      ? [`  ${part.undecided}`]
      : [
          ...candidates.map((candidate) => `  ${signsOf(candidate.signs)}: ${plain(candidate)}`),
          ...trialLines(trial, '  '),
          ...free,
        ];
  const told =
    Object.keys(signs).length === 0
      ? []
      : [`  signs from the other readings: ${signWords(signs).join(', ')}`];
  return [
    ...told,
    ...ringLines(part),
    ...nullLines(part),
    `  ${degreesText(move_um, sigma, combined, 'µm')}`,
    `  ${degreesText(move_urad, sigma, combined, 'µrad')}`,
    ...free,
  ];
}

function ringLines({ rings = [] }: SteeredPart): readonly string[] {
  return rings.length === 0 ? [] : [`  with ${rings.map(({ name }) => name).join(', ')}`];
}

function nullLines({ null: rows = [] }: SteeredPart): readonly string[] {
  if (rows.length === 0) return [];
  const terms = rows.map(({ name }) => name.replace('main ', ''));
  return [
    `  with the null’s ${terms.join(', ')}: the surface’s own figure (\`test.ownFigure\`) is allowed for`,
  ];
}

type Trial = Move & Pick<NonNullable<SteeredPart['trial']>, 'expected'>;

function trialLines(trial: Trial | null, head: string): readonly string[] {
  if (trial === null) return [];
  return [
    `${head}trial move to tell them apart: ${plain(trial)}`,
    ...trial.expected.map(({ reading, ofTwo, fringesIfPlus, fringesIfMinus }) => {
      const shown = (list: readonly { fringes: number }[]): string =>
        list.map(({ fringes }) => (ofTwo ? signed(fringes, FINE) : rounded(Math.abs(fringes)))).join(', ');
      const [plus, minus] = ofTwo ? ['the first of its two readings', 'the second'] : ['+', '−'];
      return `${head}  ${reading} then shows ${shown(fringesIfPlus)} if it was ${plus}, ${shown(fringesIfMinus)} if it was ${minus}`;
    }),
  ];
}

/** A hundredth of a fringe: what tells two readings apart. */
const FINE = 0.05;

const moveTexts = ({ move_um, move_urad = {} }: Move, above = -Infinity): readonly string[] =>
  Object.entries({ ...move_um, ...move_urad })
    .filter(([, value]) => Math.abs(value) > above)
    .map(([degree, value]) => `${degree} ${signed(value, 0.1)} ${degree.startsWith('r') ? 'µrad' : 'µm'}`);
const plain = (move: Move): string => moveTexts(move).join(', ');

/** Of a pair of readings which of the two it is. */
const SIGN_WORDS: Readonly<Record<string, string>> = {
  ...{ '+': '+', '-': '−' },
  ...{ first: 'the first of its two readings', second: 'the second of its two readings' },
};
const signWords = (signs: Readonly<Record<string, string>>): readonly string[] =>
  Object.entries(signs).map(([name, sign]) => `${name} is ${SIGN_WORDS[sign]!}`);
const signsOf = (signs: Readonly<Record<string, string>>): string =>
  signWords(signs)
    .map((words) => `if ${words}`)
    .join(' and ');
