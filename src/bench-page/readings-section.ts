/// <reference lib="dom" />
/** Readings by hand, a row for each patch in the operator's words. What is wrong with a reading stands under its row. */
import type { Design, DesignedPatch } from '../design/design.ts';
import type { Finding } from '../finding/finding.ts';
import type { BenchState, Fields } from './bench-state.ts';
import { button, type Child, h, refill, section } from './dom.ts';
import { findingLine } from './finding-line.ts';
import { type Option, type Row, readingRows } from './reading-rows.ts';

interface ReadingsSection {
  readonly element: HTMLElement;
  readonly rows: readonly Row[];
  /** Moves to the row of a patch. */
  readonly focus: (patch: DesignedPatch) => void;
  /** Findings by the rows that they are about, under which they are shown. */
  readonly say: (findings: ReadonlyMap<Row, readonly Finding[]>) => void;
}

export function readingsSection(design: Design, state: BenchState): ReadingsSection {
  const rows = readingRows(design);
  const shown = new Map(rows.map((row) => [row, new ShownRow(row, state)]));
  state.onChange(['entries', 'orientation'], () => {
    for (const each of shown.values()) each.update();
  });
  const element = section(
    'readings',
    'Readings',
    h(
      'p',
      { class: 'small' },
      'Count tilt from edge to edge and power from the middle to the edge, beyond what the aligned patch shows: 1.3, −0.5, 1/4, 2 1/2. ' +
        'Leave open what you did not read. With an hour, one size is enough: the path falls toward that hour in the picture.',
    ),
    h(
      'div',
      { class: 'rows' },
      [...shown.values()].map((each) => each.element),
    ),
    button('Clear all readings', () => state.change({ entries: new Map() })),
  );
  return {
    element,
    rows,
    focus: (patch) => [...shown].find(([row]) => row.patch === patch)?.[1].focus(),
    say: (findings) => {
      for (const [row, each] of shown) each.say(findings.get(row) ?? []);
    },
  };
}

const OPTIONS: Readonly<Record<Option, { readonly words: string; readonly tick?: string }>> = {
  toward: { words: 'toward hour' },
  uncertainty: { words: 'uncertainty' },
  counted: { words: 'counted in total', tick: 'total' },
  or: { words: 'or else, all of it: a; b; power' },
  sign: { words: 'sign unknown', tick: 'unknown' },
};

/** One row; its fields are made once, so that the cursor stays where it is. */
class ShownRow {
  readonly element: HTMLElement;
  readonly #row: Row;
  readonly #state: BenchState;
  readonly #inputs: ReadonlyMap<string, HTMLInputElement>;
  readonly #signs = h('ul', { class: 'signs' });
  readonly #origin = h('span', { class: 'origin' });
  readonly #said = h('div', { class: 'said', 'aria-live': 'polite' });

  constructor(row: Row, state: BenchState) {
    this.#row = row;
    this.#state = state;
    this.#inputs = new Map([
      ...row.counts.map(({ field }) => [field, this.#input(field)] as const),
      ...row.options.map((option) => [option, this.#input(option, OPTIONS[option].tick)] as const),
    ]);
    const field = (name: string, words: string): Child =>
      h('label', { class: name }, h('span', {}, words), this.#inputs.get(name)!);
    this.element = h(
      'fieldset',
      { class: 'row' },
      h(
        'legend',
        {},
        row.number === '' ? undefined : h('strong', {}, row.number),
        ` ${row.name} `,
        this.#origin,
      ),
      h('p', { class: 'about' }, row.about),
      h(
        'div',
        { class: 'fields' },
        row.counts.map((count) => field(count.field, count.words)),
        row.options.map((option) => field(option, OPTIONS[option].words)),
      ),
      h('details', {}, h('summary', {}, 'Which way is positive'), this.#signs),
      this.#said,
    );
  }

  focus(): void {
    const [first] = this.#inputs.values();
    this.element.scrollIntoView({ block: 'center' });
    first?.focus({ preventScroll: true });
  }

  update(): void {
    const { entries, orientation } = this.#state.told;
    const entry = entries.get(this.#row.key);
    for (const [field, input] of this.#inputs) {
      const value = entry?.fields[field] ?? '';
      if (input.type === 'checkbox') input.checked = value !== '';
      else if (input.value !== value) input.value = value;
    }
    refill(this.#origin, entry?.from === 'frame' ? 'from the frame' : undefined);
    const signs = this.#row.signs(orientation);
    refill(
      this.#signs,
      signs.map((words) => h('li', {}, words)),
    );
  }

  say(findings: readonly Finding[]): void {
    refill(this.#said, findings.map(findingLine));
    for (const { field } of this.#row.counts)
      this.#inputs.get(field)!.toggleAttribute('aria-invalid', findings.length > 0);
  }

  #input(field: string, tick?: string): HTMLInputElement {
    const keep = (): void => {
      const { entries } = this.#state.told;
      const entry = entries.get(this.#row.key);
      // A count by hand takes the place of all that a frame said of the patch, as `steer` takes it.
      const isNew = entry?.from === 'frame' && this.#row.counts.some((count) => count.field === field);
      const before: Fields = isNew ? {} : (entry?.fields ?? {});
      const value = tick === undefined ? input.value : input.checked ? tick : '';
      const fields = { ...before, [field]: value };
      const next = new Map(entries);
      // A row that is empty again is free for the next frame.
      if (Object.values(fields).every((each) => each.trim() === '')) next.delete(this.#row.key);
      else next.set(this.#row.key, { fields, from: 'hand' });
      this.#state.change({ entries: next });
    };
    const input =
      tick === undefined
        ? h('input', { type: 'text', inputmode: 'text', autocomplete: 'off', input: keep })
        : h('input', { type: 'checkbox', change: keep });
    return input;
  }
}
