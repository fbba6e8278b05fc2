/** What a slot would tell at a place, by its line's direction: kept from one round of exchange to the next. */
import type { Design } from '../design/design.ts';
import type { Vec2 } from '../geometry/vector.ts';
import type { Symmetric3 } from './pose-information.ts';
import { formOf, informationOf, type Slot } from './slot.ts';

export class InformationTable {
  readonly #design: Design;
  /** By what slots of one reference have in common, then by place. */
  readonly #kept = new Map<string, Map<string, readonly Symmetric3[]>>();

  constructor(design: Design) {
    this.#design = design;
  }

  /** In the order of the angles. */
  at(slot: Slot, at: Vec2, angles: readonly number[], size: number): readonly Symmetric3[] {
    const group = `${slot.reference.id} ${slot.index ?? slot.focus} ${size} ${angles.length}`;
    const kept = this.#kept.get(group) ?? new Map<string, readonly Symmetric3[]>();
    this.#kept.set(group, kept);
    const key = `${at[0]} ${at[1]}`;
    const known = kept.get(key);
    if (known !== undefined) return known;
    const found = angles.map((angle) =>
      informationOf(this.#design, slot, at, angle, formOf(slot, at, angle, size)),
    );
    // A single angle is that of a patch in its place: cheap, and seldom asked twice.
    if (angles.length > 1) kept.set(key, found);
    return found;
  }
}
