/**
 * Where the work as logged departs from the order of work: steps left out, done before one that comes first, done twice, unknown to the
 * order, or logged with a time before that of the step before. Times are texts as they were written down; those of two steps are compared
 * where both have the form 09:30, or both 2026-01-31 09:30.
 */
import { ROUNDS, type RoundName } from '../../scenario/round-name.ts';

export interface OrderedStep {
  /** What a log calls it. */
  readonly kind: string;
  /** What a person calls it. */
  readonly title: string;
}

interface DoneStep {
  readonly step: string;
  readonly at: string | undefined;
}

export interface Deviation {
  readonly kind:
    | 'left out'
    | 'out of order'
    | 'repeated'
    | 'not in the order'
    | 'time runs back'
    | 'moves left';
  readonly step: string;
  readonly words: string;
}

/**
 * In the order of the log, then what was left out, in the order of work. Steps of one kind follow each other in the order: logged once, the kind
 * is done; it may be logged as often as there are of them.
 */
export function deviationsOf(done: readonly DoneStep[], order: readonly OrderedStep[]): readonly Deviation[] {
  const kinds = [...new Set(order.map(({ kind }) => kind))];
  const titles = new Map(order.map(({ kind, title }) => [kind, title]).toReversed() as [string, string][]);
  const deviations: Deviation[] = [];
  const found = (kind: Deviation['kind'], step: string, words: string): void =>
    void deviations.push({ kind, step, words });
  const seen = new Map<string, number>();
  const most = (step: string): number => order.filter(({ kind }) => kind === step).length;
  let furthest: string | undefined;
  done.forEach(({ step, at }, k) => {
    const before = done[k - 1];
    const title = titles.get(step);
    if (title === undefined) found('not in the order', step, `“${step}” is no step of the order of work`);
    else if ((seen.get(step) ?? 0) >= most(step)) found('repeated', step, `${title}: done again`);
    else if (furthest !== undefined && kinds.indexOf(step) < kinds.indexOf(furthest))
      found('out of order', step, `${title}: done after ${titles.get(furthest)}, which comes later`);
    if (title !== undefined) {
      seen.set(step, (seen.get(step) ?? 0) + 1);
      if (furthest === undefined || kinds.indexOf(step) > kinds.indexOf(furthest)) furthest = step;
    }
    if (before !== undefined && isEarlier(at, before.at))
      found('time runs back', step, `${title ?? step}: logged at ${at}, after a step of ${before.at}`);
  });
  for (const kind of kinds)
    if (!seen.has(kind)) found('left out', kind, `${titles.get(kind)}: not in the log`);
  return deviations;
}

/** What was not read once more. */
const ROUND_WORDS: Readonly<Record<RoundName, string>> = {
  before: 'before clamping',
  clamped: 'after clamping',
  reseated: 'after taking the references out and putting them back',
};

/** The step of the order after which each round is read; before clamping always. */
const STEP_OF_ROUND: Readonly<Partial<Record<RoundName, string>>> = { clamped: 'clamp', reseated: 'reseat' };

/** Of the rounds that the order of work asks for. */
export const missingRounds = (
  read: readonly RoundName[],
  order: readonly OrderedStep[],
): readonly Deviation[] =>
  ROUNDS.filter((round) => {
    const step = STEP_OF_ROUND[round];
    return !read.includes(round) && (step === undefined || order.some(({ kind }) => kind === step));
  }).map((round) => {
    return { kind: 'left out', step: round, words: `No readings ${ROUND_WORDS[round]}` };
  });

const FORMS = [/^\d{2}:\d{2}(?::\d{2})?$/, /^\d{4}-\d{2}-\d{2}[ T]\d{2}:\d{2}(?::\d{2})?$/];

const isEarlier = (at: string | undefined, before: string | undefined): boolean =>
  at !== undefined &&
  before !== undefined &&
  FORMS.some((form) => form.test(at) && form.test(before)) &&
  at.replace('T', ' ') < before.replace('T', ' ');
