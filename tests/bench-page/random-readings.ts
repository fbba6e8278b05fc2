/**
 * Texts of readings files as an operator could have written them: what random misalignments of the part and of references on mounts of their
 * own show, with an eye's noise, in every form that `steer` takes; some with a slip. Fringes, um, hours.
 */
import { type Random, randomFrom } from '../../src/algebra/random.ts';
import type { Design, DesignedPatch } from '../../src/design/design.ts';
import { cross, dot, type Vec3 } from '../../src/geometry/vector.ts';
import { kindOf } from '../../src/kinds/kinds.ts';
import { movesWithPart } from '../../src/kinds/reference.ts';
import { sensesOf } from '../../src/metrology/sensing/sensitivity.ts';
import { ORIENTATIONS } from '../../src/scenario/camera-orientation.ts';

/** Standard deviations of the misalignment, mm and rad, and of a count, fringes. */
const SHIFT = 2e-3;
const TURN = 2e-5;
const NOISE = 0.04;
/** Share of the sets in which one count is a whole fringe off. */
const SLIPS = 0.04;

/** `count` texts; the same ones in every run. */
export function randomReadings(design: Design, seed: string, count: number): readonly string[] {
  const random = randomFrom(seed);
  return Array.from({ length: count }, () => oneSet(design, random));
}

function oneSet(design: Design, random: Random): string {
  const often = (share: number): boolean => random.uniform() < share;
  const vector = (size: number): Vec3 => [
    size * random.normal(),
    size * random.normal(),
    size * random.normal(),
  ];
  const [shift, turn] = [vector(SHIFT), vector(TURN)];
  const { origin } = design.scenario.part.frame;
  const moved = new Map(
    design.references.map((reference) => {
      const arm = reference.at.map((value, axis) => value - origin[axis]!) as unknown as Vec3;
      const own = vector(SHIFT);
      const carried = cross(turn, arm).map((value, axis) => value + shift[axis]!) as unknown as Vec3;
      return [reference.id, movesWithPart(reference) ? carried : own];
    }),
  );
  const { view, turned, mirrored } = ORIENTATIONS[Math.floor(8 * random.uniform())]!;
  const read = design.patches.filter(
    ({ reference }) => kindOf(reference).words.noCount === undefined && !often(0.15),
  );
  const slipped = often(SLIPS) ? read[0] : undefined;
  const rows = read.map((patch) =>
    entryOf(design, patch, moved.get(patch.reference.id)!, random, patch === slipped),
  );
  const lengths = design.scenario.measurements.flatMap(({ id, reference, direction }) => {
    const deviation = 1e3 * dot(moved.get(reference)!, direction) + 0.5 * random.normal();
    return often(0.8) ? [`  - {measurement: ${id}, deviation_um: ${deviation.toFixed(2)}}`] : [];
  });
  const entries = [...rows, ...lengths];
  const [first] = design.patches.filter(({ reference }) => kindOf(reference).words.noCount === undefined);
  const some =
    entries.length > 0
      ? entries
      : [`  - {patch: ${first!.id}, fringes: ${first!.lineDirection === undefined ? '[1, 2]' : 1}}`];
  return `camera: {view: ${view}, turned: ${turned}, mirrored: ${mirrored}}\nreadings:\n${some.join('\n')}\n`;
}

function entryOf(
  design: Design,
  patch: DesignedPatch,
  moved: Vec3,
  random: Random,
  slipped: boolean,
): string {
  const often = (share: number): boolean => random.uniform() < share;
  const senses = sensesOf(design, patch);
  const seen = (perMm: number, direction: Vec3): string =>
    (perMm * dot(moved, direction) + NOISE * random.normal() + (slipped ? 1 : 0)).toFixed(2);
  const tilts = senses
    .filter(({ kind }) => kind === 'tilt')
    .map((one) => seen(one.fringesPerMm, one.direction));
  const power = senses.find(({ kind }) => kind === 'power');
  const isRing = senses.length === 0;
  const ring = (): string => (0.5 * random.normal()).toFixed(2);
  const counts = isRing ? [ring(), ring()] : tilts;
  const isLine = counts.length === 1;
  const hour = (0.5 + 11.5 * random.uniform()).toFixed(1);
  const asSeen = !isLine && !isRing && often(0.1);
  return `  - {${[
    `patch: ${patch.id}`,
    asSeen
      ? `fringes: ${Math.abs(Number(counts[0]))}, toward: ${hour}`
      : `fringes: ${isLine ? counts[0] : `[${counts[0]}, ${often(0.1) ? '~' : counts[1]}]`}`,
    ...(power !== undefined && often(0.6) ? [`power: ${seen(power.fringesPerMm, power.direction)}`] : []),
    ...(isRing && often(0.5) ? [`power: ${ring()}`] : []),
    ...(often(0.3) ? [`uncertainty: ${(0.05 + 0.3 * random.uniform()).toFixed(2)}`] : []),
    ...(!asSeen && often(0.05) ? ['sign: unknown'] : []),
  ].join(', ')}}`;
}
