/** What `--verify` found, for a terminal and as Markdown for a pull request: a heading a package, then what moved, inputs first. */

import { visibleText } from '../../finding/visible-text.ts';
import { inertCell } from '../csv.ts';
import type { About, Change } from './difference.ts';
import { SLIGHT_WORDS } from './slight-change.ts';

/**
 * changed: both are there and differ; missing: the scenario gives a package, none is there; refused: a package is there, the
 * scenario gives none any more; orphaned: a package is there, no scenario gives it.
 */
type DifferenceState = 'changed' | 'missing' | 'refused' | 'orphaned';

export interface PackageDifference {
  /** The package's folder under `--out`. */
  readonly name: string;
  readonly state: DifferenceState;
  /** Files whose bytes differ. */
  readonly files: readonly string[];
  /** Files that are not as their own manifest says: changed since the package was written. */
  readonly editedSince: readonly string[];
  readonly changes: readonly Change[];
  /** Figures whose change is below NOTICEABLE, counted but not listed. */
  readonly slight: number;
  /** Why the scenario no longer gives a package, with places. */
  readonly reasons: readonly string[];
}

export const withoutChanges = (name: string, state: DifferenceState): PackageDifference => ({
  name,
  state,
  files: [],
  editedSince: [],
  changes: [],
  slight: 0,
  reasons: [],
});

const STATES: Readonly<Record<DifferenceState, string>> = {
  changed: 'differs from what its scenario gives',
  missing: 'is missing',
  refused: 'exists, but its scenario no longer gives one',
  orphaned: 'exists, but no scenario gives it',
};

/** Changes shown for one package; the rest are counted, and stand in the JSON. */
const MOST_CHANGES = 60;

/** Lines for a terminal. */
export function differenceLines(difference: PackageDifference): readonly string[] {
  const { name, files, editedSince, changes, slight, reasons } = difference;
  const lines = [`${name} ${verdict(difference)}`, ...reasons.map((reason) => `  ${reason}`)];
  for (const change of changes.slice(0, MOST_CHANGES)) {
    lines.push(`  ${[...subjectOf(change), change.what].join(' ')}: ${movementOf(change)}`);
  }
  if (changes.length > MOST_CHANGES) lines.push(`  and ${changes.length - MOST_CHANGES} more changes`);
  if (editedSince.length > 0) lines.push(`  changed since it was written: ${editedSince.join(', ')}`);
  if (slight > 0) lines.push(`  ${slightWords(slight)}`);
  if (files.length > 0) lines.push(`  files: ${files.join(', ')}`);
  return lines.map(visibleText);
}

const ONLY_BYTES = 'no figure changed by more than rounding';
const slightWords = (count: number): string =>
  `${count} smaller ${count === 1 ? 'change' : 'changes'}: ${SLIGHT_WORDS}`;

/** What a package comes to, in one line. */
function verdict({ state, changes, slight }: PackageDifference): string {
  if (state !== 'changed') return STATES[state];
  if (changes.length === 0) return `${STATES[state]}: ${slight > 0 ? 'only slightly' : ONLY_BYTES}`;
  const kinds = changes.map(kindOfChange);
  const counts = ['input', 'place', 'phase', 'figure', 'finding', 'patch or reference'].flatMap((kind) => {
    const count = kinds.filter((one) => one === kind).length;
    if (count === 0) return [];
    const plural = kind === 'patch or reference' ? 'patches or references' : `${kind}s`;
    return [`${count} ${count === 1 ? kind : plural}`];
  });
  return `${STATES[state]}: ${counts.join(', ')}`;
}

function kindOfChange(change: Change): string {
  const { about, what } = change;
  if (about === 'finding') return 'finding';
  if (about === 'version' || about === 'parameter' || about === 'datum' || about === 'input') return 'input';
  if (what === 'added' || what === 'removed') return 'patch or reference';
  return isMove(change) ? 'place' : isPhase(change) ? 'phase' : 'figure';
}

/** Packages told whole in the Markdown, which a pull request has to take; the rest are named. */
const MOST_PACKAGES = 12;

/** Whether a text starts as the Markdown of a run does. */
export const isDifferencesMarkdown = (head: string): boolean =>
  /^## Reference patches\r?\n\r?\n(All \d+ packages match|\d+ of \d+ packages differs?) /.test(head);

/** Of packages that mean the same: git may have converted their line ends. */
export const convertedWords = (count: number): string =>
  `only line ends differ (CRLF or LF) in ${count} ${count === 1 ? 'package' : 'packages'}`;

