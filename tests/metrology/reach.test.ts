/** The reach of a place: the real pattern toward a target at its edge has features of just `minFeature`. */
import { describe, expect, test } from 'vitest';
import type { Design } from '../../src/design/design.ts';
import { designScenario } from '../../src/design/design-scenario.ts';
import type { Vec2 } from '../../src/geometry/vector.ts';
import { reachInSpace, reachOf, widestBend } from '../../src/metrology/reach/reach.ts';
import { reachMapSvg } from '../../src/writing/reach/reach-map.ts';
import { designFrom, pointPatch, type Words } from './support/design-from.ts';
import { fullBench } from './support/full-bench.ts';
import '../machine/patience.ts';

const PLACE = [45, 20] as const;
const FINAL = { draft: false };

const bench = (more: Words, target: readonly number[]): Design =>
  designFrom({
    process: { minFeature: '2 um' },
    references: [{ id: 'r', kind: 'ball', diameter: 12.7, at: target }],
    patches: [pointPatch('p', 'r', PLACE, 4)],
    ...more,
  });

const featureAtCentre = (design: Design): number => design.patches[0]!.phase.period(...PLACE) / 2;

/** By the design's own patch, put there. */
function featureAt({ scenario }: Design, at: Vec2): number {
  const made = designScenario({ ...scenario, patches: [{ ...scenario.patches[0]!, centre: at }] });
  if ('findings' in made) throw new Error('not designed');
  return made.design.patches[0]!.phase.period(...at) / 2;
}

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
  const { middle, edge } = reachInSpace(bench(more, [0, 0, height]), PLACE, height, 1, 12);
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

test('at order 2 a patch reaches twice the bend: at the edge the feature is minFeature again', () => {
  const second = (target: readonly number[]): Design =>
    bench({ patches: [{ ...pointPatch('p', 'r', PLACE, 4), order: 2 }] }, target);
  const { edge } = reachInSpace(second([0, 0, 260]), PLACE, 260, 2, 12);
  for (const [x, y] of edge) expect(featureAtCentre(second([x, y, 260]))).toBeCloseTo(2e-3, 9);
});

describe('over the glass', () => {
  const keepOut = { id: 'main', outline: { circle: { diameter: 60 } } };

  test('a square serves a reference exactly when the pattern there can be written', () => {
    const design = bench({}, [90, 30, 250]);
    const { cells, references } = reachOf(design);
    const { features, share } = references[0]!;
    expect(share).toBeGreaterThan(0.05);
    expect(share).toBeLessThan(0.9);
    for (let k = 0; k < features.length; k += 37)
      expect(features[k]).toBeCloseTo(featureAt(design, [cells.xs[k]!, cells.ys[k]!]), 12);
    const served = features.filter((feature) => feature >= 2e-3).length;
    expect(share).toBeCloseTo(served / features.length, 12);
  });

  test('free are edge margin, keep-outs and clearance aside: the ring between them, by its area', () => {
    const substrate = { outline: { circle: { diameter: 150 } }, thickness: 0, edgeMargin: 5, clearance: 2 };
    const { cells } = reachOf(bench({ substrate, keepOuts: [keepOut] }, [0, 0, 250]));
    const area = Math.PI * (70 ** 2 - 32 ** 2);
    expect(cells.places.length * cells.pitch ** 2).toBeGreaterThan(0.97 * area);
    expect(cells.places.length * cells.pitch ** 2).toBeLessThan(1.03 * area);
    for (let k = 0; k < cells.places.length; k++) {
      const away = Math.hypot(cells.xs[k]!, cells.ys[k]!);
      expect(away >= 32 - 1e-9 && away <= 70 + 1e-9).toBe(true);
    }
  });

  test('a reference whose patches are at order 2 is served with twice the features', () => {
    const patches = [{ ...pointPatch('p', 'r', PLACE, 4), order: -2 }];
    const [one] = reachOf(bench({}, [90, 30, 250])).references;
    const [two] = reachOf(bench({ patches }, [90, 30, 250])).references;
    expect([one!.order, two!.order]).toEqual([1, 2]);
    two!.features.forEach((feature, k) => {
      expect(feature).toBeCloseTo(2 * one!.features[k]!, 12);
    });
  });

  test('a return ring and a datum feature, by the patches that the design makes of them', () => {
    const ring = (focus: string, reference: string, outer: number) => {
      return {
        id: reference,
        reference,
        focus,
        centre: [0, 0],
        outline: { ring: { inner: outer - 4, outer } },
      };
    };
    const design = fullBench({
      references: [
        { id: 'back', kind: 'return' },
        { id: 'plane', kind: 'datum', datum: 'P' },
      ],
      patches: [ring('return', 'back', 144), ring('normal', 'plane', 124)],
    });
    const { cells, references } = reachOf(design);
    references.forEach(({ features }, which) => {
      for (let k = 0; k < features.length; k += 53) {
        const [gx, gy] = design.patches[which]!.phase.gradient(cells.xs[k]!, cells.ys[k]!);
        expect(features[k]! * 2 * Math.hypot(gx, gy)).toBeCloseTo(1, 9);
      }
    });
  });

  test('without any free glass there is no share', () => {
    const full = { id: 'all', outline: { circle: { diameter: 200 } } };
    const design = bench({ keepOuts: [full] }, [0, 0, 250]);
    expect(reachOf(design).references[0]!.share).toBeUndefined();
    expect(reachMapSvg(design, FINAL)).toContain('none of it is free');
  });
});

