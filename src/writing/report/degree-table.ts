/** The short table that `check` prints: each degree of freedom against its wish, with beam and glass in words. Text. */

import type { Design } from '../../design/design.ts';
import { withSecondOrder } from '../../metrology/null/figure-error.ts';
import { micro, NONE, significant } from '../page/figures.ts';
import { beamWords, glassWords } from '../setup-words.ts';
import { nmWords, reportedTest } from './reported-test.ts';
import { reportedDegrees, reportedInHologram } from './reported-uncertainty.ts';

const HEADS = ['part', 'wanted', 'reached', 'margin', 'largest term'] as const;

/** Lines, indented; without the table where no degree is observed and none is wanted. */
export function degreeTable(design: Design): readonly string[] {
  const degrees = reportedDegrees(design);
  const setup = [`  beam   ${beamWords(design)}`, `  glass  ${glassWords(design)}`, ...figureLine(design)];
  if (degrees.every(({ wanted, reached }) => wanted === null && reached === null)) return setup;
  const rows = degrees.map(({ degree, unit, wanted, reached, margin, largest }): readonly string[] => {
    const shown = unit === 'um' ? 'µm' : 'µrad';
    const quantity = (value: number | null): string => (value === null ? NONE : `${micro(value)} ${shown}`);
    return [
      degree,
      wanted === null ? NONE : `${significant(wanted)} ${shown}`,
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
    ...hologramLine(design, degrees),
  ];
}

/** What misalignment leaves in the measured figure; nothing where the scenario names no surface under test. */
function figureLine(design: Design): readonly string[] {
  const figure = reportedTest(design)?.figure_nm;
  if (figure === undefined) return [];
  const { expected, p95, allowed, mostly, unseen } = figure;
  const limit = allowed === null ? '' : `, allowed ${nmWords(allowed, 3)}`;
  if (expected === null || p95 === null)
    return [`  figure  not bounded: the part is free ${unseen.map(({ words }) => words).join(', ')}${limit}`];
  const most = mostly === null ? '' : `; mostly ${mostly}`;
  const whole = withSecondOrder(figure);
  const off = whole === undefined ? '' : `; ${nmWords(whole)} until its own null shows few fringes`;
  return [`  figure  expected ${nmWords(expected)} rms (95 %: ${nmWords(p95)})${limit}${most}${off}`];
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
