/** A bench for the tests: an example's design, and what its camera shows with the part displaced, rounded as an operator would. */
import { readFileSync } from 'node:fs';
import type { Random } from '../../../src/algebra/random.ts';
import type { Design } from '../../../src/design/design.ts';
import { designScenario } from '../../../src/design/design-scenario.ts';
import { sensesOf } from '../../../src/metrology/sensing/sensitivity.ts';
import { type FringesWhenMoved, tracedFringes } from '../../../src/metrology/sensing/traced-readings.ts';
import { steer } from '../../../src/metrology/steering/steering.ts';
import {
  type Displacement,
  displacementOf,
  moveWithPart,
} from '../../../src/metrology/steering/steering-part.ts';
import { readScenario } from '../../../src/reading/scenario/read-scenario.ts';
import type { BenchReading } from '../../../src/scenario/bench-reading.ts';

export function exampleDesign(name: string): Design {
  const { scenario, findings } = readScenario(readFileSync(`examples/${name}.yaml`, 'utf8'), name);
  if (scenario === undefined) throw new Error(JSON.stringify(findings));
  const result = designScenario(scenario);
  if (!('design' in result)) throw new Error(JSON.stringify(result.findings));
  return result.design;
}

export class Bench {
  readonly design: Design;
  readonly #traces: ReadonlyMap<string, FringesWhenMoved>;

  constructor(design: Design) {
    this.design = design;
    this.#traces = new Map(design.patches.map((patch) => [patch.id, tracedFringes(design, patch)!]));
  }

  /** With `round` fringes as the finest that is read; 0 reads all. */
  read(part: Displacement, round = 0.1): BenchReading[] {
    return this.design.patches.map(({ id, reference }): BenchReading => {
      const fringes = this.#traces.get(id)!(moveWithPart(this.design, part, reference.at))!.map((value) =>
        round > 0 ? Math.round(value / round) * round : value,
      );
      return { kind: 'fringes', patch: id, fringes, signKnown: true, uncertainty: undefined };
    });
  }

  /** The largest reading as a share of what its patch can show: 1 at the edge of the capture range. */
  shareOfCapture(part: Displacement): number {
    const shares = this.design.patches.flatMap((patch) => {
      const seen = this.#traces.get(patch.id)!(moveWithPart(this.design, part, patch.reference.at))!;
      return sensesOf(this.design, patch).map(({ fringesPerMm, captureRange }, k) =>
        Math.abs(seen[k]! / (fringesPerMm * captureRange)),
      );
    });
    return Math.max(...shares);
  }

  /** A random displacement that brings some patch to this share of its capture range. */
  displaced(share: number, size: number, random: Random): Displacement {
    const draw = (): number => 2 * random.uniform() - 1;
    const small = 1e-3;
    const [x, y, z, a, b, c] = [draw(), draw(), draw(), draw(), draw(), draw()];
    const scaled = (by: number): Displacement => ({
      translation: [x * by, y * by, z * by],
      rotation: [(a * by) / size, (b * by) / size, (c * by) / size],
    });
    return scaled((share * small) / this.shareOfCapture(scaled(small)));
  }
}

/** What one reading, one steering and one move leave of a displacement, each over its stated standard uncertainty. */
export function residualAfterMove(
  bench: Bench,
  part: Displacement,
): { readonly left: Displacement; readonly overSigma: readonly number[]; readonly exact: boolean } {
  const { part: steered } = steer(bench.design, bench.read(part));
  const { solution } = steered.candidates[0]!;
  const found = displacementOf(solution.unknowns, steered.pose.size);
  const minus = (a: Displacement['translation'], b: Displacement['translation']) =>
    [a[0] - b[0], a[1] - b[1], a[2] - b[2]] as const;
  const left = {
    translation: minus(part.translation, found.translation),
    rotation: minus(part.rotation, found.rotation),
  };
  const overSigma = [...left.translation, ...left.rotation].map((value, k) =>
    Math.abs(value / steered.uncertainty.sigma[k]!),
  );
  return { left, overSigma, exact: solution.exact };
}
