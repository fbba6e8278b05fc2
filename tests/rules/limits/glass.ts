/**
 * Where patches may stand: patch-overlap, keep-out and off-substrate at their limits. mm; gaps by elementary geometry: circles by
 * the distance of their centres (3-4-5 triangles), corners by Pythagoras.
 */
import type { Words } from '../../metrology/support/design-from.ts';
import { type Table, table } from '../support/fact.ts';
import { RULE } from '../support/rule-codes.ts';

/** Nothing but what these rules look at: no glass, a beam without bounds, one far ball. */
const scene = (more: Words): Words => ({
  interferometer: { collimated: true },
  substrate: { outline: { circle: { diameter: 200 } }, clearance: 0.5 },
  references: [{ id: 'r', kind: 'ball', diameter: 12, at: [0, 0, 500] }],
  ...more,
});
const patch = (id: string, centre: readonly [number, number], outline: Words): Words => ({
  id,
  reference: 'r',
  focus: 'point',
  centre,
  outline,
});
const circle = (radius: number): Words => ({ circle: { diameter: 2 * radius } });
const square = (width: number, rotation = 0): Words => ({
  rectangle: { width, height: width, rotation },
});
/** At this distance from the origin, in the direction of a 3-4-5 triangle. */
const slanted = (distance: number): readonly [number, number] => [0.6 * distance, 0.8 * distance];
/** A nanometre beside the limit. */
const NM = 1e-6;

const APART = table(
  'two patches stand at least the clearance apart',
  { rule: RULE.overlap, severity: 'error', unit: 'mm' },
  () => {
    const pair = (apart: number, other = circle(3), own = circle(5), clearance = 0.5): Words =>
      scene({
        substrate: { outline: { circle: { diameter: 200 } }, clearance },
        patches: [patch('a', [0, 0], own), patch('b', slanted(apart), other)],
      });
    const said = (value: number, limit = 0.5) => [{ where: 'a, b', value, limit }];
    // The corner of a square of 10 mm seen from a circle beyond it.
    const cornered = (gap: number): Words => {
      const [dx, dy] = slanted(gap + 4);
      return scene({ patches: [patch('a', [0, 0], square(10)), patch('b', [5 + dx, 5 + dy], circle(4))] });
    };
    const inBore = (gap: number): Words =>
      scene({
        patches: [
          patch('a', [0, 0], { ring: { inner: 60, outer: 80 } }),
          patch('b', slanted(30 - 5 - gap), circle(5)),
        ],
      });
    // A square on its corner reaches √2 of half its side; the corner faces a flat side.
    const onCorner = (gap: number): Words =>
      scene({
        patches: [
          patch('a', [0, 0], square(10, 45)),
          patch('b', [5 * Math.SQRT2 + gap + 4, 0], { rectangle: { width: 8, height: 30 } }),
        ],
      });
    return [
      ['circles a nanometre more than the clearance apart', pair(8.5 + NM), []],
      ['circles the clearance apart', pair(8.5), []],
      ['circles a nanometre less apart', pair(8.5 - NM), said(0.5 - NM)],
      ['circles that touch', pair(8), said(0)],
      ['circles that overlap by 1 mm', pair(7), said(-1)],
      ['touching circles where no clearance is asked', pair(8, circle(3), circle(5), 0), []],
      ['overlapping ones where none is asked', pair(8 - NM, circle(3), circle(5), 0), said(-NM, 0)],
      ['a clearance of 2 mm, kept', pair(10, circle(3), circle(5), 2), []],
      ['a clearance of 2 mm, not kept', pair(9.9, circle(3), circle(5), 2), said(1.9, 2)],
      ['a circle the clearance off a corner', cornered(0.5), []],
      ['a circle a nanometre nearer to the corner', cornered(0.5 - NM), said(0.5 - NM)],
      ['a circle the clearance from the wall of the bore that it stands in', inBore(0.5), []],
      ['a circle a nanometre nearer to that wall', inBore(0.5 - NM), said(0.5 - NM)],
      ['a square on its corner, the clearance from a side', onCorner(0.5), []],
      ['a square on its corner, a nanometre nearer', onCorner(0.5 - NM), said(0.5 - NM)],
      [
        'of three in a row each pair that is too near, once',
        scene({
          patches: [
            patch('a', [0, 0], circle(5)),
            patch('b', [10.4, 0], circle(5)),
            patch('c', [20.7, 0], circle(5)),
          ],
        }),
        [
          { where: 'a, b', value: 0.4, limit: 0.5 },
          { where: 'b, c', value: 0.3, limit: 0.5 },
        ],
      ],
    ];
  },
);

