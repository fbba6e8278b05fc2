/**
 * Seats on the glass at their limits: the foot by its diameter, the sphere by its diameter and by its height above its own face.
 * mm. Light that leans over a seat clears it from below; the distance of a centre or a rim from the light's edge by Pythagoras.
 */
import type { Words } from '../../metrology/support/design-from.ts';
import { type Said, type Table, table } from '../support/fact.ts';
import { RULE } from '../support/rule-codes.ts';

const LAW = { rule: RULE.seatClash, severity: 'error' } as const;
const NM = 1e-6;
/** Deep enough into the light to be noticed, mm: nicks of a twentieth are let pass, no fringe shows them. */
const NICK = 0.12;
/** Beside the light, mm: told apart from it to a micrometre. */
const CLEAR = 0.01;

const GLASS = { outline: { circle: { diameter: 150 } }, thickness: 6, index: 1.5, clearance: 0.5 };
const seat = (at: readonly [number, number], more: Words = {}): Words => ({
  id: 's',
  kind: 'ball',
  diameter: 12,
  at,
  ...more,
});
/** A round patch of 10 mm in the middle, its ball where the words say. */
const scene = (seats: readonly Words[], more: Words = {}): Words => ({
  interferometer: { collimated: true },
  substrate: GLASS,
  references: [{ id: 'r', kind: 'ball', diameter: 12, at: [0, 0, 200] }],
  patches: [
    { id: 'p', reference: 'r', focus: 'point', centre: [0, 0], outline: { circle: { diameter: 10 } } },
  ],
  seats,
  ...more,
});
const gap = (where: string, value: number, limit: number): Said => {
  return { where, value, limit, unit: 'mm' };
};
/** A few per cent of the light: how many is not at stake here. */
const shadow: Said = { where: 's, p', limit: 0, unit: '%', value: 4, within: 4 };

const FOOT = table('the foot on the glass', LAW, () => {
  const foot = (footprint: number, diameter = 1) => ({ footprint, diameter });
  const onEdge = (margin: number) => scene([seat([-(75 - margin - 6), 0])]);
  const beside = (apart: number) => scene([seat([3 + 5 + apart, 0], foot(6))]);
  const keepOuts = [{ id: 'main', outline: { rectangle: { width: 40, height: 40, centre: [-40, 0] } } }];
  const near = (apart: number, face: string) => scene([seat([-40, 20 + 6 + apart], { face })], { keepOuts });
  return [
    ['touching the edge from inside', onEdge(0), []],
    ['a nanometre over the edge', onEdge(-NM), [gap('s', -NM, 0)]],
    ['the clearance from a patch on its face', beside(0.5), []],
    ['a nanometre nearer', beside(0.5 - NM), [gap('s, p', 0.5 - NM, 0.5)]],
    ['the clearance from a keep-out on its face', near(0.5, 'part'), []],
    ['a nanometre nearer to it', near(0.5 - NM, 'part'), [gap('s, main', 0.5 - NM, 0.5)]],
    ['touching a keep-out on the other face', near(0, 'interferometer'), []],
    ['a nanometre into it on the other face', near(-NM, 'interferometer'), [gap('s, main', -NM, 0)]],
  ];
});

const PAIRS = table('two seats', LAW, () => {
  const pair = (apart: number, own: Words, other: Words = {}) =>
    scene([
      seat([-40, 0], { ...own, id: 'a' }),
      seat([-40 + 0.6 * apart, 0.8 * apart], { ...own, ...other, id: 'b' }),
    ]);
  const slim = { footprint: 2 };
  return [
    ['feet that touch', pair(12, {}), []],
    ['feet a nanometre into each other', pair(12 - NM, {}), [gap('b, a', -NM, 0)]],
    ['spheres that touch over slim feet', pair(12, slim), []],
    ['spheres a nanometre into each other', pair(12 - NM, slim), [gap('b, a', -NM, 0)]],
    // 5 mm higher: spheres of 12 and 14 mm touch where the centres stand √(13² − 5²) = 12 mm apart on the glass.
    ['a higher and larger sphere, touching', pair(12, slim, { diameter: 14, height: 11 }), []],
    [
      'a higher and larger sphere, too near',
      pair(11.99, slim, { diameter: 14, height: 11 }),
      [gap('b, a', Math.hypot(11.99, 5) - 13, 0)],
    ],
    ['on different faces they do not meet', pair(1, {}, { face: 'interferometer' }), []],
  ];
});

