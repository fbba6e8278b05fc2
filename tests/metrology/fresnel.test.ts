import { describe, expect, it } from 'vitest';
import { fresnelNumberOf, narrowestSeen } from '../../src/metrology/sensing/fresnel.ts';
import { makePatch, type PatchRecipe } from '../design/support/make-patch.ts';
import { designFrom } from './support/design-from.ts';

const design = designFrom({});
const rectangle = (
  width: number,
  height: number,
  rotation: number,
  centre: readonly [number, number] = [0, 0],
) => ({ shape: 'rectangle', centre, width, height, rotation }) as const;
const onBall = (outline: PatchRecipe['outline'], more: Partial<PatchRecipe> = {}) =>
  makePatch({ kind: 'ball', diameter: 12.7, at: [0, 0, 300], centre: [0, 0], outline, ...more });
const number = (patch: ReturnType<typeof makePatch>): number => fresnelNumberOf(design, patch)!.number;

describe('Fresnel number of a patch', () => {
  it('on a ball: about 1.4 for 10 mm at 300 mm (common practice, no source beyond the trade), however it is turned', () => {
    for (const turn of [0, 0.3, Math.PI / 4, 1.2])
      expect(number(onBall(rectangle(10, 10, turn)))).toBeCloseTo(1.41, 1);
    const bar = [0, 0.5, 1].map((turn) => number(onBall(rectangle(20, 6, turn))));
    for (const value of bar) expect(value).toBeCloseTo(bar[0]!, 9);
  });

  it('on a ball is the same for a line focus as for a point', () => {
    const outline = rectangle(10, 10, 0);
    expect(number(onBall(outline, { lineAngle: 0.4 }))).toBeCloseTo(number(onBall(outline)), 12);
  });

  it('on a cube counts the lesser of length along the line and width across: about 6.6 for 10 mm at 3 m', () => {
    const onCube = (outline: PatchRecipe['outline']) =>
      makePatch({ at: [0, 0, 3000], centre: [0, 0], outline, lineAngle: 0 });
    const cube = (outline: PatchRecipe['outline']) => number(onCube(outline));
    for (const [width, height, direction] of [
      [10, 10, 'both'],
      [10, 20, 'along'],
      [20, 10, 'across'],
    ] as const) {
      expect(fresnelNumberOf(design, onCube(rectangle(width, height, 0)))!.direction).toBe(direction);
      expect(cube(rectangle(width, height, 0))).toBeCloseTo(6.6, 1);
    }
    expect(cube(rectangle(20, 3, 0))).toBeCloseTo(0.59, 2);
    expect(cube({ shape: 'circle', centre: [0, 0], radius: 5 })).toBeCloseTo(6.6, 1);
    // Turned by 45°, a square is as long as ever at its middle, and nothing at its corners: in the mean shorter.
    expect(cube(rectangle(10, 10, Math.PI / 4))).toBeCloseTo(cube(rectangle(10, 10, 0)) / 2, 9);
  });

  it('takes a ring by its wall', () => {
    const ring = { shape: 'ring', centre: [0, 0], inner: 20, outer: 24 } as const;
    expect(number(onBall(ring))).toBeCloseTo(25 * 0.0064 * number(onBall(rectangle(10, 10, 0))), 2);
    expect(narrowestSeen(onBall(ring))).toBe(4);
  });

  it('sees an inclined patch foreshortened', () => {
    const at = [300, 0, 300] as const;
    const seen = (outline: PatchRecipe['outline']) => narrowestSeen(onBall(outline, { at }));
    expect(seen({ shape: 'circle', centre: [0, 0], radius: 5 })).toBeCloseTo(10 * Math.SQRT1_2, 12);
    expect(seen(rectangle(10, 4, 0))).toBeCloseTo(4, 12);
    expect(seen(rectangle(4, 10, 0))).toBeCloseTo(4 * Math.SQRT1_2, 12);
  });
});
