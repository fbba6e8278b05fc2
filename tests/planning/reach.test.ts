/** The reach of a place: the real pattern toward a target at its edge has features of just `minFeature`. */
import { expect, test } from 'vitest';
import type { Design } from '../../src/design/design.ts';
import { designScenario } from '../../src/design/design-scenario.ts';
import { reachInSpace, reachOverGlass, widestBend } from '../../src/planning/reach.ts';
import { reachMapSvg } from '../../src/writing/reach-map.ts';
import { designFrom, pointPatch, type Words } from '../metrology/support/design-from.ts';

const PLACE = [45, 20] as const;

const bench = (more: Words, target: readonly number[]): Design =>
  designFrom({
    process: { minFeature: '2 um' },
    references: [{ id: 'r', kind: 'ball', diameter: 12.7, at: target }],
    patches: [pointPatch('p', 'r', PLACE, 4)],
    ...more,
  });

const featureAtCentre = (design: Design): number => design.patches[0]!.phase.period(...PLACE) / 2;

test.each<[string, Words]>([
  ['no glass', {}],
  ['glass before', { substrate: { outline: { circle: { diameter: 150 } }, thickness: 8, index: 1.5 } }],
  [
    'glass after',
    {
      substrate: {
        outline: { circle: { diameter: 150 } },
        thickness: 8,
        index: 1.5,
        patternFaces: 'interferometer',
      },
    },
  ],
  ['collimated', { interferometer: { collimated: true } }],
])('%s: at the edge the feature is minFeature, inside more, outside less', (_, more) => {
  const height = 260;
  const { middle, edge } = reachInSpace(bench(more, [0, 0, height]), PLACE, height, 12);
  for (const [x, y] of edge) {
    expect(featureAtCentre(bench(more, [x, y, height]))).toBeCloseTo(2e-3, 9);
    const part = (share: number): number[] => [
      middle[0] + share * (x - middle[0]),
      middle[1] + share * (y - middle[1]),
      height,
    ];
    expect(featureAtCentre(bench(more, part(0.95)))).toBeGreaterThan(2e-3);
    expect(featureAtCentre(bench(more, part(1.05)))).toBeLessThan(2e-3);
  }
});

test('a bend of λ/2F: 2 µm features at duty 0.5 make 0.1582 of a cosine at 632.8 nm', () => {
  expect(widestBend(bench({}, [0, 0, 200]))).toBeCloseTo(632.8e-6 / 4e-3, 12);
});

test('over the glass: a site serves a reference exactly when the pattern there can be written', () => {
  const design = bench({}, [90, 30, 250]);
  const { grid, served, features } = reachOverGlass(design, design.references[0]!);
  expect(grid.sites.length).toBeGreaterThan(500);
  expect(served.filter(Boolean).length).toBeGreaterThan(20);
  expect(served.filter((one) => !one).length).toBeGreaterThan(20);
  for (let k = 0; k < grid.sites.length; k += 37) {
    const { scenario } = design;
    const at = grid.sites[k]!.at;
    const patch = { ...scenario.patches[0]!, centre: at };
    const made = designScenario({ ...scenario, patches: [patch] });
    if ('findings' in made) throw new Error('not designed');
    expect(made.design.patches[0]!.phase.period(...at) / 2).toBeCloseTo(features[k]!, 12);
    expect(served[k]).toBe(features[k]! >= 2e-3);
  }
});

test('the map: one SVG, the same bytes each time, hostile texts escaped by their ids alone', () => {
  const design = bench({}, [60, 30, 250]);
  const svg = reachMapSvg(design);
  expect(reachMapSvg(design)).toBe(svg);
  expect(svg).toMatch(/^<\?xml [^>]*\?>\n<svg /);
  expect(svg.match(/class="served"/g)!.length).toBeGreaterThan(20);
  expect(svg).toContain('% of the free glass can serve it');
  expect(svg).not.toMatch(/NaN|Infinity|-0[ "L]/);
});

test('a height inside the glass is refused', () => {
  expect(() => reachInSpace(bench({}, [0, 0, 200]), PLACE, 0)).toThrow(/beyond the glass/);
});
