/**
 * Rule feature-too-small at its limit. The period where the light turns from the lateral direction cosine p to q is |m|λ/|q − p|
 * (grating equation); a feature is the smaller of the written and the unwritten share of it. mm inside, µm as reported.
 */
import { normed, refract, toPlane } from '../../independent/ray.ts';
import type { Words } from '../../metrology/support/design-from.ts';
import { type Table, table } from '../support/fact.ts';
import { RULE } from '../support/rule-codes.ts';

/** λ = 600 nm, and a corner at (18, 24) that sees a ball at z = 40 under sin θ = 3/5: a period of 1 µm there, and nowhere less. */
const LAMBDA = 600e-6;
const base: Words = {
  light: { wavelength: '600 nm' },
  interferometer: { collimated: true },
  references: [{ id: 'r', kind: 'ball', diameter: 12, at: [0, 0, 40] }],
  patches: [
    {
      id: 'p',
      reference: 'r',
      focus: 'point',
      centre: [13, 19],
      outline: { rectangle: { width: 10, height: 10 } },
    },
  ],
};
const [plain] = base.patches as readonly Words[];
const written = (minFeature: number, more: Words = {}, process: Words = {}): Words => ({
  ...base,
  ...more,
  process: { minFeature: `${minFeature} um`, ...process },
});
/** Of the least feature: what the search for the least period is right to. */
const SEARCHED = 1e-5;

/** Just under, and just over, a patch's least feature in µm. */
const around = (feature: number, more: Words = {}, process: Words = {}) =>
  [
    [
      `${feature.toFixed(3)} µm: a process that writes a little finer`,
      written(feature * (1 - SEARCHED), more, process),
      [],
    ],
    [
      `${feature.toFixed(3)} µm: a process that writes a little coarser`,
      written(feature * (1 + SEARCHED), more, process),
      [
        {
          where: 'p',
          value: feature,
          limit: feature * (1 + SEARCHED),
          within: feature * SEARCHED,
        },
      ],
    ],
  ] as const;

const limits = { rule: RULE.feature, severity: 'error', unit: 'um' } as const;

const DUTY = table('duty cycle', limits, () => {
  return [
    ['a half: a feature of 0.5 µm at a limit of 0.5 µm', written(0.5), []],
    ...around(0.5),
    ...around(0.3, {}, { dutyCycle: 0.3 }),
    ...around(0.3, {}, { dutyCycle: 0.7 }),
    ...around(0.1, {}, { dutyCycle: 0.9, kind: 'chrome' }),
    [
      'where nothing is said of the process: 1 µm and half of a period',
      base,
      [{ where: 'p', value: 0.5, limit: 1 }],
    ],
    [
      'the period, its place and the limit are told',
      written(0.4, {}, { dutyCycle: 0.7 }),
      [
        {
          where: 'p',
          limit: 0.4,
          figures: ['0.3 µm', 'period 1 µm', 'x 18 mm', 'y 24 mm', '0.4 µm'],
        },
      ],
    ],
    ['order 2 has features of 1 µm', { ...base, patches: [{ ...plain, order: 2 }] }, []],
  ];
});

/** The largest of a function over a 10 mm square about (13, 19), by a grid with its corners. */
function steepest(cosines: (x: number, y: number) => number): number {
  let most = 0;
  for (let i = 0; i <= 20; i++)
    for (let j = 0; j <= 20; j++) most = Math.max(most, cosines(8 + i / 2, 14 + j / 2));
  return most;
}
const featureOf = (cosines: (x: number, y: number) => number, order = 1): number =>
  (0.5 * Math.abs(order) * LAMBDA * 1000) / steepest(cosines);

type Pair = readonly [number, number];
const apart = (a: Pair, b: Pair): number => Math.hypot(a[0] - b[0], a[1] - b[1]);
/** Lateral direction cosines from (x, y, 0) to a place. */
const toward = (x: number, y: number, place: readonly [number, number, number]): Pair => {
  const [dx, dy, dz] = [place[0] - x, place[1] - y, place[2]];
  const way = Math.hypot(dx, dy, dz);
  return [dx / way, dy / way];
};

const ORDERS = table('orders and beams', limits, () => {
  const order = (m: number): Words => ({ patches: [{ ...plain, order: m }] });
  const diverging = featureOf((x, y) => {
    const back = toward(x, y, [0, 0, -70]);
    return apart(toward(x, y, [0, 0, 40]), [-back[0], -back[1]]);
  });
  // A line along x at height 40 mm: the light runs square to it, in planes of constant x.
  const line = featureOf((_x, y) => y / Math.hypot(y, 40));
  // Glass after the pattern: the angle in air at which a ray reaches the ball's centre, by bisection of a traced ray.
  const glass = { thickness: 20, index: 1.5, patternFaces: 'interferometer' };
  const throughGlass = featureOf((x, y) => {
    const away = Math.hypot(x, y);
    let [low, high] = [0, 1];
    for (let k = 0; k < 50; k++) {
      const sine = (low + high) / 2;
      const air = normed([sine, 0, Math.sqrt(1 - sine * sine)]);
      const leaves = toPlane([0, 0, 0], refract(air, 1, 1.5), 20).at;
      if (toPlane(leaves, air, 40).at[0] < away) low = sine;
      else high = sine;
    }
    return low;
  });
  return [
    ...around(1, order(2)),
    ...around(0.5, order(-1)),
    ...around(1.5, order(-3)),
    ...around(diverging, { interferometer: { focus: [0, 0, -70] } }),
    ...around(line, {
      references: [{ id: 'r', kind: 'smr', diameter: 38.1, at: [13, 0, 40] }],
      patches: [{ ...plain, focus: 'line', lineAngle: 0 }],
    }),
    ...around(throughGlass, { substrate: { outline: { circle: { diameter: 150 } }, ...glass } }),
  ];
});

const BIASED = table('a bias adds its own slope', limits, () => {
  // Of N fringes seen after two passages, N/2 waves over the width of a tilt, or from the ridge to the edge of a roof, add to Φ.
  const biased = (fringes: number, shape: string, direction: number): Words => ({
    patches: [{ ...plain, bias: { shape, fringes, direction } }],
  });
  const slope = (fringes: number, reach: number): number => (fringes / (2 * reach)) * LAMBDA;
  const tilted = featureOf((x, y) => apart(toward(x, y, [0, 0, 40]), [-slope(400, 10), 0]));
  // Φ rises along +x, and to either side of the roof's ridge at y = 19: there the light is turned by λ∇B.
  const roofed = featureOf((x, y) =>
    apart(toward(x, y, [0, 0, 40]), [0, y > 19 ? -slope(400, 5) : slope(400, 5)]),
  );
  return [...around(tilted, biased(400, 'tilt', 0)), ...around(roofed, biased(400, 'roof', 90))];
});

export const FEATURES: readonly Table[] = [DUTY, ORDERS, BIASED];
