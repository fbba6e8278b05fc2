/** What the operator has told the page: how the camera is turned, what was read, the rounds so far. Whoever shows any of it listens. */
import type { SessionRound } from '../scenario/bench-session.ts';
import type { CameraOrientation } from '../scenario/camera-orientation.ts';
import type { CameraPlace } from '../scenario/camera-place.ts';
import type { RoundName } from '../scenario/round-name.ts';

/** What stands in the fields of one row, as it was typed. */
export type Fields = Readonly<Record<string, string>>;

export interface Entry {
  readonly fields: Fields;
  /** A reading by hand is never overwritten by one from a frame. */
  readonly from: 'hand' | 'frame';
}

/** By the row's key, see reading-rows.ts. */
export type Entries = ReadonlyMap<string, Entry>;

interface KeptRound {
  readonly round: SessionRound;
  /** As they were typed; undefined for a round from a file. */
  readonly entries: Entries | undefined;
}

interface Told {
  readonly orientation: CameraOrientation;
  /** Somebody has said so; else a frame may tell. */
  readonly isStated: boolean;
  /** Where its picture has the beam's circle, from a bench file. */
  readonly place?: CameraPlace;
  readonly entries: Entries;
  /** When the readings in the rows are taken. */
  readonly moment: RoundName;
  readonly rounds: readonly KeptRound[];
}

type Part = keyof Told;

export class BenchState {
  #told: Told;
  readonly #listeners: { readonly parts: readonly Part[]; readonly act: () => void }[] = [];

  constructor(told: Told) {
    this.#told = told;
  }

  get told(): Told {
    return this.#told;
  }

  change(parts: Partial<Told>): void {
    this.#told = { ...this.#told, ...parts };
    const changed = Object.keys(parts);
    for (const { parts: heard, act } of this.#listeners)
      if (heard.some((part) => changed.includes(part))) act();
  }

  /** Acts at once, and whenever one of the parts changes. */
  onChange(parts: readonly Part[], act: () => void): void {
    this.#listeners.push({ parts, act });
    act();
  }
}
