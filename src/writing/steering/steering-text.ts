/** What to turn next, in plain lines for the bench. Moves to make: µm, µrad and turns; ± one standard uncertainty. */
import type { Steering } from '../../metrology/steering/steering.ts';
import { rounded, signed } from './bench-figures.ts';
import type { steeringReport } from './steering-report.ts';

interface Move {
  readonly move_um: Readonly<Record<string, number>> | null;
  readonly move_urad?: Readonly<Record<string, number>> | null;
}

interface Steered extends Move {
  readonly id: string;
  readonly sigma_um: Readonly<Record<string, number | null>>;
  readonly combined_um: Readonly<Record<string, number | null>>;
  readonly unobserved: readonly string[];
  readonly candidates: readonly (Move & { readonly signs: Readonly<Record<string, string>> })[];
  readonly trial: TrialRow | null;
}

interface SteeredPart extends Omit<Steered, 'id' | 'sigma_um' | 'combined_um'> {
  readonly sigma: Readonly<Record<string, number | null>>;
  readonly combined: Readonly<Record<string, number | null>>;
  readonly freeMotions: readonly string[];
  readonly signs?: Readonly<Record<string, string>>;
}

interface TrialRow extends Move {
  readonly expected: readonly {
    readonly reading: string;
    readonly fringesIfPlus: readonly { readonly fringes: number }[];
    readonly fringesIfMinus: readonly { readonly fringes: number }[];
  }[];
}

interface Report {
  readonly references: readonly Steered[];
  readonly part: SteeredPart;
  readonly stage?: readonly { readonly id: string; readonly turns: number; readonly sigma_turns: number }[];
  readonly stageLeaves?: Move;
}

export function steeringText(row: ReturnType<typeof steeringReport>, { bench }: Steering): string {
  const { references, part, stage, stageLeaves } = row as unknown as Report;
  const width = Math.max(
    4,
    ...references.map(({ id }) => id.length),
    ...(stage ?? []).map(({ id }) => id.length),
  );
  const lines = [
    `${bench.length} reading${bench.length === 1 ? '' : 's'}. Moves to make (corrections, not errors found), ± one standard uncertainty of the readings (in brackets: full budget).`,
    'References are the balls and retroreflectors, not the interferometer’s reference arm.',
    'References, substrate frame:',
    ...references.flatMap((each) => referenceLines(each, width)),
    'Part, along its own axes, rotated about its own origin:',
    ...partLines(part),
  ];
  if (stage !== undefined) {
    lines.push('Screws, in turns:');
    for (const { id, turns, sigma_turns } of stage)
      lines.push(`  ${id.padEnd(width)}  ${signed(turns, sigma_turns)} ± ${rounded(sigma_turns)}`);
    const left = stageLeaves === undefined ? [] : leftOver(stageLeaves);
    if (left.length > 0) lines.push(`  not achievable with the screws: ${left.join(', ')}`);
  }
  return `${lines.join('\n')}\n`;
}

function referenceLines(steered: Steered, width: number): readonly string[] {
  const { id, move_um, sigma_um, combined_um, unobserved, candidates, trial } = steered;
  const head = `  ${id.padEnd(width)}  `;
  const notSeen = unobserved.length === 0 ? '' : `   [unobserved ${unobserved.join(', ')}]`;
  const lines =
    move_um === null
      ? candidates.map((candidate) => `${head}${signsOf(candidate.signs)}: ${plain(candidate)}${notSeen}`)
      : [`${head}${degreeTexts(move_um, sigma_um, combined_um, 'µm').join('   ')}${notSeen}`];
  return [...lines, ...trialLines(move_um === null ? trial : null, head)];
}

function partLines(part: SteeredPart): readonly string[] {
  const { move_um, move_urad, sigma, combined, freeMotions, candidates, trial, signs = {} } = part;
  const free = freeMotions.length === 0 ? [] : [`  unobserved, free ${freeMotions.join('; ')}`];
  if (move_um === null)
    return candidates.length === 0
      ? ['  too many unknown signs to try them all: determine some at their references first']
      : [
          ...candidates.map((candidate) => `  ${signsOf(candidate.signs)}: ${plain(candidate)}`),
          ...trialLines(trial, '  '),
          ...free,
        ];
  const told =
    Object.keys(signs).length === 0 ? [] : [`  signs from the other readings: ${plainSigns(signs)}`];
  return [
    ...told,
    `  ${degreeTexts(move_um, sigma, combined, 'µm').join('   ')}`,
    `  ${degreeTexts(move_urad ?? {}, sigma, combined, 'µrad').join('   ')}`,
    ...free,
  ];
}

function trialLines(trial: TrialRow | null, head: string): readonly string[] {
  if (trial === null) return [];
  return [
    `${head}trial move to tell them apart: ${plain(trial)}`,
    ...trial.expected.map(({ reading, fringesIfPlus, fringesIfMinus }) => {
      const shown = (list: readonly { fringes: number }[]): string =>
        list.map(({ fringes }) => rounded(Math.abs(fringes))).join(', ');
      return `${head}  ${reading} then shows ${shown(fringesIfPlus)} if it was +, ${shown(fringesIfMinus)} if it was −`;
    }),
  ];
}

const degreeTexts = (
  move: Readonly<Record<string, number>>,
  sigma: Readonly<Record<string, number | null>>,
  combined: Readonly<Record<string, number | null>>,
  unit: string,
): readonly string[] =>
  Object.entries(move).map(([degree, value]) => {
    const [own, all] = [sigma[degree] ?? null, combined[degree] ?? null];
    if (own === null || all === null) return `${degree} ${signed(value, 0.1)} ${unit}, unobserved`;
    return `${degree} ${signed(value, own)} ± ${rounded(own)} (${rounded(all)}) ${unit}`;
  });

const plain = ({ move_um, move_urad }: Move): string =>
  [
    ...Object.entries(move_um ?? {}).map(([degree, value]) => `${degree} ${signed(value, 0.1)} µm`),
    ...Object.entries(move_urad ?? {}).map(([degree, value]) => `${degree} ${signed(value, 0.1)} µrad`),
  ].join(', ');

const signsOf = (signs: Readonly<Record<string, string>>): string =>
  Object.entries(signs)
    .map(([name, sign]) => `if ${name} is ${sign === '+' ? '+' : '−'}`)
    .join(' and ');

const plainSigns = (signs: Readonly<Record<string, string>>): string =>
  Object.entries(signs)
    .map(([name, sign]) => `${name} is ${sign === '+' ? '+' : '−'}`)
    .join(', ');

/** A thousandth of a µm or µrad left is nothing left. */
const leftOver = ({ move_um, move_urad }: Move): readonly string[] =>
  [...Object.entries(move_um ?? {}), ...Object.entries(move_urad ?? {})]
    .filter(([, value]) => Math.abs(value) > 1e-3)
    .map(([degree, value]) => `${degree} ${signed(value, 0.1)} ${degree.startsWith('r') ? 'µrad' : 'µm'}`);
