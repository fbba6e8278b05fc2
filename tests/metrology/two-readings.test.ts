/**
 * Beside a tilt bias a frame shows n and, alike, −n − 2B, with the power's sign turned: of such a pair `steer` takes either, and the other
 * readings, a trial move or the round before tell which. Three balls on a part, each with a bias of one fringe; what they show is traced by
 * independent code. Fringes, mm, rad.
 */
import { describe, expect, it } from 'vitest';
import { movesWithPart } from '../../src/kinds/reference.ts';
import { settledSigns } from '../../src/metrology/steering/settled-signs.ts';
import { steer } from '../../src/metrology/steering/steering.ts';
import { displacementOf } from '../../src/metrology/steering/steering-part.ts';
import { askedMoves } from '../../src/metrology/steering/told-moves.ts';
import type { BenchReading } from '../../src/scenario/bench-reading.ts';
import { after, type Pose, rotationAbout } from '../independent/stage-operator.ts';
import { tracedBench } from './frame/support/traced-bench.ts';
import { exampleDesign } from './support/bench.ts';
import { designFrom, pointPatch } from './support/design-from.ts';

const design = exampleDesign('diverging-balls');
const bench = tracedBench(design);
const UNCERTAINTY = 0.005;

/** A bias along a direction makes the path rise toward it, which counts as −1 along it: −n − 2B by hand. */
const OTHER: Readonly<Record<string, readonly [number, number]>> = {
  top: [2, 0],
  left: [-1, Math.sqrt(3)],
  right: [-1, -Math.sqrt(3)],
};

const pose = (x: number, y: number, z: number, angle: number): Pose => ({
  rotation: rotationAbout([0, 0, 1], angle),
  shift: [x, y, z],
});
const OFF = pose(0.002, -0.001, 0.004, 2e-5);

/** `swapped`: patches whose second reading is the right one; `known`: those that are read with their sign. */
function readings(
  part: Pose,
  { swapped = [], known = [] }: { swapped?: readonly string[]; known?: readonly string[] } = {},
): BenchReading[] {
  return bench({ part }).map(({ id, truth }): BenchReading => {
    const [a, b, power] = truth as [number, number, number];
    const [c, d] = OTHER[id]!;
    const pair = [truth, [c - a, d - b, -power]];
    const [fringes, or] = swapped.includes(id) ? pair.toReversed() : pair;
    const whole = { kind: 'fringes', patch: id, uncertainty: UNCERTAINTY } as const;
    if (known.includes(id)) return { ...whole, fringes: truth, signKnown: true };
    return { ...whole, fringes: fringes!, or: or!, signKnown: false };
  });
}
const ids = design.patches.map(({ id }) => id);
const asRead = (some: readonly BenchReading[]): unknown =>
  some.map((one) => (one.kind === 'fringes' ? [one.patch, one.fringes, one.signKnown] : one));
const truthAt = (part: Pose): unknown => asRead(readings(part, { known: ids }));

it('is a bench whose part carries three balls', () => {
  expect(Object.keys(OTHER)).toEqual(ids);
  expect(design.references.every(movesWithPart)).toBe(true);
});

/** A ball that two patches look at, with biases along and across. */
const double = designFrom({
  references: [{ id: 'near', kind: 'ball', diameter: 12.7, at: [20, 60, 110] }],
  patches: [
    { ...pointPatch('along', 'near', [10, 40], 12), bias: { shape: 'tilt', fringes: 6, direction: '0 deg' } },
    {
      ...pointPatch('across', 'near', [30, 40], 12),
      bias: { shape: 'tilt', fringes: 6, direction: '90 deg' },
    },
  ],
});

