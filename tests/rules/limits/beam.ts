/**
 * Rule unlit at its limit: every patch lies in the interferometer's beam. mm. The lit radius is where a marginal ray, which leaves
 * the focus at tan θ = 1/(2 f-number), meets the pattern: by similar triangles in air, by a traced ray through glass.
 */
import { normed, refract, toPlane, type Vector } from '../../independent/ray.ts';
import type { Words } from '../../metrology/support/design-from.ts';
import { type Table, table } from '../support/fact.ts';
import { RULE } from '../support/rule-codes.ts';

const LAW = { rule: RULE.unlit, severity: 'error', unit: 'mm' } as const;
const NM = 1e-6;
const RADIUS = 5;

interface Lit {
  readonly interferometer: Words;
  readonly substrate?: Words;
}

/** A round patch that reaches so far from the middle of the beam, in the direction of a 3-4-5 triangle. */
function reaching(
  reach: number,
  { interferometer, substrate }: Lit,
  middle: readonly [number, number] = [0, 0],
): Words {
  const distance = reach - RADIUS;
  return {
    interferometer,
    substrate: { outline: { circle: { diameter: 400 } }, ...substrate },
    references: [{ id: 'r', kind: 'ball', diameter: 12, at: [0, 0, 900] }],
    patches: [
      {
        id: 'p',
        reference: 'r',
        focus: 'point',
        centre: [middle[0] + 0.6 * distance, middle[1] - 0.8 * distance],
        outline: { circle: { diameter: 2 * RADIUS } },
      },
    ],
  };
}

/** A marginal ray from a focus `before` mm ahead of the pattern, through the glass that ends at it. */
function tracedRadius(before: number, fNumber: number, thickness: number, index: number): number {
  const direction = normed([1 / (2 * fNumber), 0, 1]);
  const entry = toPlane([0, 0, -before], direction, -thickness).at;
  return Math.abs(toPlane(entry, refract(direction, 1, index), 0).at[0]);
}

/** A converging beam's ray, aimed at a focus `behind` the pattern if there were no glass. */
function convergingRadius(behind: number, fNumber: number, thickness: number, index: number): number {
  const slope = 1 / (2 * fNumber);
  const entry: Vector = [(behind + thickness) * slope, 0, -thickness];
  return toPlane(entry, refract(normed([-slope, 0, 1]), 1, index), 0).at[0];
}

const GLASS = { thickness: 12, index: 1.8 };
const diverging: Lit = { interferometer: { focus: [0, 0, -500], fNumber: 3.2 } };
const converging: Lit = { interferometer: { focus: [0, 0, 400], fNumber: 4 } };
const collimated: Lit = { interferometer: { collimated: true, beamDiameter: 100 } };

const BEAMS: readonly (readonly [string, Lit, number])[] = [
  ['a diverging beam: 500 mm at f/3.2', diverging, 78.125],
  ['a converging beam: 400 mm at f/4', converging, 50],
  ['a collimated beam of 100 mm', collimated, 50],
  [
    'a diverging beam through glass before the pattern',
    { ...diverging, substrate: GLASS },
    tracedRadius(500, 3.2, 12, 1.8),
  ],
  [
    'a fast beam through the same glass',
    { interferometer: { focus: [0, 0, -60], fNumber: 0.7 }, substrate: GLASS },
    tracedRadius(60, 0.7, 12, 1.8),
  ],
  [
    'a converging beam through glass before the pattern',
    { ...converging, substrate: GLASS },
    convergingRadius(400, 4, 12, 1.8),
  ],
  [
    'glass after the pattern, which changes nothing',
    { ...diverging, substrate: { ...GLASS, patternFaces: 'interferometer' } },
    78.125,
  ],
];

const EDGES = BEAMS.map(([about, lit, radius]) =>
  table(about, LAW, () => {
    const said = (value: number) => [{ where: 'p', value, limit: radius }];
    return [
      ['a patch that ends a nanometre inside its edge is lit', reaching(radius - NM, lit), []],
      ['a patch that ends at its edge is lit', reaching(radius, lit), []],
      ['a patch that ends a nanometre outside is not', reaching(radius + NM, lit), said(radius + NM)],
      ['a patch wholly outside is not', reaching(radius + 30, lit), said(radius + 30)],
    ];
  }),
);

const BOUNDS = table('the beam’s middle and bounds', LAW, () => {
  const aside: Lit = { interferometer: { focus: [6, -8, -500], fNumber: 5 } };
  const square = (corner: number): Words => ({
    ...reaching(0, collimated),
    patches: [
      {
        id: 'p',
        reference: 'r',
        focus: 'point',
        centre: [corner - 5, 40 - 5],
        outline: { rectangle: { width: 10, height: 10 } },
      },
    ],
  });
  return [
    ['a beam off the axis is counted from its own middle', reaching(50, aside, [6, -8]), []],
    [
      'a nanometre outside of it',
      reaching(50 + NM, aside, [6, -8]),
      [{ where: 'p', value: 50 + NM, limit: 50 }],
    ],
    ['the far corner of a square decides: at (30, 40)', square(30), []],
    ['the far corner at (30.3, 40)', square(30.3), [{ where: 'p', value: Math.hypot(30.3, 40), limit: 50 }]],
    [
      'without an f-number the beam has no edge',
      reaching(180, { interferometer: { focus: [0, 0, -500] } }),
      [],
    ],
    [
      'nor has a collimated one without a diameter',
      reaching(180, { interferometer: { collimated: true } }),
      [],
    ],
  ];
});

export const BEAM: readonly Table[] = [...EDGES, BOUNDS];
