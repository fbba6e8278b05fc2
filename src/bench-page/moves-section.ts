/// <reference lib="dom" />
/** The answer to the readings: how far the alignment is, the moves in turns, um and urad, and all of it in the words of `steer`. */
import type { Finding } from '../finding/finding.ts';
import { rounded, signed } from '../writing/steering/bench-figures.ts';
import { progressLines, stepLines } from '../writing/steering/progress-text.ts';
import { steeringText } from '../writing/steering/steering-text.ts';
import type { Answer } from './answer.ts';
import { h, preformatted, refill, section } from './dom.ts';
import { findingLine } from './finding-line.ts';

interface MovesSection {
  readonly element: HTMLElement;
  /** `others`: findings that no row shows. Undefined: nothing is read yet. */
  readonly show: (answer: Answer | undefined, others: readonly Finding[]) => void;
}

type Report = NonNullable<Answer['works']>['report'];

export function movesSection(...below: readonly HTMLElement[]): MovesSection {
  const state = h('p', { class: 'state', role: 'status' });
  const body = h('div');
  const element = section('moves', 'What to move', state, body, below);
  return {
    element,
    show: (answer, others) => {
      const said = others.map(findingLine);
      const works = answer?.works;
      if (answer === undefined || works === undefined) {
        const words =
          answer === undefined && others.length === 0
            ? 'Fill in what you read: the moves stand here at once.'
            : 'No moves.';
        refill(state, words);
        refill(body, said);
        state.className = 'state';
        return;
      }
      const { report, steering } = works;
      refill(state, progressLines(report).at(-1));
      state.className = report.done && report.ok ? 'state done' : 'state';
      const step = stepLines(report);
      refill(
        body,
        said,
        step.length === 0
          ? undefined
          : h(
              'div',
              { class: 'step' },
              step.map((line) => h('p', {}, line.trim())),
            ),
        screwTable(report),
        partTable(report),
        referenceTable(report),
        h(
          'details',
          { open: report.part.move_um === null },
          h('summary', {}, 'All of it, as steer prints it'),
          preformatted(steeringText(report, steering, answer.camera).trimEnd()),
        ),
      );
    },
  };
}

const table = (
  caption: string,
  heads: readonly string[],
  rows: readonly (readonly string[])[],
): HTMLElement =>
  h(
    'table',
    {},
    h('caption', {}, caption),
    h(
      'thead',
      {},
      h(
        'tr',
        {},
        heads.map((head) => h('th', { scope: 'col' }, head)),
      ),
    ),
    h(
      'tbody',
      {},
      rows.map(([name, ...cells]) =>
        h(
          'tr',
          {},
          h('th', { scope: 'row' }, name),
          cells.map((cell) => h('td', {}, cell)),
        ),
      ),
    ),
  );

const NOT_SEEN = 'unobserved';
/** Decimals of a move whose uncertainty is not known. */
const TENTH = 0.1;
const THOUSANDTH = 0.001;

function figures(
  value: number,
  own: number | null | undefined,
  all: number | null | undefined,
  coarse: number,
): string[] {
  if (own == null || all == null) return [signed(value, coarse), NOT_SEEN, NOT_SEEN];
  return [signed(value, own), rounded(own), rounded(all)];
}

function screwTable({ stage }: Report): HTMLElement | undefined {
  if (stage === undefined) return undefined;
  return table(
    'Screws, turns',
    ['screw', 'turns', '±', '± full budget'],
    stage.map(({ id, turns, sigma_turns, combined_turns }) => [
      id,
      ...figures(turns, sigma_turns, combined_turns, THOUSANDTH),
    ]),
  );
}

function partTable({ part }: Report): HTMLElement | undefined {
  const { move_um, move_urad, sigma, combined, readings } = part;
  if (readings === 0 || move_um === null || move_urad === null) return undefined;
  return table(
    'Part, along its own axes, rotated about its own origin',
    ['degree', 'move', '±', '± full budget'],
    Object.entries({ ...move_um, ...move_urad }).map(([degree, value]) => [
      `${degree}, ${degree.startsWith('r') ? 'µrad' : 'µm'}`,
      ...figures(value as number, sigma[degree], combined[degree], TENTH),
    ]),
  );
}

function referenceTable({ references }: Report): HTMLElement | undefined {
  const told = references.filter(({ move_um, movesWith }) => move_um !== null && movesWith === 'mount');
  if (told.length === 0) return undefined;
  return table(
    'References on mounts of their own, substrate frame, µm',
    ['reference', 'move', '±', '± full budget'],
    told.flatMap(({ id, move_um, sigma_um, combined_um }) =>
      Object.entries(move_um!).map(([axis, value]) => [
        `${id} ${axis}`,
        ...figures(value as number, sigma_um[axis], combined_um[axis], TENTH),
      ]),
    ),
  );
}