describe('a pair of readings', () => {
  it.each([
    [1, 1],
    [1, -1],
    [-1, 1],
    [-1, -1],
  ] as const)('is decided by the other readings, whichever comes first (%d, %d)', (...right) => {
    const truths = tracedBench(double)({ own: new Map([['near', [0.004, -0.003, 0.02]]]) });
    const given = truths.map(({ id, truth: [a, b, power] }, k): BenchReading => {
      const [c, d] = id === 'along' ? [12, 0] : [0, 12];
      const pair = [[a, b, power] as const, [c - a!, d - b!, -power!] as const] as const;
      const [fringes, or] = right[k]! > 0 ? pair : [pair[1], pair[0]];
      return { kind: 'fringes', patch: id, fringes, or, signKnown: false, uncertainty: 0.02 };
    });
    const [near] = steer(double, given).references;
    expect(near!.candidates.map(({ signs }) => [...signs.values()])).toEqual([right]);
    const [x, y, z] = near!.candidates[0]!.solution.unknowns;
    expect(Math.hypot(x! - 0.004, y! + 0.003)).toBeLessThan(1e-4);
    expect(Math.abs(z! - 0.02)).toBeLessThan(1e-3);
  });

  it('is left open where all are alike, and the trial move shows what was told of the right one', () => {
    const before = steer(design, readings(OFF));
    const { part } = before;
    expect(part.candidates.length).toBeGreaterThan(1);
    const { translation, rotation } = displacementOf(part.trial!.unknowns, part.pose.size);
    const moved = after(OFF, {
      rotation: rotationAbout(
        rotation.map((angle) => angle / Math.hypot(...rotation)) as unknown as [number, number, number],
        Math.hypot(...rotation),
      ),
      shift: translation,
    });
    for (const [entry, { truth }] of bench({ part: moved }).entries()) {
      const { ifPlus, ifMinus } = part.trial!.expected.get(entry)!;
      const off = (told: typeof ifPlus): number =>
        Math.hypot(...told.map(({ fringes }, k) => fringes - truth[k]!));
      expect(off(ifPlus)).toBeLessThan(0.1);
      expect(off(ifMinus)).toBeGreaterThan(0.5);
    }
    const told = settledSigns(
      design,
      steer(design, readings(OFF)),
      undefined,
      readings(moved, { swapped: ids }),
    );
    expect(asRead(told.readings)).toEqual(truthAt(moved));
    expect([...told.settled.values()]).toEqual([-1, -1, -1]);
  });

  it.each([[[]], [ids]])('is told by what the moves asked for were to show (second: %j)', (swapped) => {
    const before = steer(design, readings(OFF, { known: ids }));
    const asked = askedMoves(before);
    const still = pose(0, 0, 0, 0);
    const told = settledSigns(design, before, asked, readings(still, { swapped }));
    expect(asRead(told.readings)).toEqual(truthAt(still));
  });

  it('is told by the round before where nothing was moved, and by nothing where something else was', () => {
    const before = steer(design, readings(OFF, { known: ids }));
    expect(asRead(settledSigns(design, before, undefined, readings(OFF, { swapped: ids })).readings)).toEqual(
      truthAt(OFF),
    );
    const elsewhere = readings(pose(-0.004, 0.003, 0, -6e-5));
    const told = settledSigns(design, before, undefined, elsewhere);
    expect([told.readings, told.settled.size]).toEqual([elsewhere, 0]);
  });
});

it('of a ball without a bias all three signs are the other way together', () => {
  const plain = designFrom({
    references: [{ id: 'near', kind: 'ball', diameter: 12.7, at: [20, 60, 110] }],
    patches: [pointPatch('p', 'near', [10, 40], 12)],
  });
  const unsigned: BenchReading = {
    kind: 'fringes',
    patch: 'p',
    fringes: [0.03, -0.02, 0.01],
    signKnown: false,
    uncertainty: undefined,
  };
  const [near] = steer(plain, [unsigned]).references;
  const [plus, minus] = near!.candidates.map(({ solution }) => solution.unknowns);
  expect(near!.candidates.map(({ signs }) => signs.get(0))).toEqual([1, -1]);
  for (const [k, value] of plus!.entries())
    expect(Math.abs(value + minus![k]!)).toBeLessThan(0.01 * Math.hypot(...plus!));
});