/** The Markdown of a whole run; `converted`: packages without a difference whose line ends are others. */
export function differencesMarkdown(
  compared: number,
  differences: readonly PackageDifference[],
  converted = 0,
): string {
  const verb = differences.length === 1 ? 'differs' : 'differ';
  const head =
    differences.length === 0
      ? `All ${compared} packages match their scenarios.`
      : `${differences.length} of ${compared} packages ${verb} from what the scenarios give.`;
  const told = differences.slice(0, MOST_PACKAGES).flatMap(markdownOf);
  const rest = differences.slice(MOST_PACKAGES).map(({ name }) => cell(name));
  const more = rest.length === 0 ? [] : ['', `Also different: ${rest.join(', ')}`];
  const only = converted === 0 ? '' : ` ${convertedWords(converted).replace(/^o/, 'O')}.`;
  return `${['## Reference patches', '', `${head}${only}`, ...told, ...more].join('\n')}\n`;
}

function markdownOf(difference: PackageDifference): readonly string[] {
  const { name, files, editedSince, changes, slight, reasons } = difference;
  const lines = ['', `### ${cell(name)}`, '', `The package ${verdict(difference)}.`];
  if (reasons.length > 0) lines.push('', ...reasons.map((reason) => `- ${cell(reason)}`), '');
  if (editedSince.length > 0)
    lines.push(`Changed since it was written: ${editedSince.map(cell).join(', ')}.`);
  if (changes.length > 0) {
    lines.push('', '| what | | before | after | by |', '| --- | --- | --- | --- | --- |');
    for (const change of changes.slice(0, MOST_CHANGES)) {
      const { before, after, by, unit = '' } = change;
      const cells = [
        subjectOf(change).join(' '),
        change.what,
        isPhase(change) ? '' : valueText(before, unitOf(change)),
        isPhase(change) ? '' : valueText(after, unitOf(change)),
        by === undefined ? '' : `${signed(by, change)} ${shownUnit(unit)}`.trim(),
      ];
      lines.push(`| ${cells.map(cell).join(' | ')} |`);
    }
    if (changes.length > MOST_CHANGES) lines.push('', `And ${changes.length - MOST_CHANGES} more changes.`);
  }
  if (slight > 0) lines.push('', `${slightWords(slight)}.`);
  if (files.length > 0) lines.push('', `Files: ${files.map(cell).join(', ')}`);
  return lines;
}

const SUBJECTS: Readonly<Record<About, string>> = {
  version: 'program',
  parameter: 'parameter',
  datum: 'datum',
  input: '',
  patch: 'patch',
  reference: 'reference',
  part: 'part',
  finding: 'finding',
};

const subjectOf = ({ about, id }: Change): readonly string[] =>
  [SUBJECTS[about], id].filter((word) => word !== '');

function movementOf(change: Change): string {
  const { before, after, by, unit = '' } = change;
  const values = `${valueText(before, unitOf(change))} -> ${valueText(after, unitOf(change))}`;
  if (change.about === 'finding') return [before, after].filter((said) => said !== null).join(' -> ');
  if (isMove(change)) return `moved ${rounded(by!)} ${shownUnit(unit)}, ${values}`;
  if (isPhase(change)) return `changed by up to ${rounded(by ?? 0)} ${unit}`;
  return by === undefined ? values : `${values} (${`${signed(by, change)} ${shownUnit(unit)}`.trim()})`;
}

/** A place's `by` is a distance in µm; its before and after carry their own unit. */
const isMove = ({ before, by }: Change): boolean => typeof before === 'string' && by !== undefined;

/** A phase has no value of its own to show, only by how much it changed at the worst of many points. */
const isPhase = ({ before, after }: Change): boolean => before === null && after === null;

const shownUnit = (unit: string): string => unit.replace(/^u(?=m$|rad$)/, 'µ');

const unitOf = (change: Change): string => (isMove(change) ? '' : shownUnit(change.unit ?? ''));

const signed = (by: number, change: Change): string =>
  isMove(change) || by < 0 || isPhase(change) ? rounded(by) : `+${rounded(by)}`;

const valueText = (value: Change['before'], unit: string): string =>
  value === null
    ? 'none'
    : `${typeof value === 'number' ? rounded(value) : value}${unit === '' ? '' : ` ${unit}`}`;

/** Digits that a designer reads. */
const DIGITS = 7;
const rounded = (value: number): string => String(Number(value.toPrecision(DIGITS)));

/** A text in a table of Markdown: nothing in it ends the cell, makes markup, a link or a formula of a spreadsheet. */
const cell = (text: string): string =>
  inertCell(text)
    .replace(/[\\`*_[\]<>|#~@]/g, (sign) => `\\${sign}`)
    .replaceAll('\\<', '&lt;')
    .replaceAll('\\>', '&gt;');
