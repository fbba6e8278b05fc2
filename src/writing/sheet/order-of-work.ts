/** The order of work at the bench: the report's steps in words, with the design's own references and figures in them. */
import type { Design } from '../../design/design.ts';
import { type Html, html } from '../page/html.ts';
import type { Report } from '../report/report-form.ts';
import type { ReportedStep } from '../report/reported-order.ts';
import { clampWords, nullWords, reseatWords } from './closing-words.ts';
import { featureWords, fringeWords } from './fringe-words.ts';
import { hologramWords, mountWords } from './hologram-words.ts';
import { constrainWords, seatWords, trackerWords } from './measured-words.ts';
import { readingsTable } from './readings-table.ts';
import { coarseWords, lengthWords, markWords, touchWords } from './reference-words.ts';

type StepWords = (step: ReportedStep, design: Design, report: Report) => Html;

const WORDS: Readonly<Record<ReportedStep['kind'], StepWords>> = {
  mount: mountWords,
  hologram: hologramWords,
  marks: markWords,
  seat: touchWords,
  coarse: coarseWords,
  measure: lengthWords,
  references: fringeWords,
  features: featureWords,
  seats: seatWords,
  tracker: trackerWords,
  constrain: constrainWords,
  clamp: clampWords,
  reseat: reseatWords,
  null: nullWords,
};

export const orderOfWork = (design: Design, report: Report): Html => html`<ol class="steps">
${report.order.map((step) => html`<li>${WORDS[step.kind](step, design, report)}</li>\n`)}</ol>
${readingsTable(design, report)}`;
