/** What a layout tells of the part's pose, by the readings of its patches and of those that stand already: summed by reference. mm, radians. */
import type { Design } from '../design/design.ts';
import { rotateBack } from '../geometry/frame.ts';
import { isReadBy } from '../kinds/kinds.ts';
import { movesWithPart } from '../kinds/reference.ts';
import { readingsOf } from '../metrology/budget/readings.ts';
import { partRow } from '../metrology/budget/wave-error.ts';
import type { Reference } from '../scenario/scenario.ts';
import {
  addReading,
  addRow,
  addToPose,
  type Carried,
  carriedBy,
  figureSquareOf,
  noInformation,
  type PoseScore,
  poseScore,
  type Symmetric3,
  variancesOf,
  type Wishes,
} from './pose-information.ts';
import type { Placement, Slot } from './slot.ts';
import { COMPARED, type Work } from './work.ts';

export interface WholeBudget {
  /** Combined, of the six degrees, mm and rad; null where not observed. */
  readonly sigmas: readonly (number | null)[];
  /** What misalignment is expected to leave in the figure over what `test.figure` allows, what no reading sees set by eye; null where it does not say. */
  readonly left: number | null;
}

export class LayoutPose {
  readonly #references: readonly Reference[];
  readonly #placements: ReadonlyMap<Slot, Placement>;
  readonly #wishes: Wishes;
  readonly #work: Work;
  /** What the given patches and measurements tell, by reference. */
  readonly #given = new Map<string, Symmetric3>();
  readonly #carried = new Map<string, Carried>();
  /** What light at normal incidence on features tells of the six degrees: their own readings, on no seat and with no apex; 6 × 6 row-major. */
  readonly #square = new Float64Array(36);

  /** `placements` is looked at anew for each answer. */
  constructor(
    design: Design,
    references: readonly Reference[],
    placements: ReadonlyMap<Slot, Placement>,
    wishes: Wishes,
    work: Work,
  ) {
    this.#references = references;
    this.#placements = placements;
    this.#wishes = wishes;
    this.#work = work;
    for (const reference of references) {
      this.#carried.set(reference.id, carriedBy(design, reference));
      this.#given.set(reference.id, noInformation());
    }
    const { rotation } = design.scenario.part.frame;
    for (const reading of readingsOf(design)) {
      const { reference, direction, u } = reading;
      if (isReadBy(reference, 'modes')) addRow(this.#square, partRow(design, reading), 1 / (u * u));
      else addReading(this.#given.get(reference.id)!, rotateBack(rotation, direction), 1 / (u * u));
    }
  }

  score(): PoseScore {
    return poseScore(this.#pose(), this.#wishes);
  }

  /** Takes over what the whole budget makes of the pose. */
  reckonWith({ sigmas, left }: WholeBudget): void {
    const pose = this.#pose();
    const { figure } = this.#wishes;
    if (figure !== undefined)
      figure.besides = Math.max(0, (left ?? 0) ** 2 - figureSquareOf(pose, this.#wishes));
    const own = variancesOf(pose, this.#wishes);
    sigmas.forEach((sigma, degree) => {
      if (sigma !== null) this.#wishes.besides[degree] = Math.max(0, sigma * sigma - own[degree]!);
    });
  }

  /** How the pose stands with a slot's information added to that of all other slots. */
  scorer(slot: Slot): (information: Symmetric3) => PoseScore {
    const base = this.#without(slot.reference.id);
    const own = this.#informationOf(slot.reference.id, slot);
    const carried = this.#carried.get(slot.reference.id)!;
    return (information) => {
      POSE.set(base);
      for (let k = 0; k < 6; k++) SUM[k] = own[k]! + information[k]!;
      addToPose(POSE, SUM, carried);
      return poseScore(POSE, this.#wishes);
    };
  }

  /** From the references that move with the part; where none does, from all of them as if they did, so that each gets its patches. */
  #pose(): Float64Array {
    const carried = this.#references.filter(movesWithPart);
    return this.#without(undefined, carried.length > 0 ? carried : this.#references);
  }

  #without(reference: string | undefined, references = this.#references): Float64Array {
    this.#work.spend((this.#placements.size + this.#references.length) * COMPARED);
    const planned = new Map<string, Symmetric3>();
    for (const { slot, information } of this.#placements.values()) {
      const { id } = slot.reference;
      const sum = planned.get(id) ?? this.#given.get(id)!.slice();
      planned.set(id, sum);
      for (let k = 0; k < 6; k++) sum[k]! += information[k]!;
    }
    const pose = this.#square.slice();
    for (const { id } of references) {
      if (id === reference) continue;
      addToPose(pose, planned.get(id) ?? this.#given.get(id)!, this.#carried.get(id)!);
    }
    return pose;
  }

  #informationOf(reference: string, without: Slot): Symmetric3 {
    const sum = this.#given.get(reference)!.slice();
    for (const { slot, information } of this.#placements.values()) {
      if (slot === without || slot.reference.id !== reference) continue;
      for (let k = 0; k < 6; k++) sum[k]! += information[k]!;
    }
    return sum;
  }
}

/** Worked in by every score, one after the other. */
const POSE = new Float64Array(36);
const SUM = new Float64Array(6);
