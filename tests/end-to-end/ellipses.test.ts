/**
 * Ellipses from a scenario's words to what the rules say, at limits worked by hand on the axes: there the ends of two ellipses face each
 * other, and the flatter one holds the other in. mm.
 */
import { describe, expect, it } from 'vitest';
import { reportOf } from './support/command.ts';

interface Report {
  readonly findings: readonly { readonly rule: string; readonly message: string }[];
  readonly patches: readonly { readonly outline: unknown }[];
}

const SUBSTRATE = { width: 150, height: 120 };
const KEEP_OUT = { width: 60, height: 40 };

/** What the rules say of `place` where an upright cylinder of 10 mm stands at it, through the height of the glass. */
async function saidOfPost([x, y]: readonly [number, number], rotation: number): Promise<readonly string[]> {
  const { findings } = await reportOf<Report>({
    substrate: {
      outline: { ellipse: { ...SUBSTRATE, rotation: `${rotation} rad` } },
      thickness: 6.35,
      glass: 'fused silica',
    },
    part: {
      origin: [0, 0, 0],
      envelope: [{ cylinder: { point: [x, y, -20], axis: [0, 0, 1], diameter: 10, length: 40 } }],
    },
  });
  return findings.map(({ message }) => message).filter((message) => message.includes('into the substrate'));
}

describe('a part beside an elliptic blank', () => {
  it.each([0, 0.7, 1.9, 4])('stands clear or in the glass by where its edge is, at t = %d', async (t) => {
    const [a, b, rotation] = [SUBSTRATE.width / 2, SUBSTRATE.height / 2, 0.3];
    const [c, s] = [Math.cos(rotation), Math.sin(rotation)];
    // The normal of (a cos t, b sin t) is along (b cos t, a sin t).
    const normal = [b * Math.cos(t), a * Math.sin(t)] as const;
    const size = Math.hypot(...normal);
    const post = (away: number): readonly [number, number] => {
      const [u, v] = [
        a * Math.cos(t) + ((5 + away) * normal[0]) / size,
        b * Math.sin(t) + ((5 + away) * normal[1]) / size,
      ];
      return [u * c - v * s, u * s + v * c];
    };
    expect(await saidOfPost(post(1e-3), rotation)).toEqual([]);
    expect(await saidOfPost(post(-1e-3), rotation)).toHaveLength(1);
  });
});

/** One patch of 20 × 10 mm, its own axes turned by a quarter and back, on the y axis at `y`. */
const report = (y: number): Promise<Report> =>
  reportOf<Report>({
    substrate: { outline: { ellipse: SUBSTRATE }, edgeMargin: 3, clearance: 2 },
    keepOuts: [{ id: 'hole', outline: { ellipse: KEEP_OUT } }],
    references: [{ id: 'ball', kind: 'ball', diameter: 20, at: [0, 60, 300] }],
    patches: [
      {
        id: 'one',
        reference: 'ball',
        focus: 'point',
        centre: [0, y],
        outline: { ellipse: { width: 10, height: 20, rotation: '90 deg' } },
      },
    ],
  });

describe('an elliptic patch on an elliptic blank', () => {
  // The blank's edge is at 60 and the patch reaches 5 past its centre: 52 is the last place with 3 mm to the edge.
  // The keep-out's edge is at 20: 27 is the last place with 2 mm to it.
  it.each([
    ['near the edge, at its limit', 51.9999, []],
    ['two micrometres past it', 52.002, ['off-substrate']],
    ['near the keep-out, at its limit', 27.0001, []],
    ['two micrometres into its clearance', 26.998, ['keep-out']],
  ])('%s', async (_, y, codes) => {
    const { findings, patches } = await report(y);
    const layout = findings.map(({ rule }) => rule).filter((rule) => /edge|keep|substrate|gap/.test(rule));
    expect(layout).toEqual(codes);
    expect(patches[0]!.outline).toEqual({
      shape: 'ellipse',
      centre_mm: [0, y],
      width_mm: 10,
      height_mm: 20,
      rotation_deg: 90,
    });
  });
});
