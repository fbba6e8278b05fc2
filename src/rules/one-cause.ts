/**
 * One mistyped value that explains many errors at once. Each value that is often mistyped (the sign of the focus, its unit, the f-number,
 * the side of the pattern, the thickness) is tried as it may have been meant, one at a time, and the rules that found errors are asked
 * again: what would leave no error is named first, and the errors are marked as following from it. Nothing is corrected.
 *
 * mm. A search by experiment: it tells what would explain the errors, not that it is so.
 */
import { type Design, patternsOf } from '../design/design.ts';
import { designScenario } from '../design/design-scenario.ts';
import type { Finding, Path } from '../finding/finding.ts';
import { largestDistanceFrom } from '../geometry/extent.ts';
import { trimmed } from '../quantity/format.ts';
import { powerOfTen } from '../quantity/power.ts';
import type { Beam, Scenario } from '../scenario/scenario.ts';
import { applyRules, RULES } from './all-rules.ts';
import { biasCancels } from './bias-cancels.ts';
import { noReturn } from './no-return.ts';

/** Fewer errors than this are read one by one. */
const FEWEST = 3;
/** The same value explains little where it leaves more of the errors than this. */
const LEFT = 0.1;
/** Past this many patches trying every suspect costs more than it tells: the errors are listed as they are. */
const MOST_PATCHES = 200;

/** A value as it may have been meant. */
interface Suspect {
  readonly path: Path;
  readonly is: string;
  readonly instead: string;
  readonly scenario: Scenario;
}

/** What every rule finds, errors first; before them, where one value explains most of them, that. */
export function findingsOf(design: Design): readonly Finding[] {
  const found = afterNoReturn(applyRules(design));
  const errors = found.filter(({ severity }) => severity === 'error');
  if (errors.length < FEWEST || design.patches.length > MOST_PATCHES) return found;
  const [note, explains] = explanationOf(design, errors) ?? darkness(design) ?? [];
  if (note === undefined) return found;
  const follows = { rule: note.rule, where: note.where };
  const marked = found.map((finding) =>
    finding.severity === 'error' && explains!(finding) ? { ...finding, follows } : finding,
  );
  // Of the errors those first that the note explains.
  return [note, ...marked.filter((one) => one.follows), ...marked.filter((one) => !one.follows)];
}

/** A patch that returns too little shows no bias either: that is said after it, as following from it. */
function afterNoReturn(found: readonly Finding[]): readonly Finding[] {
  const unread = new Set(found.filter(({ rule }) => rule === noReturn.code).map(({ where }) => where));
  const isIdle = ({ rule, where }: Finding): boolean => rule === biasCancels.code && unread.has(where);
  if (!found.some(isIdle)) return found;
  const idle = found.filter(isIdle).map((finding): Finding => {
    return { ...finding, follows: { rule: noReturn.code, where: finding.where } };
  });
  const rest = found.filter((finding) => !isIdle(finding));
  const last = rest.findLastIndex(({ rule }) => rule === noReturn.code) + 1;
  return [...rest.slice(0, last), ...idle, ...rest.slice(last)];
}

/** A note, and which of the errors it explains. */
type Explanation = readonly [note: Finding, explains: (error: Finding) => boolean];

function explanationOf(design: Design, errors: readonly Finding[]): Explanation | undefined {
  const asked = RULES.filter(({ code }) => errors.some(({ rule }) => rule === code));
  const tried = suspectsOf(design).flatMap((suspect) => {
    const made = designScenario(suspect.scenario);
    if ('findings' in made) return [];
    const left = asked
      .flatMap(({ find }) => find(made.design))
      .filter(({ severity }) => severity === 'error');
    return left.length <= LEFT * errors.length ? [{ suspect, left: left.length }] : [];
  });
  if (tried.length === 0) return undefined;
  const least = Math.min(...tried.map(({ left }) => left));
  // Of each value only the first reading.
  const best = new Map<string, Suspect>();
  for (const { suspect, left } of tried) {
    const key = suspect.path.join('.');
    if (left === least && !best.has(key)) best.set(key, suspect);
  }
  const [cause, ...others] = [...best.values()];
  return [causeOf(cause!, others, errors.length, least), () => true];
}