describe('the map', () => {
  test('one SVG, the same bytes each time, with view, units and a bar to each panel', () => {
    const design = bench({}, [60, 30, 250]);
    const svg = reachMapSvg(design, FINAL);
    expect(reachMapSvg(bench({}, [60, 30, 250]), FINAL)).toBe(svg);
    expect(svg).toMatch(/^<\?xml [^>]*\?>\n<svg /);
    expect(svg).toContain('SEEN FROM PART SIDE');
    expect(svg.match(/class="bar"/g)).toHaveLength(2);
    expect(svg).not.toMatch(/NaN|Infinity|-0[ "L]|undefined/);
    expect(svg).not.toContain('NOT FOR FABRICATION');
  });

  test('the squares of each class cover what the figures say', () => {
    const design = bench({}, [90, 30, 250]);
    const svg = reachMapSvg(design, FINAL);
    const { cells, references } = reachOf(design);
    const areaOf = (kind: string): number => {
      const d = new RegExp(`<path class="${kind}" d="([^"]*)"`).exec(svg)?.[1] ?? '';
      return [...d.matchAll(/h([\d.]+)v([\d.]+)/g)].reduce((sum, [, w, h]) => sum + Number(w) * Number(h), 0);
    };
    const served = areaOf('plenty') + areaOf('enough');
    expect(served / (served + areaOf('none'))).toBeCloseTo(references[0]!.share!, 2);
    expect(cells.places.length).toBeGreaterThan(500);
  });

  test('a draft is marked in words, in its description and over each row', () => {
    const svg = reachMapSvg(bench({}, [60, 30, 250]), { draft: true });
    expect(svg.match(/NOT FOR FABRICATION/g)).toHaveLength(3);
  });

  test('a title with markup in it stays text', () => {
    const svg = reachMapSvg(bench({ title: '</title><script>x</script>' }, [60, 30, 250]), FINAL);
    expect(svg).not.toContain('<script');
    expect(svg).toContain('&lt;script&gt;');
  });

  test('thousands of patches and references do not make it endless', () => {
    const references = Array.from({ length: 300 }, (_, k) => {
      return { id: `r${k}`, kind: 'ball', diameter: 12.7, at: [k - 150, 0, 250 + k] };
    });
    const patches = Array.from({ length: 2000 }, (_, k) => {
      const at = [(k % 50) * 1.6 - 40, Math.floor(k / 50) * 1.6 - 32] as const;
      return pointPatch(`p${k}`, k % 2 === 0 ? 'r0' : `r${k % 300}`, at, 1);
    });
    const design = bench({ references, patches }, [0, 0, 250]);
    const { cells, references: all } = reachOf(design);
    expect(all).toHaveLength(300);
    expect(cells.places.length * all.length).toBeLessThan(250_000);
    const svg = reachMapSvg(design, FINAL);
    expect(svg.length).toBeLessThan(400_000);
    expect(svg).toContain('and 276 more references');
    expect(svg).toContain('its 12 finest patches');
  });
});

test('a height inside the glass is refused', () => {
  expect(() => reachInSpace(bench({}, [0, 0, 200]), PLACE, 0)).toThrow(/beyond the glass/);
});
