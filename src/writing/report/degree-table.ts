/**
 * The short table that `check` prints: each degree of freedom against its wish, with beam, glass and camera in words. Where nothing is
 * wished of a degree but the figure is, what the figure allows it stands in brackets. Text.
 */

import type { Design } from '../../design/design.ts';
import { figureError, withSecondOrder } from '../../metrology/null/figure-error.ts';
import { hiddenMotions } from '../../metrology/null/hidden-motions.ts';
import { NM_PER_MM } from '../../quantity/conversion.ts';
import { micro, NONE, significant } from '../page/figures.ts';
import { beamWords, glassWords } from '../setup-words.ts';
import { orientationLine, reportedOrientation } from './reported-orientation.ts';
import { nmWords, reportedAllowances } from './reported-test.ts';
import { reportedDegrees, reportedInHologram } from './reported-uncertainty.ts';

const HEADS = ['part', 'wanted', 'reached', 'margin', 'largest term'] as const;

/** Lines, indented; without the table where no degree is observed and none is wanted. */
export function degreeTable(design: Design): readonly string[] {
  const degrees = reportedDegrees(design);
  const allowances = degrees.some(({ wanted }) => wanted === null) ? reportedAllowances(design) : null;
  const setup = [
    `  beam   ${beamWords(design)}`,
    `  glass  ${glassWords(design)}`,
    orientationLine(reportedOrientation(design)),
    ...figureLine(design),
  ];
  if (allowances === null && degrees.every(({ wanted, reached }) => wanted === null && reached === null))
    return setup;
  const rows = degrees.map(({ degree, unit, wanted, reached, margin, largest }): readonly string[] => {
    const shown = unit === 'um' ? 'µm' : 'µrad';
    const quantity = (value: number | null): string => (value === null ? NONE : `${micro(value)} ${shown}`);
    return [
      degree,
      wanted === null ? allowedWords(allowances?.[degree], shown) : `${significant(wanted)} ${shown}`,
      reached === null ? 'not observed' : quantity(reached),
      margin === null || wanted === null ? NONE : `${percent(margin / wanted)} %`,
      largest === null ? NONE : `${largest.term}, ${quantity(largest.sigma)}`,
    ];
  });
  const table = [HEADS, ...rows];
  const widths = HEADS.map((_, column) => Math.max(...table.map((row) => row[column]!.length)));
  return [
    ...setup,
    ...table.map((row) =>
      `  ${row.map((cell, column) => cell.padEnd(widths[column]!)).join('  ')}`.trimEnd(),
    ),
    ...(allowances === null ? [] : [BRACKETS]),
    ...hologramLine(design, degrees),
  ];
}

/** What the figure allows a degree that nothing is wished of. */
function allowedWords(
  allowance: { readonly allowed: number; readonly byEye: boolean } | undefined,
  unit: string,
): string {
  if (allowance === undefined) return NONE;
  return allowance.byEye ? '(by eye)' : `(${significant(allowance.allowed)} ${unit})`;
}

const BRACKETS =
  '  wanted in brackets: what test.figure allows if errors are independent; those of this design are judged together, by the figure line';

/**
 * The 95 % of the root of a sum of squares of normal errors, over its expectation, is no more than that of one error alone (G. J. Székely,
 * N. K. Bakirov, Probab. Theory Relat. Fields 126, 184 (2003), from memory). Where even that is allowed, it is not worked out for one line.
 */
const MOST_OF_95 = 1.96;

/** What misalignment leaves in the measured figure, and which motions it does not show; nothing where the scenario names no surface under test. */
function figureLine(design: Design): readonly string[] {
  const error = figureError(design);
  if (error === undefined) return [];
  const { expected, mostly, unseen } = error;
  const allowed = design.scenario.test?.figure;
  const nm = (value: number, digits?: number): string => nmWords(value * NM_PER_MM, digits);
  const limit = allowed === undefined ? '' : `, allowed ${nm(allowed, 3)}`;
  const words = (hiddenMotions(design) ?? []).map((motion) => motion.words).join('; ');
  const hidden = words === '' ? [] : [`  hidden  hardly changes the measured figure: ${words}`];
  if (expected === null)
    return [
      `  figure  not bounded: the part is free ${unseen.map((motion) => motion.words).join(', ')}${limit}`,
      ...hidden,
    ];
  const most = mostly === null ? '' : `; mostly ${mostly}`;
  const whole = withSecondOrder(error);
  const off = whole === undefined ? '' : `; ${nm(whole)} until its own null shows few fringes`;
  const isSure = allowed !== undefined && MOST_OF_95 * expected <= allowed;
  const most95 = isSure ? '' : ` (95 %: ${nm(error.p95!)})`;
  return [`  figure  expected ${nm(expected)} rms${most95}${limit}${most}${off}`, ...hidden];
}

/** A part known this much worse or better, relative, against the hologram than against the test wavefront is worth a line. */
const WORTH_A_LINE = 0.05;

/** What the table does not show: the same part against the hologram's own frame. */
function hologramLine(design: Design, degrees: ReturnType<typeof reportedDegrees>): readonly string[] {
  const inHologram = reportedInHologram(design);
  const others = degrees.flatMap(({ degree, unit, reached }) => {
    const other = inHologram[degree];
    if (reached === null || other === null || Math.abs(other / reached - 1) < WORTH_A_LINE) return [];
    return [`${degree} ${micro(other)} ${unit === 'um' ? 'µm' : 'µrad'}`];
  });
  return others.length === 0
    ? []
    : [`  reached: against the test wavefront; against the hologram itself: ${others.join(', ')}`];
}

/** Of the wish that is left, whole; downward, so that no miss is shown as none. */
const percent = (share: number): string => String(Math.floor(100 * share)).replace('-', '\u2212');
