/** The rules of a single patch, asked exactly and once for each place; and how often each struck a place off. */
import type { Design } from '../design/design.ts';
import { designPatch } from '../design/design-patch.ts';
import { setupOf } from '../design/setup.ts';
import type { Finding } from '../finding/finding.ts';
import { RULES } from '../rules/all-rules.ts';
import type { Reference } from '../scenario/scenario.ts';
import { type Placement, patchOf } from './slot.ts';
import { CHECKED, CHECKED_BODY, type Work } from './work.ts';

/** Rules that a place of a patch is asked for, the cheap ones first. */
const OF_A_PLACE = RULES.filter(({ planning }) => planning.rank !== undefined).sort(
  (a, b) => a.planning.rank! - b.planning.rank!,
);

export class PatchCheck {
  /** By reference, then by rule. */
  readonly struckOff = new Map<string, Map<string, number>>();
  /** By reference, then by rule: of all that broke it, what came nearest to keeping it. */
  readonly nearest = new Map<string, Map<string, Finding>>();
  readonly #design: Design;
  readonly #references: readonly Reference[];
  /** Patches that the planner adds for one reference are alike: what holds of a place for one of them holds for all. */
  readonly #verdicts = new Map<string, string | undefined>();
  readonly #work: Work;
  readonly #cost: number;

  constructor(design: Design, references: readonly Reference[], work: Work) {
    this.#design = design;
    this.#references = references;
    this.#work = work;
    const { obstacles, part } = design.scenario;
    this.#cost = CHECKED + CHECKED_BODY * (references.length + obstacles.length + part.envelope.length);
  }

  /** False, too, where there is no work left to ask. */
  passes(placement: Placement): boolean {
    const { slot, centre, angle, size } = placement;
    const key = `${slot.reference.id} ${slot.index ?? ''} ${centre[0]} ${centre[1]} ${angle.toFixed(6)} ${size}`;
    if (!this.#verdicts.has(key)) {
      if (this.#work.isSpent) return false;
      this.#work.spend(this.#cost);
      const broken = this.#brokenRule(placement);
      this.#verdicts.set(key, broken);
      if (broken !== undefined) this.strike(slot.reference.id, broken);
    }
    return this.#verdicts.get(key) === undefined;
  }

  strike(reference: string, rule: string): void {
    const counts = this.struckOff.get(reference) ?? new Map<string, number>();
    this.struckOff.set(reference, counts.set(rule, (counts.get(rule) ?? 0) + 1));
  }

  #brokenRule(placement: Placement): string | undefined {
    const design = this.#design;
    const patch = patchOf(placement);
    const { scenario, beam, glass, light } = design;
    const setup = setupOf(scenario, beam, glass);
    const designed = designPatch(patch, placement.slot.reference, setup, light.wavelength);
    const alone: Design = { ...design, references: this.#references, patches: [designed] };
    for (const { code, find } of OF_A_PLACE) {
      const broken = find(alone).find(({ patches }) => patches?.includes(patch.id));
      if (broken === undefined) continue;
      this.#keepNearest(patch.reference, broken);
      return code;
    }
    return undefined;
  }

  #keepNearest(reference: string, found: Finding): void {
    const byRule = this.nearest.get(reference) ?? new Map<string, Finding>();
    this.nearest.set(reference, byRule);
    const before = byRule.get(found.rule);
    if (before === undefined || offLimit(found) < offLimit(before)) byRule.set(found.rule, found);
  }
}

/** Infinity where a rule gives no figures. */
const offLimit = ({ value, limit }: Finding): number =>
  value === undefined || limit === undefined ? Infinity : Math.abs(value - limit);
