/**
 * Each ray of the null, traced forward from the beam through the pattern's own phase, meets the surface square on and comes back on itself to
 * the source: within a microradian and what that is at the ends of its way. Places are drawn over the footprint. mm, rad.
 */
import { describe, expect, it } from 'vitest';
import type { MainPattern } from '../../src/design/main-pattern.ts';
import { type NullBench, nullRay } from '../independent/null-ray.ts';
import { gridIn } from '../independent/outline-points.ts';
import { followedBack } from '../independent/surface-sheets.ts';
import * as freeform from './support/freeform-cases.ts';
import { designOf, glassAfter, pointsOf, sheetOf } from './support/null-bench.ts';
import { CASES, GLASS } from './support/null-cases.ts';

const WAVELENGTH = 632.8e-6;
/** Of a ray against the normal, and of the way home against the way to the source, rad. */
const MICRORADIAN = 1e-6;

interface Traced {
  readonly what: string;
  readonly design: () => MainPattern;
  readonly bench: Omit<NullBench, 'phase' | 'wavelength'>;
  readonly aperture: readonly (readonly [number, number])[];
}

const TRACED: readonly Traced[] = [
  ...CASES.map((one): Traced => {
    const { focus, order } = one;
    const before = one.glass === 'part' ? GLASS : undefined;
    return {
      what: one.what,
      design: () => designOf(one).main!,
      bench: { focus, order, sheet: sheetOf(one), before, after: glassAfter(one) },
      aperture: pointsOf(one.aperture),
    };
  }),
  ...freeform.CASES.map(({ what, words, height, glass }): Traced => {
    const { toSubstrate, FOCUS: focus, places, designOf: made } = freeform;
    return {
      what: `freeform: ${what}`,
      design: () => made(words, glass).main!,
      bench: { focus, order: 1, sheet: { height, toSubstrate }, after: glass ? freeform.GLASS : undefined },
      aperture: places,
    };
  }),
];

describe.each(TRACED)('$what', ({ design, bench, aperture }) => {
  it('is met square on to a microradian, and sends each ray back on itself to the source', () => {
    const { phase, footprint } = design();
    const whole = { ...bench, wavelength: WAVELENGTH, phase: (x: number, y: number) => phase.phase(x, y) };
    const known = aperture.map((on) => ({ on, at: followedBack(bench.sheet, ...on, bench.after).on }));
    const places = gridIn(footprint, 9);
    expect(places.length).toBeGreaterThan(30);
    for (const [x, y] of places) {
      const near = known.reduce((best, one) =>
        Math.hypot(one.at[0] - x, one.at[1] - y) < Math.hypot(best.at[0] - x, best.at[1] - y) ? one : best,
      );
      const { aslant, aside, astray, on } = nullRay(whole, x, y, near.on);
      expect(aslant).toBeLessThan(MICRORADIAN);
      expect(astray).toBeLessThan(MICRORADIAN);
      // Mirrored, twice the angle over the way from the surface.
      const [px, py, pz] = bench.sheet.toSubstrate([...on, bench.sheet.height(...on)]);
      expect(aside).toBeLessThan(2 * MICRORADIAN * Math.hypot(px - x, py - y, pz));
    }
  });
});
