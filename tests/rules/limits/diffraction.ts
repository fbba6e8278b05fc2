/**
 * Rule diffraction-blur at its limits, a Fresnel number of 1 for a ball and of 2 for a cube. The round trip of a half-width a over the
 * distance s has a²/(λB): B = 2s for a cube, along its line and across it, 2s(s − R)/R for a ball of radius R (Goodman, Introduction to Fourier Optics, with ray matrices). mm.
 */
import type { Words } from '../../metrology/support/design-from.ts';
import { type Fact, type Table, table } from '../support/fact.ts';
import { RULE } from '../support/rule-codes.ts';

const LAMBDA = 632.8e-6;
const LEAST = { ball: 1, cube: 2 } as const;
/** A rounding beside the limit. */
const HAIR = 1e-9;

const scene = (reference: Words, outline: Words, own: Words = { focus: 'point' }): Words => ({
  interferometer: { collimated: true, direction: [0.1, 0.3, 1] },
  references: [{ id: 'r', ...reference }],
  patches: [{ id: 'p', reference: 'r', centre: [0, 0], outline, ...own }],
});
const circle = (diameter: number): Words => ({ circle: { diameter } });
const square = (width: number): Words => ({ rectangle: { width, height: width } });

const said = (number: number) => [{ where: 'p', value: number }];
const limits = (limit: number) => ({ rule: RULE.blur, severity: 'warning', limit }) as const;

/** Three facts about a patch whose number is to be N: just over the least, just under, and half of it. */
const aroundLeast =
  (least: number) =>
  (what: string, made: (number: number) => Words): readonly Fact[] => [
    [`${what}: a number of ${least} and a hair`, made(least + HAIR), []],
    [`${what}: a hair under ${least}`, made(least - HAIR), said(least - HAIR)],
    [`${what}: half of ${least}`, made(least / 2), said(least / 2)],
  ];

const CUBE = table('a cube', limits(LEAST.cube), () => {
  const around = aroundLeast(LEAST.cube);
  const cube = (distance: number): Words => ({ kind: 'smr', diameter: 38.1, at: [0, 0, distance] });
  const line = { focus: 'line', lineAngle: 0 };
  const reach = (halfWidth: number, number: number): number => halfWidth ** 2 / (2 * LAMBDA * number);
  // Inclined along the line by 3-4-5: the distance is s, the length along the line seen as 0.6 of it.
  const inclined = (number: number): Words => {
    const s = reach(5 * 0.6, number);
    return scene({ kind: 'smr', diameter: 38.1, at: [0.8 * s, 0, 0.6 * s] }, square(10), line);
  };
  return [
    ...around('a square of 10 mm', (number) => scene(cube(reach(5, number)), square(10), line)),
    ...around('a square of 4 mm', (number) => scene(cube(reach(2, number)), square(4), line)),
    ...around('seen inclined along its line', inclined),
    ...around('a strip along its line', (number) =>
      scene(cube(reach(2, number)), { rectangle: { width: 20, height: 4 } }, line),
    ),
    ...around('a strip across its line', (number) =>
      scene(cube(reach(2, number)), { rectangle: { width: 4, height: 20 } }, line),
    ),
  ];
});

const BALL = table('a ball', limits(LEAST.ball), () => {
  const around = aroundLeast(LEAST.ball);
  const RADIUS = 6.35;
  /** s(s − R) = a²R/(2λN). */
  const reach = (halfWidth: number, number: number, radius = RADIUS): number =>
    (radius + Math.sqrt(radius ** 2 + (2 * halfWidth ** 2 * radius) / (LAMBDA * number))) / 2;
  const ball = (distance: number, radius = RADIUS): Words => ({
    kind: 'ball',
    diameter: 2 * radius,
    at: [0, 0, distance],
  });
  const inclined = (number: number): Words => {
    const s = reach(5 * 0.6, number);
    return scene({ kind: 'ball', diameter: 2 * RADIUS, at: [0.8 * s, 0, 0.6 * s] }, circle(10));
  };
  return [
    ...around('a round patch of 10 mm', (number) => scene(ball(reach(5, number)), circle(10))),
    ...around('the narrow side counts', (number) =>
      scene(ball(reach(3, number)), { rectangle: { width: 10, height: 6, rotation: 20 } }),
    ),
    ...around('a ball of 1 in', (number) => scene(ball(reach(5, number, 12.7), 12.7), circle(10))),
    ...around('seen inclined, which narrows it', inclined),
  ];
});

const NO_FOCUS = table('what sends no focus back', limits(LEAST.ball), () => {
  return [['a screen has no round trip', scene({ kind: 'screen', at: [0, 0, 50000] }, circle(4)), []]];
});

export const DIFFRACTION: readonly Table[] = [CUBE, BALL, NO_FOCUS];
