/**
 * Patches in frames traced by independent code, seen as a camera may see them, are read as what they show: signs, uncertainties, faults. A few
 * frames of each kind; two thousand patches are in readings.long.ts. Fringes.
 */
import { describe, expect, it } from 'vitest';
import { unsureWords } from '../../../src/writing/frame/fault-words.ts';
import { SIXTEEN } from '../../independent/camera-seen.ts';
import { deviates } from '../../independent/random.ts';
import { flat, type Judged } from './support/judged.ts';
import { goodOf, readTaken } from './support/read-taken.ts';
import { ballScene, type FrameScene, lineScene, ringScene } from './support/scenes.ts';
import { randomOff, type Spoiled, taker } from './support/taken.ts';

const PIXELS = 420;
const PLAIN = { pixels: PIXELS, noise: 0.03, distortion: 0.03 };
/** Standard uncertainties: of some twenty values one may be beyond the first, none beyond the second. */
const USUAL = 3;
const MOST = 6;

const CASES: readonly (readonly [string, (random: ReturnType<typeof deviates>) => FrameScene, number])[] = [
  ['line foci with roofs', (random) => lineScene(random, 8), 11],
  ['balls', (random) => ballScene(random, 10), 12],
  ['rings', ringScene, 13],
];

describe.each(CASES)('frames of %s', (_, make, seed) => {
  const random = deviates(seed);
  const scene = make(random);
  const take = taker(scene);
  const off = randomOff(scene.design, random);
  const read = (k: number): readonly Judged[] =>
    readTaken(scene.design, take(random, off, { ...PLAIN, turn: SIXTEEN[k]! }), { belowBias: true }) ?? [];

  it.each([5, 14])('in orientation %i are read within their uncertainties', (k) => {
    const good = goodOf(read(k));
    expect(good.length).toBeGreaterThanOrEqual(0.8 * scene.design.patches.length);
    const over = flat(good, 'over').map(Math.abs);
    expect(over.filter((each) => each > USUAL).length).toBeLessThanOrEqual(Math.ceil(over.length / 20));
    expect(Math.max(...over)).toBeLessThan(MOST);
    expect(good.filter(({ isReversed }) => isReversed)).toEqual([]);
  });
});

describe('a patch that cannot be read', () => {
  const random = deviates(21);
  const scene = lineScene(random, 8);
  const take = taker(scene);
  const off = randomOff(scene.design, random);
  const read = (spoil: (k: number) => Spoiled | undefined, more = {}): readonly Judged[] =>
    readTaken(scene.design, take(random, off, { ...PLAIN, ...more }, spoil)) ?? [];
  const faultsOf = ({ reading }: Judged): readonly string[] => reading.faults;

  it('says so where its light does not come back, and where its fringes are washed out', () => {
    const all = read((k) => (k === 1 ? 'dark' : k === 4 ? 'no-fringes' : undefined));
    for (const k of [1, 4]) {
      expect(all[k]!.reading.values).toEqual([undefined]);
      expect(faultsOf(all[k]!).some((fault) => fault === 'dark' || fault === 'washed-out')).toBe(true);
      expect(unsureWords(all[k]!.reading).remedy).toMatch(/nothing blocks the light/);
    }
    expect(goodOf(all)).toHaveLength(6);
  });

  it('says that it is too bright', () => {
    const all = read(() => undefined, { level: 1.6 });
    expect(all.filter((one) => !faultsOf(one).includes('saturated'))).toEqual([]);
    expect(goodOf(all)).toEqual([]);
  });

  it('says that fringes are closer than its pixels', () => {
    const far = randomOff(scene.design, random, 70);
    const { patches, ...taken } = take(random, far, PLAIN);
    const all = readTaken(scene.design, { ...taken, patches }) ?? [];
    const close = all.filter(({ truth }) => Math.abs(truth[0]!) > 0.6 * 9 * (PIXELS / 150));
    expect(goodOf(close)).toEqual([]);
    // Some leave moiré, some are washed out to none.
    for (const { reading } of close) {
      const { seen, remedy } = unsureWords(reading);
      expect(`${seen}; ${remedy}`).toMatch(/(closer|finer) than the pixels/);
    }
    expect(all.filter(({ isReversed }) => isReversed)).toEqual([]);
  });
});
