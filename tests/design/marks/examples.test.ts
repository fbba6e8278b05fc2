/**
 * All examples with `marks: auto`: every mark finds room, and by points along all edges, without the program's own clearances, no mark comes
 * nearer to anything than it may. mm.
 */
import { readdirSync, readFileSync } from 'node:fs';
import { describe, expect, test } from 'vitest';
import { patternsOf } from '../../../src/design/design.ts';
import { designScenario } from '../../../src/design/design-scenario.ts';
import { marksOf } from '../../../src/design/marks/marks.ts';
import { readScenario } from '../../../src/reading/scenario/read-scenario.ts';
import { applyRules } from '../../../src/rules/all-rules.ts';
import { edgeOf, isIn, type Point, type Shape } from '../../independent/outline-points.ts';

const EXAMPLES = readdirSync('examples').filter((name) => name.endsWith('.yaml'));

function designOf(name: string) {
  const text = readFileSync(`examples/${name}`, 'utf8').replace(/^(marks|drawing):.*\n( {2}.*\n)*/gm, '');
  const file = (path: string) => readFileSync(`examples/${path}`);
  const { scenario } = readScenario(
    `${text}\nmarks: auto\ndrawing: {number: HT-0417, revision: B}\n`,
    name,
    undefined,
    file,
  );
  const made = scenario && designScenario(scenario);
  return made && 'design' in made ? made.design : undefined;
}
const designs = EXAMPLES.flatMap((name) => {
  const design = designOf(name);
  return design === undefined ? [] : [[name, design] as const];
});

test('every example but the open one has marks', () => {
  expect(designs.length).toBe(EXAMPLES.length - 1);
});

const apart = (some: readonly Point[], others: readonly Point[]): number =>
  Math.min(...some.map(([x, y]) => Math.min(...others.map(([u, v]) => Math.hypot(x - u, y - v)))));

describe.each(designs)('%s', (_, design) => {
  const { scenario } = design;
  const { marks, missing } = marksOf(design);
  /** Rectangles of marks, from what is written of them. */
  const written = marks.map(({ form, at, ...mark }) => {
    const all = [...form.polygons, ...form.lines].flat().map(([x, y]): Point => [at[0] + x, at[1] + y]);
    const ends = (axis: 0 | 1): number[] => [
      Math.min(...all.map((p) => p[axis])),
      Math.max(...all.map((p) => p[axis])),
    ];
    const [[left, right], [bottom, top]] = [ends(0), ends(1)] as [number[], number[]];
    const box: Shape = {
      shape: 'polygon',
      points: [
        [left!, bottom!],
        [right!, bottom!],
        [right!, top!],
        [left!, top!],
      ],
    };
    return { ...mark, shape: box, edge: edgeOf(box, 8) };
  });
  const others: readonly Shape[] = [
    ...patternsOf(design).map(({ pattern }) => pattern.outline),
    ...scenario.keepOuts.map(({ outline }) => outline),
    // On either face: a mark under a bonded seat cannot be read through the glass.
    ...scenario.seats.map(
      ({ at, footprint }): Shape => ({ shape: 'circle', centre: at, radius: footprint / 2 }),
    ),
  ];

  test('none is left out, and the rule finds no clash', () => {
    expect(missing).toEqual([]);
    expect(marks.length).toBe(9 + design.patches.length);
    expect(applyRules(design).filter(({ rule }) => rule === 'mark-clash')).toEqual([]);
  });

  test('each stands off everything else on the glass, and its margin inside the edge', () => {
    const { clearance, edgeMargin, outline } = scenario.substrate;
    const rim = edgeOf(outline, 1000);
    const edges = others.map((other) => edgeOf(other, other.shape === 'polygon' ? 6 : 200));
    for (const [k, { name, edge }] of written.entries()) {
      expect(
        edge.every((at) => isIn(outline, at)),
        name,
      ).toBe(true);
      expect(apart(edge, rim), name).toBeGreaterThan(edgeMargin - 1e-9);
      for (const [i, other] of others.entries()) {
        expect(
          edge.some((at) => isIn(other, at)),
          name,
        ).toBe(false);
        expect(apart(edge, edges[i]!), name).toBeGreaterThan(clearance - 1e-9);
      }
      for (const before of written.slice(0, k)) {
        expect(apart(edge, before.edge), `${name}, ${before.name}`).toBeGreaterThan(0.29);
        expect(
          edge.some((at) => isIn(before.shape, at)),
          `${name}, ${before.name}`,
        ).toBe(false);
      }
    }
  });

  test('each patch’s number is nearest to its own patch', () => {
    for (const [k, patch] of design.patches.entries()) {
      const mark = written.find(({ name }) => name === `patch ${k + 1}`)!;
      const to = (shape: Shape): number => apart(mark.edge, edgeOf(shape, 60));
      const own = to(patch.outline);
      for (const other of design.patches)
        if (other !== patch) expect(to(other.outline)).toBeGreaterThan(own - 0.2);
    }
  });
});
