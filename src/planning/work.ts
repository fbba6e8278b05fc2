/**
 * How much a search may do. A unit is about a microsecond of an ordinary processor, by what the step is known to cost; no clock is
 * read, so that the same scenario ends after the same steps, with the same bytes, on every machine.
 */

/** Of one search, and `plan` makes two at most: ten times what a bench of 48 retroreflectors takes. */
export const MOST_WORK = 20_000_000;

/** To work out a place of a patch and ask it the rules of a single patch. */
export const CHECKED = 1000;
/** Of that, for each body that may stand in the light. */
export const CHECKED_BODY = 10;
/** To weigh a candidate: the pose with it, and its σ. */
export const SCORED = 1;
/** To compare two outlines, or to add one patch's readings to a sum. */
export const COMPARED = 0.05;
/** To design a patch of the complete scenario and ask every rule, and of that for each reference. */
export const COMPLETED = 1000;
export const COMPLETED_REFERENCE = 5;

export class Work {
  #left: number;
  #set = Infinity;

  constructor(most: number) {
    this.#left = most;
  }

  get left(): number {
    return Math.max(0, this.#left);
  }

  /** Whether there is nothing left to spend, of the whole or of the share that `within` gave. */
  get isSpent(): boolean {
    return this.#left <= 0 || this.#set <= 0;
  }

  spend(units: number): void {
    this.#left -= units;
    this.#set -= units;
  }

  /** What `step` does may spend no more than this. */
  within<T>(share: number, step: () => T): T {
    this.#set = share;
    try {
      return step();
    } finally {
      this.#set = Infinity;
    }
  }
}