const KEPT_OUT = table(
  'a patch keeps the clearance from every keep-out',
  { rule: RULE.keepOut, severity: 'error', unit: 'mm' },
  () => {
    const beside = (gap: number, clearance = 0.5): Words =>
      scene({
        substrate: { outline: { circle: { diameter: 200 } }, clearance },
        keepOuts: [{ id: 'main', outline: circle(45) }],
        patches: [patch('p', slanted(45 + gap + 5), circle(5))],
      });
    const inBore = (gap: number): Words =>
      scene({
        keepOuts: [{ id: 'main', outline: { ring: { inner: 60, outer: 100 } } }],
        patches: [patch('p', slanted(30 - gap - 5), circle(5))],
      });
    const said = (value: number, limit = 0.5) => [{ where: 'p, main', value, limit }];
    return [
      ['a nanometre more than the clearance off', beside(0.5 + NM), []],
      ['the clearance off', beside(0.5), []],
      ['a nanometre less', beside(0.5 - NM), said(0.5 - NM)],
      ['clear of it, but by less than the clearance', beside(0.1), said(0.1)],
      ['touching it', beside(0), said(0)],
      ['2 mm inside it', beside(-2), said(-2)],
      ['touching it where no clearance is asked', beside(0, 0), []],
      ['a nanometre inside where none is asked', beside(-NM, 0), said(-NM, 0)],
      ['the clearance from the wall of a ring that it stands in', inBore(0.5), []],
      ['a nanometre nearer to that wall', inBore(0.5 - NM), said(0.5 - NM)],
      [
        'between two keep-outs, too near to both',
        scene({
          keepOuts: [
            { id: 'left', outline: { rectangle: { width: 20, height: 20, centre: [-15.2, 0] } } },
            { id: 'right', outline: { rectangle: { width: 20, height: 20, centre: [15.3, 0] } } },
          ],
          patches: [patch('p', [0, 0], circle(5))],
        }),
        [
          { where: 'p, left', value: 0.2, limit: 0.5 },
          { where: 'p, right', value: 0.3, limit: 0.5 },
        ],
      ],
    ];
  },
);

const ON_GLASS = table(
  'a patch keeps the edge margin',
  { rule: RULE.offSubstrate, severity: 'error', unit: 'mm' },
  () => {
    const on = (outline: Words, edgeMargin: number, centre: readonly [number, number]): Words =>
      scene({
        substrate: { outline, clearance: 9, edgeMargin },
        patches: [patch('p', centre, circle(5))],
      });
    const disc = (margin: number, edgeMargin = 3): Words =>
      on(circle(75), edgeMargin, slanted(75 - margin - 5));
    const squareOnDisc = (margin: number): Words => ({
      ...disc(0),
      // Its far corner stands at (45, 60), 75 mm off, less the margin.
      patches: [patch('p', [0.6 * (75 - margin) - 5, 0.8 * (75 - margin) - 5], square(10))],
    });
    const plate = (margin: number): Words =>
      on({ rectangle: { width: 100, height: 60 } }, 3, [0, -(30 - margin - 5)]);
    const bored = (margin: number): Words =>
      on({ ring: { inner: 30, outer: 150 } }, 3, slanted(15 + margin + 5));
    const said = (value: number, limit = 3) => [{ where: 'p', value, limit }];
    return [
      ['a nanometre more than the margin from the edge', disc(3 + NM), []],
      ['the margin from the edge', disc(3), []],
      ['a nanometre less', disc(3 - NM), said(3 - NM)],
      ['at the edge', disc(0), said(0)],
      ['reaching 2 mm past it', disc(-2), said(-2)],
      ['wholly off the glass', disc(-14), said(-14)],
      ['at the edge where no margin is asked', disc(0, 0), []],
      ['a nanometre past it where none is asked', disc(-NM, 0), said(-NM, 0)],
      ['a square’s corner the margin from a round edge', squareOnDisc(3), []],
      ['a square’s corner a nanometre nearer', squareOnDisc(3 - NM), said(3 - NM)],
      ['the margin from a plate’s lower edge', plate(3), []],
      ['a nanometre nearer to it', plate(3 - NM), said(3 - NM)],
      ['the margin from the bore of a ring', bored(3), []],
      ['a nanometre nearer to the bore', bored(3 - NM), said(3 - NM)],
      ['reaching 4 mm into the bore', bored(-4), said(-4)],
    ];
  },
);

export const GLASS: readonly Table[] = [APART, KEPT_OUT, ON_GLASS];