/** No patch in the light, and no value at hand that would change that: what is said of a patch in the dark follows from it. */
function darkness(design: Design): Explanation | undefined {
  const { radius, centre } = design.beam;
  const patterns = patternsOf(design).map(({ pattern }) => pattern);
  const reaches = patterns.map(({ outline }) => largestDistanceFrom(outline, centre));
  if (radius === undefined || reaches.length === 0 || reaches.some((reach) => reach <= radius))
    return undefined;
  const note: Finding = {
    severity: 'note',
    rule: 'one-cause',
    where: 'interferometer',
    message:
      `no patch is lit: the beam's radius at the pattern is ${length(radius)}, and the patches extend to ` +
      `${length(Math.max(...reaches))} from its axis`,
    hint: 'check `focus` and `fNumber` first: sign and unit',
    path: ['interferometer'],
  };
  const dark = new Set(patterns.map(({ id }) => id));
  return [note, ({ patches = [] }) => patches.length > 0 && patches.every((id) => dark.has(id))];
}

function causeOf(cause: Suspect, others: readonly Suspect[], errors: number, left: number): Finding {
  const where = cause.path.join('.');
  const also = others.map(({ path, instead }) => `, or \`${path.join('.')}\` ${instead}`).join('');
  return {
    severity: 'note',
    rule: 'one-cause',
    where,
    message:
      `one value may explain the ${errors} errors: \`${where}\` is ${cause.is}; with ${cause.instead}${also}, ` +
      `${left === 0 ? 'none' : left} of them would be left`,
    hint: 'check this value first: its sign and its unit',
    path: cause.path,
  };
}

/** The nearest at hand first. */
function suspectsOf(design: Design): readonly Suspect[] {
  const { scenario } = design;
  return [...fNumberSuspects(design), ...focusSuspects(scenario), ...substrateSuspects(scenario)];
}

/** Its sign; centimetres, inches, metres or µm taken for mm. */
function focusSuspects(scenario: Scenario): readonly Suspect[] {
  const { beam } = scenario.interferometer;
  if (beam.kind === 'collimated') return [];
  const [x, y, z] = beam.focus;
  return [-1, 10, 25.4, 1000].map((factor): Suspect => {
    const meant: Beam = {
      kind: factor * z < 0 ? 'diverging' : 'converging',
      focus: [x, y, factor * z],
    };
    return {
      path: ['interferometer', 'focus'],
      is: `at z = ${length(z)} (${beam.kind})`,
      instead: `z = ${length(factor * z)} (${meant.kind})`,
      scenario: { ...scenario, interferometer: { ...scenario.interferometer, beam: meant } },
    };
  });
}

/** The fastest beam that still leaves all patches lit, to two digits; and its decimal point. */
function fNumberSuspects(design: Design): readonly Suspect[] {
  const { scenario, beam } = design;
  const { fNumber } = scenario.interferometer;
  if (fNumber === undefined || beam.radius === undefined) return [];
  const patterns = patternsOf(design);
  const reach = Math.max(...patterns.map(({ pattern }) => largestDistanceFrom(pattern.outline, beam.centre)));
  const isDark = patterns.every(
    ({ pattern }) => largestDistanceFrom(pattern.outline, beam.centre) > beam.radius!,
  );
  if (!isDark) return [];
  const lit = rounded((fNumber * beam.radius) / reach);
  return [
    {
      path: ['interferometer', 'fNumber'],
      is: `${trimmed(fNumber, 4)}, by which the beam's radius at the pattern is ${length(beam.radius)} and no patch is lit`,
      instead: `${trimmed(lit, 4)} or less`,
      scenario: { ...scenario, interferometer: { ...scenario.interferometer, fNumber: lit } },
    },
  ];
}

/** Downward, to two digits: a slower beam would leave the edge dark; a little less still for glass in the way. */
function rounded(value: number): number {
  const step = powerOfTen(Math.floor(Math.log10(value)) - 1);
  return (Math.floor((0.98 * value) / step) || 1) * step;
}

/** Thicknesses of substrates as they are made, generously, mm: common practice, no source beyond the trade. */
const PLAUSIBLE = [0.5, 100] as const;

function substrateSuspects(scenario: Scenario): readonly Suspect[] {
  const { substrate } = scenario;
  const { thickness, patternFaces } = substrate;
  if (thickness === 0) return [];
  const other = patternFaces === 'part' ? 'interferometer' : 'part';
  const [least, most] = PLAUSIBLE;
  const meant = [1000, 25.4, 0.1, 0.001].filter(
    (factor) => factor * thickness >= least && factor * thickness <= most,
  );
  const thick = meant.map((factor): Suspect => {
    return {
      path: ['substrate', 'thickness'],
      is: length(thickness),
      instead: length(factor * thickness),
      scenario: { ...scenario, substrate: { ...substrate, thickness: factor * thickness } },
    };
  });
  return [
    {
      path: ['substrate', 'patternFaces'],
      is: `\`${patternFaces}\``,
      instead: `\`${other}\``,
      scenario: { ...scenario, substrate: { ...substrate, patternFaces: other } },
    },
    ...thick,
  ];
}

const length = (value: number): string => `${trimmed(value, 4)} mm`;
