/// <reference lib="dom" />
/** The rounds of an alignment: kept, taken back, saved and loaded in the forms of `steer --session` and of the log that `record` takes. */
import { readSession } from '../reading/bench/read-session.ts';
import { ROUNDS, type RoundName } from '../scenario/round-name.ts';
import { benchText, sessionText } from '../writing/session/session-text.ts';
import type { Answer } from './answer.ts';
import type { BenchState, Entry } from './bench-state.ts';
import { button, type Child, choice, h, refill } from './dom.ts';
import { fileFindingLine } from './finding-line.ts';
import { contentOf } from './given-file.ts';
import type { Job } from './job.ts';
import { fieldsOf, type Row, readingsText } from './reading-rows.ts';
import { save } from './saving.ts';

const SESSION_FILE = 'session.yml';
const REPLACES = 'The rounds on this page are not saved. Replace them by those of';

const MOMENTS: Readonly<Record<RoundName, string>> = {
  before: 'before clamping',
  clamped: 'when clamped',
  reseated: 'when reseated',
};

export class RoundsSection {
  readonly element: HTMLElement;
  readonly #job: Job;
  readonly #state: BenchState;
  readonly #rows: readonly Row[];
  readonly #answerNow: () => Answer | undefined;
  readonly #said = h('div', { role: 'status' });
  /** As they stand in a file. */
  #saved: BenchState['told']['rounds'] = [];
  readonly #log = new Map<string, HTMLInputElement>();

