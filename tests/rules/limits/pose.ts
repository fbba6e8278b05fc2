/**
 * The rules of the part's pose at their limits. µm, µrad. Three references on a circle of radius R about the part's origin, in its
 * x-y plane, each read along x, y and z to u: by hand, x, y and z are known to u/√3, rx and ry to u/(R√(3/2)), rz to u/(R√3). A nest
 * that lets a reference sit anywhere within ±a adds a²/3 to u² (JCGM 100, 4.3.7).
 */
import type { Words } from '../../metrology/support/design-from.ts';
import { type Said, type Table, table } from '../support/fact.ts';
import { RULE } from '../support/rule-codes.ts';

const R = 100;
const UM = 1e-3;
type Vector = readonly [number, number, number];

/** The references and what is measured at them: a list of directions for each. The part is moved and turned, which changes nothing. */
const scene = (
  places: readonly Vector[],
  directions: readonly (readonly Vector[])[],
  more: Words = {},
  { u = 5, nest = 0 } = {},
): Words => ({
  part: { origin: [40, -30, 700], rotation: [0, 0, 90] },
  references: places.map((at, k) => {
    return { id: `r${k}`, kind: 'smr', diameter: 38.1, frame: 'part', at, nest: `${nest} um` };
  }),
  patches: [],
  measurements: directions.flatMap((list, k) =>
    list.map(([x, y, z], n) => {
      // A quarter of a turn carries the part's x to the substrate's y.
      return { id: `r${k}-${n}`, reference: `r${k}`, direction: [-y, x, z], uncertainty: `${u} um` };
    }),
  ),
  ...more,
});
const [X, Y, Z]: readonly [Vector, Vector, Vector] = [
  [1, 0, 0],
  [0, 1, 0],
  [0, 0, 1],
];
const circle: readonly Vector[] = [0, 120, 240].map((degrees) => {
  const angle = (degrees * Math.PI) / 180;
  return [R * Math.cos(angle), R * Math.sin(angle), 0];
});
const allThree = [
  [X, Y, Z],
  [X, Y, Z],
  [X, Y, Z],
];

const UNOBSERVED = table('what no reading shows', { rule: RULE.notObserved, severity: 'warning' }, () => {
  const inPart = (count: number): Said[] => Array.from({ length: count }, () => ({ where: 'part' }));
  const error = (degree: string): Said => ({ where: `wanted.${degree}`, severity: 'error' });
  const heights = [[Z], [Z], [Z]];
  return [
    ['three points read in all directions: nothing is free', scene(circle, allThree), []],
    ['heights alone leave x, y and rz', scene(circle, heights), inPart(3)],
    ['one point leaves the three turns', scene([[0, 0, 0]], [[X, Y, Z]]), inPart(3)],
    [
      'two points on x leave the turn about it',
      scene(
        [
          [R, 0, 0],
          [-R, 0, 0],
        ],
        [
          [X, Y, Z],
          [X, Y, Z],
        ],
      ),
      inPart(1),
    ],
    ['nothing read leaves all six', scene(circle, []), inPart(6)],
    [
      'what is wanted of it is an error, the rest a warning',
      scene(circle, heights, { wanted: { y: '1 mm', z: '1 mm', rz: '1 mrad' } }),
      [error('y'), error('rz'), { where: 'part' }],
    ],
    ['wanted and seen: nothing to say', scene(circle, allThree, { wanted: { rz: '1 mrad' } }), []],
  ];
});

/** Standard uncertainties by hand, from one of u in each reading. */
const byHand = (u: number): Record<string, number> => {
  const [move, tilt, turn] = [u / Math.sqrt(3), u / R / Math.sqrt(1.5) / UM, u / R / Math.sqrt(3) / UM];
  return { x: move, y: move, z: move, rx: tilt, ry: tilt, rz: turn };
};
const DEGREES = ['x', 'y', 'z', 'rx', 'ry', 'rz'];
const unitOf = (degree: string): string => (degree.startsWith('r') ? 'urad' : 'um');

const WANTED = table('a wish', { rule: RULE.missesWanted, severity: 'error' }, () => {
  const sigma = byHand(5);
  const wished = (factor: number, degrees: readonly string[], of = sigma, figures = {}): Words =>
    scene(
      circle,
      allThree,
      {
        wanted: Object.fromEntries(
          degrees.map((degree) => [degree, `${of[degree]! * factor} ${unitOf(degree)}`]),
        ),
      },
      figures,
    );
  const said = (factor: number, degrees: readonly string[], of = sigma): Said[] =>
    degrees.map((degree) => ({
      where: `wanted.${degree}`,
      value: of[degree]!,
      limit: of[degree]! * factor,
      unit: unitOf(degree),
    }));
  // ±6 µm of the nest beside 5 µm of the reading: √(25 + 12) µm.
  const nested = byHand(Math.sqrt(37));
  const HAIR = 1e-6;
  return [
    ...DEGREES.flatMap((degree) => [
      [`${degree}: met`, wished(1 + HAIR, [degree]), []] as const,
      [`${degree}: met exactly`, wished(1, [degree]), []] as const,
      [`${degree}: just missed`, wished(1 - HAIR, [degree]), said(1 - HAIR, [degree])] as const,
    ]),
    ['all six missed by half: each with its own unit', wished(0.5, DEGREES), said(0.5, DEGREES)],
    ['with what the nest adds, met', wished(1 + HAIR, DEGREES, nested, { nest: 6 }), []],
    [
      'with what the nest adds, missed',
      wished(1 - HAIR, DEGREES, nested, { nest: 6 }),
      said(1 - HAIR, DEGREES, nested),
    ],
    [
      'the readings alone and the whole budget are told',
      wished(0.5, ['z'], nested, { nest: 6 }),
      [{ ...said(0.5, ['z'], nested)[0]!, figures: ['3.51 µm', '2.89 µm', '1.76 µm'] }],
    ],
    ['nothing wanted: nothing missed', scene(circle, allThree), []],
    [
      'a degree that is not seen is not missed',
      scene(circle, [[Z], [Z], [Z]], { wanted: { rz: '1 urad' } }),
      [],
    ],
  ];
});

export const POSE: readonly Table[] = [UNOBSERVED, WANTED];
