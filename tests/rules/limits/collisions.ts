/** Spheres at the surfaces of what stands around them, mm: radius less distance, by Pythagoras. */
import type { Words } from '../../metrology/support/design-from.ts';
import { type Table, table } from '../support/fact.ts';
import { RULE } from '../support/rule-codes.ts';

const LAW = { rule: RULE.collision, severity: 'error', limit: 0, unit: 'mm' } as const;
const NM = 1e-6;
const ball = (at: readonly number[], diameter = 20, id = 'r'): Words => ({ id, kind: 'ball', diameter, at });
const alone = (at: readonly number[], more: Words): Words => ({ references: [ball(at)], ...more });
const said = (value: number, where = 'r') => [{ where, value }];

const SOLIDS = table('a ball at a solid', LAW, () => {
  const box = { box: { corner: [50, -10, 200], size: [20, 20, 20] } };
  const disc = { cylinder: { point: [0, 0, 470], axis: [0, 0, 1], diameter: 100, length: 30 } };
  const dome = { sphere: { centre: [0, 0, 300], diameter: 60 } };
  const cone = { cone: { point: [0, 0, 300], axis: [0, 0, 1], diameters: [80, 0], length: 40 } };
  const part = (solid: Words, at: readonly number[]) => alone(at, { part: { envelope: [solid] } });
  const mount = (at: readonly number[]) => alone(at, { obstacles: [{ id: 'clamp', solids: [box] }] });
  // The flank of that cone has a slope of 45 degrees.
  const square = 10 / Math.SQRT2;
  return [
    ['touching a disc', part(disc, [0, 0, 460]), []],
    ['into it by what drawings are rounded to', part(disc, [0, 0, 460.009]), []],
    ['0.02 into it', part(disc, [0, 0, 460.02]), said(0.02)],
    ['swallowed by it: its radius and the way to the surface', part(disc, [0, 0, 482]), said(10 + 12)],
    ['across its edge, touching', part(disc, [50 + 6, 0, 470 - 8]), []],
    ['0.5 nearer to the edge', part(disc, [50 + 5.7, 0, 470 - 7.6]), said(0.5)],
    ['touching a sphere', part(dome, [0, 24, 300 - 32]), []],
    ['1 mm into a sphere', part(dome, [0, 0, 300 - 39]), said(1)],
    ['touching a cone’s flank', part(cone, [20 + square, 0, 320 + square]), []],
    ['2 mm into the flank', part(cone, [20 + 0.8 * square, 0, 320 + 0.8 * square]), said(2)],
    ['touching a clamp', mount([40, 0, 210]), []],
    ['touching the clamp’s edge', mount([50 - 6, -10 - 8, 210]), []],
    ['0.02 into the clamp', mount([40.02, 0, 210]), said(0.02)],
  ];
});

const GLASS = table('a ball at the substrate', LAW, () => {
  const glass = (z: number, patternFaces: string, x = 0) =>
    alone([x, 0, z], {
      substrate: { outline: { circle: { diameter: 150 } }, thickness: 6, index: 1.5, patternFaces },
    });
  return [
    ['resting on the pattern', glass(10, 'part'), []],
    ['a nanometre into it', glass(10 - NM, 'part'), said(NM)],
    ['resting on the face toward the part', glass(16, 'interferometer'), []],
    ['a nanometre into that', glass(16 - NM, 'interferometer'), said(NM)],
    ['across the edge, touching', glass(6 + 8, 'interferometer', 75 + 6), []],
    ['1 mm nearer to the edge', glass(6 + 7.2, 'interferometer', 75 + 5.4), said(1)],
    ['no glass, but the pattern’s plane', alone([0, 0, 9], {}), said(1)],
  ];
});

const PAIRS = table('two references', LAW, () => {
  const pair = (one: Words, other: Words): Words => ({ references: [one, other] });
  const at = (z: number) => [0, 0, z];
  const smr = (id: string, z: number): Words => ({ id, kind: 'smr', at: at(z) });
  const screen = (id: string, z: number): Words => ({ id, kind: 'screen', at: at(z) });
  return [
    ['touching', pair(ball(at(200), 20, 'a'), ball(at(216), 12, 'b')), []],
    ['a nanometre nearer', pair(ball(at(200), 20, 'a'), ball(at(216 - NM), 12, 'b')), said(NM, 'b, a')],
    ['at the same place', pair(ball(at(200), 20, 'a'), ball(at(200), 12, 'b')), said(16, 'b, a')],
    ['retroreflectors without a size, a millimetre apart', pair(smr('a', 200), smr('b', 201)), []],
    ['the same at one place', pair(smr('a', 200), smr('b', 200)), said(0, 'b, a')],
    ['one at the surface of a ball', pair(smr('a', 200), ball(at(206), 12, 'b')), []],
    [
      'one within a ball',
      pair(smr('a', 200), ball(at(205), 12, 'b')),
      [{ where: 'b, a', value: 5, limit: 6 }],
    ],
    ['two screens at one place', pair(screen('a', 200), screen('b', 200)), said(0, 'b, a')],
    ['a screen for the place of a ball', pair(screen('a', 200), ball(at(200), 20, 'b')), []],
  ];
});

const SEATS = table('seats', LAW, () => {
  const substrate = { outline: { circle: { diameter: 150 } }, thickness: 6, index: 1.5 };
  const seat = (more: Words): Words => ({ id: 's', kind: 'ball', diameter: 12, at: [0, 0], ...more });
  const nest = { kind: 'nest', height: 12, footprint: 30 };
  const scene = (own: Words, at: readonly number[]) => alone(at, { substrate, seats: [seat(own)] });
  const clamp = (z: number) => [
    { id: 'clamp', solids: [{ box: { corner: [-5, -5, z], size: [10, 10, 10] } }] },
  ];
  const under = (z: number): Words => ({ substrate, seats: [seat({})], obstacles: clamp(z) });
  return [
    ['a ball on a seat’s ball', scene({}, [0, 0, 22]), []],
    ['a nanometre lower', scene({}, [0, 0, 22 - NM]), said(NM, 'r, s')],
    // The nest’s base is as high as its sphere’s centre.
    ['a ball beside a nest', scene(nest, [25, 0, 10]), []],
    ['1 mm into its base', scene(nest, [24, 0, 10]), said(1, 'r, s')],
    ['a clamp that a seat’s ball touches', under(12), []],
    ['a clamp that it cuts', under(11), said(1, 's')],
  ];
});

const PART = table('the part and the substrate', LAW, () => {
  const scene = (z: number, outline: Words = { circle: { diameter: 150 } }): Words => ({
    substrate: { outline, thickness: 6, index: 1.5 },
    part: {
      origin: [0, 0, z],
      envelope: [{ cylinder: { point: [0, 0, 0], axis: [0, 0, 1], diameter: 100, length: 40 } }],
    },
  });
  const within = 1e-6;
  return [
    ['touching', scene(0), []],
    ['half a millimetre into it', scene(-0.5), [{ where: 'part.origin', value: 0.5, within }]],
    [
      'through it, a rectangle',
      scene(-20, { rectangle: { width: 80, height: 80 } }),
      [{ where: 'part.origin', value: 6, within }],
    ],
    ['in the bore of a ring', scene(-20, { ring: { inner: 110, outer: 200 } }), []],
  ];
});

export const COLLISIONS: readonly Table[] = [SOLIDS, GLASS, PAIRS, SEATS, PART];
