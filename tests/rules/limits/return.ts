/**
 * How much of a patch's light comes back, at the limits of four fifths and of a quarter. mm, per cent. The share by geometry alone:
 *   edges      a cube's edge, 0.2 mm wide as assumed for a hollow cube, crosses a line at the angle φ over 0.2/sin φ of it
 *   aperture   mirrors that end at a ball of diameter d fill a clear circle of d/√3
 *   ball       a tilt of N fringes over the width D turns the light by ε = λN/(2D), which comes back 2s(s − R)ε/R aside
 *   roof       of N fringes over half the length L turns each half by ε = λN/L outward; a cube returns it 2sε nearer to the edge
 */
import type { Words } from '../../metrology/support/design-from.ts';
import { type Fact, type Table, table } from '../support/fact.ts';
import { RULE } from '../support/rule-codes.ts';

const LAMBDA = 632.8e-6;
const BAND = 0.2;
/** Shares are told by some hundreds of rays: to this many per cent, and nearer to the limit than that no side is sure. */
const COUNTED = 1.2;

/** The beam comes in aslant, so that the patch has a carrier and its orders stand apart; how its light returns does not depend on that. */
const scene = (reference: Words, patch: Words): Words => ({
  interferometer: { collimated: true, direction: [0.1, 0.3, 1] },
  references: [{ id: 'r', ...reference }],
  patches: [{ id: 'p', reference: 'r', centre: [0, 0], ...patch }],
});
const limits = { rule: RULE.weakReturn, severity: 'warning', limit: 80, unit: '%' } as const;
const refused = { rule: RULE.noReturn, severity: 'error', limit: 25, unit: '%' } as const;
const said = (share: number) => [{ where: 'p', value: share, within: COUNTED }];

/** Facts about a scene that is to return so many per cent. */
const around = (what: string, made: (share: number) => Words): readonly Fact[] => [
  [`${what}: 81.5 %`, made(81.5), []],
  [`${what}: 78.5 %`, made(78.5), said(78.5)],
  [`${what}: 70 %`, made(70), said(70)],
];

const cube = (at: readonly number[], more: Words = {}): Words => ({
  kind: 'smr',
  diameter: 38.1,
  at,
  ...more,
});
const along = (length: number, width = 6): Words => ({
  focus: 'line',
  lineAngle: 0,
  outline: { rectangle: { width: length, height: width } },
});

const POINT: Words = { focus: 'point', outline: { circle: { diameter: 10 } } };

const FROM_CUBE = table('a cube', limits, () => {
  const lost = (share: number): number => 1 - share / 100;
  const edge = (angle: number) => (share: number) =>
    scene(
      cube([0, 0, 400], { axis: [0, 0, -1], roll: angle }),
      along(BAND / Math.sin((angle * Math.PI) / 180) / lost(share)),
    );
  // At the best roll the nearest edges stand 30° from the line.
  const atBest = (share: number): Words =>
    scene(cube([0, 0, 100]), along(BAND / Math.sin(Math.PI / 6) / lost(share)));
  // A sphere of 12.7 mm: 7.33 mm of clear aperture, less what the edges take, of a longer line.
  const aperture = (share: number): Words => {
    const clear = 12.7 / Math.sqrt(3) - 2 * BAND;
    return scene(cube([0, 0, 400], { diameter: 12.7 }), along(clear / (share / 100)));
  };
  // Past the edges' band the two halves stand clear of it, and the roof alone counts: 4sλN/L².
  const roof = (share: number): Words =>
    scene(cube([0, 0, 1000]), {
      ...along(10, 10),
      bias: { shape: 'roof', fringes: (lost(share) * 100) / (4 * 1000 * LAMBDA) },
    });
  return [
    ...around('an edge at 10° to the line', edge(10)),
    ...around('an edge at 20° to the line', edge(20)),
    ...around('edges at the best roll', atBest),
    ...around('a small aperture', aperture),
    ...around('a roof', roof),
  ];
});

const FROM_BALL = table('a ball', limits, () => {
  const [s, R, D] = [200, 6.35, 10];
  const ball: Words = { kind: 'ball', diameter: 2 * R, at: [0, 0, s] };
  const tilted = (share: number): Words => {
    const aside = (1 - share / 100) * D;
    const turn = (aside * R) / (2 * s * (s - R));
    return scene(ball, {
      focus: 'point',
      outline: { rectangle: { width: D, height: D } },
      bias: { shape: 'tilt', fringes: (2 * D * turn) / LAMBDA, direction: 90 },
    });
  };
  return [['without a bias all of it', scene(ball, POINT), []], ...around('a tilt', tilted)];
});

const REFUSED = table('too little to be read', refused, () => {
  const ball: Words = { kind: 'ball', diameter: 12.7, at: [0, 0, 200] };
  // Of a patch as long as that, an edge at 10° leaves so many per cent.
  const edge = (share: number): Words =>
    scene(
      cube([0, 0, 400], { axis: [0, 0, -1], roll: 10 }),
      along(BAND / Math.sin(Math.PI / 18) / (1 - share / 100)),
    );
  return [
    ['an edge at 10° to the line: 27 %', edge(27), []],
    ['an edge at 10° to the line: 23 %', edge(23), said(23)],
    ['a point focus falls on the apex', scene(cube([0, 0, 200]), POINT), said(0)],
    // Like a flat mirror's light off a sphere: of the half-length a about aR/(2s) is left, here a sixtieth.
    ['a line focus on a ball', scene(ball, along(10, 10)), [{ where: 'p', value: 1.6, within: 1.6 }]],
    ['a screen, which sends nothing back', scene({ kind: 'screen', at: [0, 0, 200] }, POINT), []],
  ];
});

const NOTHING = table('what need not return', limits, () => {
  return [['a screen sends nothing back', scene({ kind: 'screen', at: [0, 0, 200] }, POINT), []]];
});

export const WEAK_RETURN: readonly Table[] = [FROM_CUBE, FROM_BALL, REFUSED, NOTHING];
