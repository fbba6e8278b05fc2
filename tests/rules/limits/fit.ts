/**
 * Rule fit-residual around its limit. Light from the axis of a hollow cone of half-angle α has the phase ρ cos α/λ; a polynomial to
 * degree 20 holds ρ² to the tenth power. What is left of ρ over a ring is the rest of the Chebyshev series of √u, u = ρ², from the
 * inner edge to the outer (J. P. Boyd, Chebyshev and Fourier Spectral Methods, §2.12, from memory: the rest is close to the best there
 * is). Least squares leave up to twice as much at the edges. Waves, mm.
 */
import type { Words } from '../../metrology/support/design-from.ts';
import { type Fact, type Table, table } from '../support/fact.ts';
import { RULE } from '../support/rule-codes.ts';

const PROMISED = 1e-3;
const HALF_ANGLE = (80 * Math.PI) / 180;
const WAVES_PER_MM = Math.cos(HALF_ANGLE) / 632.8e-6;
const POWERS = 10;
const [TERMS, NODES] = [40, 2048];

const scene = (inner: number, outer: number): Words => ({
  part: {
    origin: [0, 0, 130],
    datums: { D: { cone: { apex: [0, 0, 40], axis: [0, 0, -1], angle: '160 deg', side: 'inside' } } },
  },
  references: [{ id: 'd', kind: 'datum', datum: 'D' }],
  patches: [
    {
      id: 'p',
      reference: 'd',
      focus: 'normal',
      centre: [0, 0],
      outline: { ring: { inner: 2 * inner, outer: 2 * outer } },
    },
  ],
});

/** The sum of the sizes of the terms of √u past `POWERS`, waves. */
function leftOver(inner: number, outer: number): number {
  const [middle, half] = [(outer ** 2 + inner ** 2) / 2, (outer ** 2 - inner ** 2) / 2];
  const angles = Array.from({ length: NODES }, (_, k) => (Math.PI * (k + 0.5)) / NODES);
  let sum = 0;
  for (let n = POWERS + 1; n < POWERS + TERMS; n++) {
    const term = angles.reduce(
      (total, t) => total + Math.sqrt(middle + half * Math.cos(t)) * Math.cos(n * t),
      0,
    );
    sum += Math.abs((2 * term) / NODES);
  }
  return WAVES_PER_MM * sum;
}

const misses = (inner: number, outer: number) => {
  const least = leftOver(inner, outer);
  return [{ where: 'p', value: 1.5 * least, within: 0.5 * least }];
};

const RINGS = table(
  'a ring from the axis of a cone',
  { rule: RULE.fit, severity: 'error', limit: PROMISED, unit: 'waves' },
  () => {
    const facts: Fact[] = [
      ['six times as wide across as its hole', scene(2.5, 15), misses(2.5, 15)],
      ['three times', scene(5, 15), misses(5, 15)],
      ['less than twice', scene(10, 18), []],
      ['narrow, however near the axis', scene(1, 1.2), []],
    ];
    return facts;
  },
);

export const FIT: readonly Table[] = [RINGS];
