/** Each clash at its limit: just clear, then just not. Geometry by hand beside each. */
import { describe, expect, it } from 'vitest';
import { seatClash } from '../../src/rules/seat-clash.ts';
import { designFrom, pointPatch, type Words } from '../metrology/support/design-from.ts';

const COLLIMATED = { collimated: true };
const GLASS = { outline: { circle: { diameter: 150 } }, thickness: 6, index: 1.5, clearance: 0.5 };

function clashes(seats: readonly Words[], more: Words = {}) {
  const design = designFrom({
    interferometer: COLLIMATED,
    substrate: GLASS,
    references: [{ id: 'r', kind: 'ball', diameter: 12, at: [0, 0, 200] }],
    patches: [pointPatch('p', 'r', [20, 0])],
    seats,
    ...more,
  });
  return seatClash.find(design).map(({ rule, severity, where, message, value, path }) => {
    expect([rule, severity]).toEqual(['seat-clash', 'error']);
    return { where, message, value, path };
  });
}
const seat = (at: readonly [number, number], more: Words = {}): Words => ({
  id: 's',
  kind: 'ball',
  diameter: 12,
  at,
  ...more,
});
const wheres = (seats: readonly Words[], more: Words = {}): readonly string[] =>
  clashes(seats, more).map(({ where }) => where);

describe('on the glass', () => {
  it('stands wholly on it', () => {
    expect(wheres([seat([-69, 0])])).toEqual([]);
    const [found] = clashes([seat([-69.25, 0])]);
    expect(found).toMatchObject({ where: 's', value: expect.closeTo(-0.25, 9), path: ['seats', 0, 'id'] });
  });

  it('keeps the clearance from a pattern on its own face', () => {
    // The patch ends at x = 25; the foot of 4 mm begins 2 mm before the seat. The ball hangs over no light: it is small.
    const small = { diameter: 1, footprint: 4 };
    expect(wheres([seat([27.5, 0], small)])).toEqual([]);
    const [found] = clashes([seat([27.4, 0], small)]);
    expect(found).toMatchObject({ where: 's, p', value: expect.closeTo(0.4, 9) });
    expect(found!.message).toContain('is 0.4 mm from patch p');
  });

  it('keeps the clearance from a keep-out on its own face and stays off it on the other', () => {
    const keepOuts = [{ id: 'main', outline: { rectangle: { width: 40, height: 40, centre: [-40, 0] } } }];
    const near = seat([-40, 26.4]);
    expect(wheres([near], { keepOuts })).toEqual(['s, main']);
    expect(wheres([{ ...near, face: 'interferometer' }], { keepOuts })).toEqual([]);
    expect(wheres([{ ...near, at: [-40, 25.9], face: 'interferometer' }], { keepOuts })).toEqual(['s, main']);
  });

  it('clears another seat on its face, by footprint and by sphere', () => {
    const pair = (apart: number, more: Words = {}, other: Words = {}) =>
      wheres([seat([-40, 0], { ...more, id: 'a' }), seat([-40, apart], { ...more, ...other, id: 'b' })]);
    expect(pair(12)).toEqual([]);
    expect(pair(11.9)).toEqual(['b, a']);
    expect(pair(11.9, { footprint: 4 })).toEqual(['b, a']);
    expect(pair(11.9, { footprint: 4 }, { height: 8 })).toEqual([]);
    expect(pair(2, {}, { face: 'interferometer' })).toEqual([]);
  });
});

describe('in the light', () => {
  it('toward the part: a sphere against the cone, by the distance of the sphere from the cone’s edge', () => {
    // The edge from (25, 0, 0) to the ball's centre (0, 0, 200): a sphere of radius 6 whose centre stands 10 mm above the
    // glass is touched where its distance from that line is 6.
    const slope = Math.hypot(25, 200);
    const touching = (6 * slope - 10 * 25) / 200 + 25;
    const at = (x: number) => wheres([seat([x, 0], { height: 10, footprint: 1 })]);
    expect(at(touching + 0.01)).toEqual([]);
    expect(at(touching - 0.06)).toEqual(['s, p']);
  });

  it('toward the interferometer: the beam that comes to the patch', () => {
    const behind = (x: number) => wheres([seat([x, 0], { face: 'interferometer' })]);
    expect(behind(31.01)).toEqual([]);
    expect(behind(30.94)).toEqual(['s, p']);
    expect(clashes([seat([20, 0], { face: 'interferometer' })])[0]!.message).toMatch(
      /seat s blocks about \d+ % of the light that comes to patch p/,
    );
  });

  it('of a diverging beam, which is narrower there', () => {
    // From the focus 100 mm before the pattern, no glass: the edge at 25 passes 12 mm before it at 25·88/100 = 22.
    const beam = { interferometer: { focus: [0, 0, -100] }, substrate: { ...GLASS, thickness: 0 } };
    const at = (x: number) =>
      wheres([seat([x, 0], { face: 'interferometer', height: 12, footprint: 1 })], beam);
    const touching = 22 + (6 * Math.hypot(25, 100)) / 100;
    expect(at(touching + 0.01)).toEqual([]);
    expect(at(touching - 0.06)).toEqual(['s, p']);
  });

  it('a nest stands in it with its base up to the sphere’s centre', () => {
    const nest = { kind: 'nest', diameter: 12, footprint: 20, height: 14, face: 'interferometer' };
    expect(wheres([seat([35.01, 0], nest)])).toEqual([]);
    expect(wheres([seat([34.9, 0], nest)])).toEqual(['s, p']);
    expect(wheres([seat([34.9, 0], { ...nest, footprint: 12 })])).toEqual([]);
  });

  it('through glass after the pattern, where the light leaves it', () => {
    const facing = { substrate: { ...GLASS, patternFaces: 'interferometer' } };
    // The pattern's edge ray at x = 25 leaves the glass nearer to the axis: a foot there may stand over the patch's rim.
    const at = (x: number) => wheres([seat([x, 0], { diameter: 0.1, footprint: 1 })], facing);
    const run =
      25 - (6 * Math.sin(Math.atan(25 / 194))) / Math.sqrt(2.25 - Math.sin(Math.atan(25 / 194)) ** 2);
    expect(at(run + 0.6)).toEqual([]);
    expect(at(run + 0.3)).toEqual(['s, p']);
  });
});