/** The light's lower edge, from (5, 0) on the pattern to a ball at (150, 200): it leans over what stands at x > 5. */
const [RUN, RISE] = [150 - 5, 200];
const SLOPE = Math.hypot(RUN, RISE);
const leaning = { references: [{ id: 'r', kind: 'ball', diameter: 12, at: [150, 0, RISE] }] };

const UNDER = table('a seat under light that leans over it', LAW, () => {
  /** Of the centre, at which a sphere at x touches the light from below. */
  const touchingHeight = (x: number, diameter: number): number =>
    ((x - 5) * RISE - (SLOPE * diameter) / 2) / RUN;
  const ball = (x: number, height: number, diameter = 12) =>
    scene([seat([x, 0], { height, diameter, footprint: 1 })], leaning);
  const [low, high] = [touchingHeight(20, 12), touchingHeight(20, 8)];
  // A nest is solid up to the height: its rim, half the foot nearer to the light, touches.
  const nest = (height: number) =>
    scene([seat([30, 0], { kind: 'nest', height, footprint: 20, diameter: 2 })], leaning);
  const rim = ((30 - 10 - 5) * RISE) / RUN;
  // A ball that lies on the glass: its height is half of its diameter d, and it touches at d = 2(x − 5)·200/(145 + 247).
  const resting = (diameter: number) => scene([seat([20, 0], { diameter, footprint: 1 })], leaning);
  const largest = (2 * 15 * RISE) / (RUN + SLOPE);
  return [
    ['a sphere of 12 mm just low enough', ball(20, low - CLEAR), []],
    ['a sphere of 12 mm just too high', ball(20, low + NICK), [shadow]],
    ['a smaller one may stand higher', ball(20, high - CLEAR, 8), []],
    ['but no higher than its own height', ball(20, high + NICK, 8), [shadow]],
    ['a nest whose rim is just low enough', nest(rim - CLEAR), []],
    ['a nest whose rim is just too high', nest(rim + NICK), [shadow]],
    ['a ball that rests on the glass, just small enough', resting(largest - CLEAR), []],
    ['a ball that rests on the glass, just too large', resting(largest + NICK), [shadow]],
  ];
});

const FACES = table('the face that heights count from', LAW, () => {
  // The pattern on the interferometer's side of 6 mm of glass with the index of air: the seat stands on the face at z = 6.
  const onFarFace = (height: number) =>
    scene([seat([30, 0], { height, footprint: 1 })], {
      ...leaning,
      substrate: { ...GLASS, index: 1, patternFaces: 'interferometer' },
    });
  const lessGlass = (25 * RISE - SLOPE * 6) / RUN - 6;
  // A beam that comes in aslant, 3 to the side on 4: before the glass it leans over what stands at larger x, as seen from the pattern.
  const aslant = (height: number) =>
    scene([seat([20, 0], { height, face: 'interferometer', footprint: 1 })], {
      interferometer: { collimated: true, direction: [-3, 0, 4] },
      substrate: { ...GLASS, thickness: 0 },
    });
  const before = (15 * 4 - 5 * 6) / 3;
  return [
    ['on the far face, just low enough', onFarFace(lessGlass - CLEAR), []],
    ['on the far face, just too high', onFarFace(lessGlass + NICK), [shadow]],
    ['toward the interferometer, just low enough', aslant(before - CLEAR), []],
    ['toward the interferometer, just too high', aslant(before + NICK), [shadow]],
  ];
});

export const SEATS: readonly Table[] = [FOOT, PAIRS, UNDER, FACES];
