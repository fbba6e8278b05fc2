/// <reference lib="dom" />
/** The bench page: what runs in the operator's browser. */
import type { DesignedPatch } from '../design/design.ts';
import type { Finding } from '../finding/finding.ts';
import { isPlain } from '../scenario/camera-orientation.ts';
import { DRAFT_WORDS } from '../writing/convention.ts';
import { type Answer, answerTo } from './answer.ts';
import { BenchState } from './bench-state.ts';
import { button, h, preformatted, section } from './dom.ts';
import { takeDroppedFiles } from './dropped-files.ts';
import { FramesSection } from './frames-section.ts';
import { hologramSection } from './hologram-section.ts';
import { type Job, jobOf } from './job.ts';
import { movesSection } from './moves-section.ts';
import { picturesSection } from './pictures-section.ts';
import { type Row, readingsText } from './reading-rows.ts';
import { readingsSection } from './readings-section.ts';
import { RoundsSection } from './rounds-section.ts';
import { themeSwitch } from './theme.ts';

declare global {
  interface Window {
    /** For whoever drives the page by a program: a test, a macro of the laboratory. */
    datumlight: {
      /** Of the text of a readings file what `steer --json` prints; where the readings are refused, the findings alone. */
      steer(readings: string): unknown;
      /** The text of a readings file that the rows hold now. */
      readings(): string;
      /** ms that the last redraw of the pictures took, and of how many. */
      lastRedraw(): { readonly ms: number; readonly pictures: number };
    };
  }
}

const root = document.getElementById('page')!;
function begin(job: Job): void {
  const { design } = job;
  const state = new BenchState({
    orientation: job.orientation,
    isStated: !isPlain(job.orientation),
    entries: new Map(),
    moment: 'before',
    rounds: [],
  });
  const toRow = (patch: DesignedPatch): void => readings.focus(patch);
  const readings = readingsSection(design, state);
  const hologram = hologramSection(design, state, toRow);
  const pictures = picturesSection(design, state, toRow);
  const frames = new FramesSection(design, state);
  let current: Answer | undefined;
  const rounds = new RoundsSection(job, state, readings.rows, () => current);
  const moves = movesSection(rounds.element);
  const takeText = (text: string, name: string): void =>
    isBenchFile(text) ? frames.takeBench(text, name) : rounds.take(text, name);
  takeDroppedFiles({
    frames: (files) => void frames.open(files),
    text: (file) => void rounds.open(file, takeText),
  });
  state.onChange(['entries', 'orientation', 'moment', 'rounds'], () => {
    const { filled, text } = readingsText(readings.rows, state.told.entries, state.told.orientation);
    const kept = state.told.rounds.map(({ round }) => round);
    const answer = filled.length === 0 ? undefined : answerTo(design, text, kept, state.told.moment);
    current = answer === undefined || 'refused' in answer ? undefined : answer;
    const findings = answer === undefined ? [] : 'refused' in answer ? answer.refused : answer.findings;
    const byRow = new Map<Row, Finding[]>();
    const others: Finding[] = [];
    for (const finding of findings) {
      const row = rowOf(finding, filled);
      if (row === undefined) others.push(finding);
      else byRow.set(row, [...(byRow.get(row) ?? []), finding]);
    }
    readings.say(byRow);
    moves.show(current, others);
  });
  const title = document.title.replace(/: bench$/, '');
  root.replaceChildren(
    h(
      'header',
      {},
      h('h1', {}, title),
      job.draft && h('p', { class: 'draft' }, DRAFT_WORDS),
      h(
        'nav',
        { 'aria-label': 'Parts of this page' },
        Object.entries(PARTS).map(([id, words]) => h('a', { href: `#${id}` }, words)),
      ),
      h(
        'div',
        { class: 'tools' },
        themeSwitch(),
        button('Print', () => print()),
      ),
    ),
    h(
      'main',
      {},
      section('cautions', 'Cautions', templateOf('cautions-text')),
      h(
        'div',
        { class: 'columns' },
        h('div', {}, hologram, frames.element, pictures.element),
        h('div', {}, readings.element, moves.element),
      ),
    ),
    h(
      'footer',
      {},
      h(
        'p',
        {},
        `datumlight ${job.version}; scenario SHA-256 ${job.scenario.sha256}. Nothing leaves this page but what you save.`,
      ),
      h(
        'details',
        {},
        h('summary', {}, 'Notices of what this page holds'),
        preformatted(templateOf('notices').textContent ?? ''),
      ),
    ),
  );
  window.datumlight = {
    steer(text) {
      const answer = answerTo(design, text);
      if ('refused' in answer) return { findings: answer.refused };
      return answer.works?.report ?? { findings: answer.findings };
    },
    readings: () => readingsText(readings.rows, state.told.entries, state.told.orientation).text,
    lastRedraw: pictures.lastRedraw,
  };
  addEventListener('beforeunload', (event) => {
    if (state.told.rounds.length > 0) event.preventDefault();
  });
}

/** A bench file says how the camera is at its top; a session has a camera in each round. */
const isBenchFile = (text: string): boolean => /^camera\s*:/m.test(text) && !/^rounds\s*:/m.test(text);

const PARTS = {
  cautions: 'Cautions',
  hologram: 'Camera',
  frames: 'Frames',
  pictures: 'Knobs',
  readings: 'Readings',
  moves: 'Moves',
} as const;

/** What `make` and the build have put into a template of the page: markup of the program's own. */
const templateOf = (id: string): DocumentFragment =>
  (document.getElementById(id) as HTMLTemplateElement).content.cloneNode(true) as DocumentFragment;

/** A finding's path is the readings file's: of its list, the row that filled that entry. */
function rowOf({ path }: Finding, filled: readonly Row[]): Row | undefined {
  const [head, entry] = path ?? [];
  return head === 'readings' && typeof entry === 'number' ? filled[entry] : undefined;
}

try {
  begin(jobOf(document));
} catch (error) {
  root.append(h('p', { class: 'error' }, `This page cannot work here: ${(error as Error).message}`));
  throw error;
}
