/**
 * The reach map as SVG: for each reference the glass with the places that can serve it under `process.minFeature`, and beside it,
 * at the reference's height, the region that each of its patches can serve at all, from where its pattern is finest: the patch can
 * be written exactly if the reference lies in it. True to scale within a panel, seen from the part side,
 * x to the right and y up. Not written here: where the part or other patches stand in the way (rules `blocked`, `patch-overlap`).
 */
import type { Design, DesignedPatch } from '../design/design.ts';
import { periodRange } from '../design/period-range.ts';
import { boundsOf } from '../geometry/extent.ts';
import type { Outline } from '../geometry/outline.ts';
import { boundaryPoints } from '../geometry/sampling.ts';
import type { Vec2 } from '../geometry/vector.ts';
import { type GlassReach, reachInSpace, reachOverGlass } from '../planning/reach.ts';
import { sitesOf } from '../planning/sites.ts';
import { trimmed } from '../quantity/format.ts';

/** Panel side and the gap around it, in the drawing's units (px). */
const SIDE = 240;
const GAP = 24;
const CAPTION = 40;
const SITES = 900;
const EDGE_POINTS = 96;
const UM_PER_MM = 1000;

export function reachMapSvg(design: Design): string {
  const grid = sitesOf(design, SITES);
  const rows = design.references.map((reference, row) => {
    const reach = reachOverGlass(design, reference, grid);
    const patches = design.patches.filter((patch) => patch.reference.id === reference.id);
    const top = GAP + row * (SIDE + CAPTION + GAP);
    return [
      glassPanel(design, reach, patches, GAP, top),
      spacePanel(design, reach, patches, 2 * GAP + SIDE, top),
    ].join('\n');
  });
  const [width, height] = [3 * GAP + 2 * SIDE, GAP + rows.length * (SIDE + CAPTION + GAP)];
  return `<?xml version="1.0" encoding="UTF-8"?>
<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 ${width} ${height}" width="${width}" height="${height}" font-family="sans-serif" font-size="11">
<title>Reach under ${escaped(trimmed(design.scenario.process.minFeature * UM_PER_MM, 3))} µm features</title>
<style>.served{fill:#2e7d5b}.out{fill:#d9d9d9}.edge{fill:none;stroke:#222}.patch{fill:none;stroke:#b3261e;stroke-width:1.5}.reach{fill:#2e7d5b22;stroke:#2e7d5b}.target{fill:#b3261e}</style>
<rect width="100%" height="100%" fill="#fff"/>
${rows.join('\n')}
</svg>
`;
}

function glassPanel(
  design: Design,
  reach: GlassReach,
  patches: readonly DesignedPatch[],
  left: number,
  top: number,
): string {
  const { scenario } = design;
  const place = fitted(boundsPoints(scenario.substrate.outline), left, top);
  const cell = Math.max(1, (reach.grid.pitch * place.scale) / 2.5);
  const dots = reach.grid.sites.map(({ at }, k) => {
    const [x, y] = place.at(at);
    return `<circle class="${reach.served[k] ? 'served' : 'out'}" cx="${n(x)}" cy="${n(y)}" r="${n(cell)}"/>`;
  });
  const count = reach.served.filter(Boolean).length;
  const share = reach.grid.sites.length === 0 ? 0 : (100 * count) / reach.grid.sites.length;
  return [
    `<g><title>${escaped(reach.reference.id)}: the glass</title>`,
    ...dots,
    path(scenario.substrate.outline, place, 'edge'),
    ...scenario.keepOuts.map(({ outline }) => path(outline, place, 'edge')),
    ...patches.map(({ outline }) => path(outline, place, 'patch')),
    caption(
      left,
      top,
      `${reach.reference.id}: ${trimmed(share, 0)} % of the free glass can serve it`,
      largestFeature(reach),
    ),
    '</g>',
  ].join('\n');
}

const largestFeature = ({ features }: GlassReach): string =>
  features.length === 0
    ? 'no free glass'
    : `coarsest feature there ${trimmed(Math.max(...features) * UM_PER_MM, 2)} µm`;

function spacePanel(
  design: Design,
  reach: GlassReach,
  patches: readonly DesignedPatch[],
  left: number,
  top: number,
): string {
  const { at, id } = reach.reference;
  const regions = patches.map((patch) => reachInSpace(design, periodRange(patch).minAt, at[2]));
  const target: Vec2 = [at[0], at[1]];
  const place = fitted(
    [target, ...regions.flatMap(({ edge }) => edge), ...boundsPoints(design.scenario.substrate.outline)],
    left,
    top,
  );
  const [x, y] = place.at(target);
  return [
    `<g><title>${escaped(id)}: at its height</title>`,
    ...regions.map(({ edge }) => `<path class="reach" d="${closed(edge.map(place.at))}"/>`),
    path(design.scenario.substrate.outline, place, 'edge'),
    `<circle class="target" cx="${n(x)}" cy="${n(y)}" r="3"/>`,
    caption(
      left,
      top,
      `at z ${trimmed(at[2], 1)} mm: reach of its ${patches.length === 1 ? 'patch' : `${patches.length} patches`}`,
      `${id} at x ${trimmed(at[0], 1)}, y ${trimmed(at[1], 1)} mm; outline: the glass`,
    ),
    '</g>',
  ].join('\n');
}

interface Placed {
  readonly scale: number;
  readonly at: (point: Vec2) => Vec2;
}

/** From mm to the panel, y up. */
function fitted(points: readonly Vec2[], left: number, top: number): Placed {
  const xs = points.map(([x]) => x);
  const ys = points.map(([, y]) => y);
  const [minX, maxX, minY, maxY] = [Math.min(...xs), Math.max(...xs), Math.min(...ys), Math.max(...ys)];
  const scale = SIDE / Math.max(maxX - minX, maxY - minY, 1e-9);
  const [midX, midY] = [(minX + maxX) / 2, (minY + maxY) / 2];
  return {
    scale,
    at: ([x, y]) => [left + SIDE / 2 + (x - midX) * scale, top + SIDE / 2 - (y - midY) * scale],
  };
}

const boundsPoints = (outline: Outline): Vec2[] => {
  const { minX, minY, maxX, maxY } = boundsOf(outline);
  return [
    [minX, minY],
    [maxX, maxY],
  ];
};

function path(outline: Outline, place: Placed, kind: string): string {
  const { xs, ys } = boundaryPoints(outline, EDGE_POINTS);
  const points = Array.from(xs, (x, k) => place.at([x, ys[k]!]));
  // A ring's two circles are one list of points: the jump between them is drawn as a new start.
  const second =
    outline.shape === 'ring'
      ? Math.ceil(points.length * (outline.outer / (outline.outer + outline.inner)))
      : points.length;
  const loops = [points.slice(0, second), points.slice(second)].filter((loop) => loop.length > 2);
  return `<path class="${kind}" d="${loops.map(closed).join(' ')}"/>`;
}

const closed = (points: readonly Vec2[]): string =>
  `M${points.map(([x, y]) => `${n(x)} ${n(y)}`).join('L')}Z`;

const caption = (left: number, top: number, first: string, second: string): string =>
  `<text x="${left}" y="${top + SIDE + 16}">${escaped(first)}</text><text x="${left}" y="${top + SIDE + 31}" fill="#555">${escaped(second)}</text>`;

const n = (value: number): string => trimmed(value, 2);

const escaped = (text: string): string =>
  text.replaceAll('&', '&amp;').replaceAll('<', '&lt;').replaceAll('>', '&gt;').replaceAll('"', '&quot;');
