/**
 * Contact points of balls at the ends of the part and of its datums. mm. The part: a mirror of 100 mm with a flange behind it; a ball of
 * 20 mm in the corner stands 60 mm from the axis and 10 mm before the flange, touches that 60 mm out and the rim 10 mm up.
 */
import type { Words } from '../../metrology/support/design-from.ts';
import { type Table, table } from '../support/fact.ts';
import { RULE } from '../support/rule-codes.ts';

const LAW = { rule: RULE.noContact, severity: 'error', limit: 0, unit: 'mm' } as const;
const A = { plane: { point: [0, 0, 0], normal: [0, 0, -1] } };
const B = { cylinder: { point: [0, 0, 0], axis: [0, 0, 1], diameter: 100 } };

const scene = (part: Words, touches?: readonly Words[], diameter = 20): Words => ({
  part: { origin: [0, 0, 500], ...part },
  references: [
    { id: 'r', kind: 'ball', diameter, touches: touches ?? [{ datum: 'B', azimuth: 0 }, { datum: 'A' }] },
  ],
});
const disc = (front: number, length: number, diameter: number): Words => ({
  cylinder: { point: [0, 0, front], axis: [0, 0, 1], diameter, length },
});
const said = (value: number, ...figures: string[]) => [{ where: 'r', value, figures }];

const PART = table('the end of the part', LAW, () => {
  const within = (up: number, flange: number) =>
    scene({ datums: { A, B }, envelope: [disc(-up, up, 100), disc(0, 15, flange)] });
  // A plate with a groove along x of 90 degrees 30 mm up, or a cone of 90 degrees.
  const plate = [{ box: { corner: [-50, -50, 0], size: [100, 100, 20] } }];
  const hollow = (datum: Words, touch: Words) =>
    scene({ datums: { C: datum, A }, envelope: plate }, [{ datum: 'C', ...touch }]);
  const vee = { vee: { point: [0, 30, 10], axis: [1, 0, 0], normal: [0, 0, -1], angle: 90 } };
  const deep = Math.SQRT2 * 10;
  return [
    ['just to the contacts', within(10, 120), []],
    ['within what drawings are rounded to', within(9.995, 119.99), []],
    ['a flange that is 0.02 too narrow', within(10, 119.96), said(0.02, 'touches A', '0.02 mm')],
    ['a rim that is 0.02 too short', within(9.98, 120), said(0.02, 'touches B', '0.02 mm')],
    ['no flange at all: off the face by 10, in the air before it', within(10, 100), said(10, 'touches A')],
    ['in a groove, along which the plate reaches', hollow(vee, { x: 50 }), []],
    [
      'past the end of the groove',
      hollow(vee, { x: 50.5 }),
      said(0.5, 'touches C', '0.5 mm from the nearest point of the part'),
    ],
    [
      'in a cone',
      hollow(
        { cone: { apex: [0, 0, 5 + deep], axis: [0, 0, -1], angle: 90, side: 'inside' } },
        { x: 0, y: 0 },
      ),
      [],
    ],
  ];
});

const EXTENT = table('the end of a datum', LAW, () => {
  const flat = (extent: Words, azimuth = 0, normal = [0, 0, -1]) =>
    scene({ datums: { A: { plane: { ...A.plane, normal, extent } }, B } }, [
      { datum: 'B', azimuth },
      { datum: 'A' },
    ]);
  const rim = (from: number, length: number) =>
    scene({ datums: { A, B: { cylinder: { ...B.cylinder, point: [0, 0, from], length } } } });
  const aside = { rectangle: { width: 10, height: 10, centre: [0, 60] } };
  return [
    ['round: just to the contact', flat({ circle: { diameter: 120 } }), []],
    ['round: 0.05 short', flat({ circle: { diameter: 119.9 } }), said(0.05, '0.05 mm past the end of A')],
    ['a ring: the contact in its bore', flat({ ring: { inner: 130, outer: 200 } }), said(5, '5 mm past')],
    ['a pad up in the part’s y', flat(aside, 90), []],
    ['the same pad under a reversed normal', flat(aside, 90, [0, 0, 1]), []],
    ['a quarter turn from it', flat(aside, 0), said(55 * Math.SQRT2)],
    ['a rim from the contact on', rim(-10, 30), []],
    ['a rim up to the contact', rim(-40, 30), []],
    ['a rim that begins 0.1 above it', rim(-9.9, 30), said(0.1, '0.1 mm past the end of B')],
    ['a rim that ends 0.1 below it', rim(-40, 29.9), said(0.1)],
    ['no extent, no envelope: an endless plane', scene({ datums: { A, B } }), []],
  ];
});

export const CONTACT: readonly Table[] = [PART, EXTENT];