  constructor(job: Job, state: BenchState, rows: readonly Row[], answerNow: () => Answer | undefined) {
    this.#job = job;
    this.#state = state;
    this.#rows = rows;
    this.#answerNow = answerNow;
    const list = h('ol');
    const undo = button('Take back the last round', () => this.#undo());
    const moment = choice(
      'These readings are taken',
      ROUNDS.map((round) => [round, MOMENTS[round]]),
      state.told.moment,
      (chosen) => state.change({ moment: chosen as RoundName }),
    );
    state.onChange(['moment'], () => {
      moment.querySelector('select')!.value = state.told.moment;
    });
    state.onChange(['rounds'], () => {
      const { rounds } = state.told;
      refill(
        list,
        rounds.map(({ round }) => h('li', {}, roundWords(round.written))),
      );
      undo.toggleAttribute('disabled', rounds.length === 0);
    });
    this.element = h(
      'div',
      { class: 'rounds' },
      h('h3', {}, 'Rounds'),
      h(
        'p',
        { class: 'buttons' },
        moment,
        button('Keep this round: I make the moves now', () => this.#keep(), { class: 'main' }),
        undo,
      ),
      this.#said,
      list,
      h('h3', {}, 'Files'),
      h(
        'p',
        { class: 'buttons' },
        button('Save readings', () => this.#saveReadings()),
        button('Save session', () => this.#saveSession()),
        this.#opening('Load session', '.yml,.yaml,.json'),
      ),
      this.#record(),
    );
  }

  #say(...children: readonly Child[]): void {
    refill(this.#said, children);
  }

  #keep(): void {
    const answer = this.#answerNow();
    if (answer === undefined) {
      this.#say('Nothing is kept: there are no readings that can be used.');
      return;
    }
    const { rounds, entries } = this.#state.told;
    this.#state.change({ rounds: [...rounds, { round: answer.round, entries }], entries: new Map() });
    this.#say(`Round ${rounds.length + 1} is kept. Make the moves, then read everything again.`);
  }

  #undo(): void {
    const { rounds } = this.#state.told;
    const last = rounds.at(-1);
    if (last === undefined) return;
    const typed =
      last.entries ??
      new Map(
        last.round.readings.map((reading): [string, Entry] => {
          const { key, fields } = fieldsOf(reading);
          return [key, { fields, from: 'hand' }];
        }),
      );
    const { moment, camera } = last.round;
    this.#state.change({ rounds: rounds.slice(0, -1), entries: typed, orientation: camera, moment });
    this.#say(`Round ${rounds.length} is taken back: its readings stand in the rows again.`);
  }

  #saveReadings(): void {
    const { filled, text } = readingsText(this.#rows, this.#state.told.entries, this.#state.told.orientation);
    if (filled.length === 0) {
      this.#say('Nothing is saved: no reading is filled in.');
      return;
    }
    save('readings.yml', text);
    this.#say('readings.yml is for `datumlight steer SCENARIO --readings readings.yml`.');
  }

  #saveSession(): void {
    const rounds = this.#state.told.rounds.map(({ round }) => round);
    if (rounds.length === 0) {
      this.#say('Nothing is saved: no round is kept yet.');
      return;
    }
    this.#saved = this.#state.told.rounds;
    save(SESSION_FILE, sessionText({ scenario: this.#job.scenario, rounds }, SESSION_FILE));
    this.#say('session.yml goes on here, or with `datumlight steer SCENARIO --session session.yml`.');
  }

  /** `take`: what is done with the text; by itself, that of a session file is taken. */
  async open(file: File, take = (text: string, name: string): void => this.take(text, name)): Promise<void> {
    const given = await contentOf(file, (all) => all.text());
    if ('content' in given) return take(given.content, file.name);
    this.#say([fileFindingLine(given.finding)]);
    this.#said.scrollIntoView({ block: 'center' });
  }

  /** The text of a session file. */
  take(text: string, name: string): void {
    this.#load(text, name);
    this.#said.scrollIntoView({ block: 'center' });
  }

  #load(text: string, name: string): void {
    const { session, findings } = readSession(text, name, this.#job.design.scenario, this.#job.scenario);
    if (session === undefined) {
      this.#say(findings.map(fileFindingLine));
      return;
    }
    if (this.#hasUnsaved() && !confirm(`${REPLACES} ${name}?`)) {
      this.#say(`${name} is not loaded. Save the session first.`);
      return;
    }
    const rounds = session.rounds.map((round) => ({ round, entries: undefined }));
    this.#saved = rounds;
    const orientation = session.rounds.at(-1)?.camera ?? this.#state.told.orientation;
    this.#state.change({ rounds, entries: new Map(), orientation, isStated: rounds.length > 0 });
    this.#say(`${rounds.length} ${rounds.length === 1 ? 'round' : 'rounds'} from ${name}.`);
  }

  #hasUnsaved(): boolean {
    const { rounds } = this.#state.told;
    return rounds.length > 0 && rounds !== this.#saved;
  }

  #opening(words: string, accept: string): HTMLElement {
    const input = h('input', {
      type: 'file',
      accept,
      class: 'hidden-file',
      'aria-label': words,
      tabindex: -1,
      change: () => {
        const [file] = input.files ?? [];
        if (file !== undefined) void this.open(file);
        input.value = '';
      },
    });
    return h(
      'span',
      {},
      button(words, () => input.click()),
      input,
    );
  }

  #record(): HTMLElement {
    const field = (name: string, words: string, type = 'text'): HTMLElement => {
      const input = h('input', { type, autocomplete: 'off' });
      this.#log.set(name, input);
      return h('label', {}, h('span', {}, words), input);
    };
    return h(
      'details',
      {},
      h('summary', {}, 'Log for the record'),
      h(
        'p',
        { class: 'small' },
        'A record holds the hashes of the whole package, which this page is part of, so it is made by the command: save session and log here, ' +
          'then run datumlight record SCENARIO --log log.yml --package DIR --out DIR.',
      ),
      h(
        'div',
        { class: 'fields' },
        field('serial', 'serial number of the hologram'),
        field('date', 'date', 'date'),
        field('operator', 'operator'),
        field('temperature', 'temperature, °C'),
      ),
      h(
        'p',
        { class: 'buttons' },
        button('Save log', () => this.#saveLog()),
      ),
    );
  }

  #saveLog(): void {
    const words = [...this.#log].map(([name, { value }]) => [name, value.trim()] as const);
    const given = Object.fromEntries(
      words.flatMap(([name, value]) =>
        value === '' ? [] : [[name, name === 'temperature' ? Number(value.replace(',', '.')) : value]],
      ),
    );
    if (given.date === undefined) {
      this.#say('Nothing is saved: the log needs its date.');
      return;
    }
    save('log.yml', benchText({ format: 'datumlight-log/1', ...given, session: SESSION_FILE }));
    this.#say('log.yml names session.yml: save that too, beside it.');
  }
}

function roundWords(written: unknown): string {
  const {
    readings = [],
    found,
    settled = [],
    confirmed,
  } = written as {
    readonly readings?: readonly unknown[];
    readonly found?: { readonly done?: boolean; readonly over?: readonly string[] };
    readonly settled?: readonly string[];
    readonly confirmed?: boolean;
  };
  const over = found?.over ?? [];
  const state = found?.done === true ? 'done' : over.length > 0 ? `over: ${over.join(', ')}` : 'not done';
  const said = [
    confirmed === true ? 'signs confirmed' : undefined,
    settled.length > 0 ? `settled: ${settled.join(', ')}` : undefined,
  ];
  return [`${readings.length} readings`, state, ...said.filter((one) => one !== undefined)].join('; ');
}
