/** What stands on a layer of a drawing, for tests: its texts, its lines, circles and loops. mm, substrate frame. */
import type { Vec2 } from '../../../src/geometry/vector.ts';
import { type Drawing, isText, type Text } from '../../../src/writing/drawing/drawing.ts';
import { LAYERS, type LayerName } from '../../../src/writing/drawing/layers.ts';
import { type Vertex, writeCurves } from '../../../src/writing/drawing/outline-model.ts';

export interface DrawnLine {
  readonly kind: 'line';
  readonly from: Vec2;
  readonly to: Vec2;
}

type DrawnCurve = { readonly owner: string | undefined } & (
  | DrawnLine
  | { readonly kind: 'circle'; readonly centre: Vec2; readonly radius: number }
  | { readonly kind: 'loop'; readonly vertices: readonly Vertex[] }
);

export const LAYER_NAMES = LAYERS.map(({ name }) => name);

export const textsOn = ({ layers }: Drawing, ...names: readonly LayerName[]): Text[] =>
  names.flatMap((name) => (layers.get(name) ?? []).filter(isText));

export const curvesOn = ({ layers }: Drawing, ...names: readonly LayerName[]): DrawnCurve[] =>
  names.flatMap((name) =>
    (layers.get(name) ?? []).flatMap((item) => {
      if (isText(item)) return [];
      const { owner } = item;
      return writeCurves<DrawnCurve>(item, {
        line: (from, to) => ({ kind: 'line', from, to, owner }),
        circle: (centre, radius) => ({ kind: 'circle', centre, radius, owner }),
        loop: (vertices) => ({ kind: 'loop', vertices, owner }),
      });
    }),
  );

export const linesOn = (drawing: Drawing, name: LayerName): DrawnLine[] =>
  curvesOn(drawing, name).flatMap((curve) => (curve.kind === 'line' ? [curve] : []));

/** mm², positive counterclockwise: the polygon of the corners and the segments of circle on its sides, θ the sweep of each. */
export const loopArea = (loop: readonly Vertex[]): number =>
  loop.reduce((sum, { point: [x, y], bulge }, k) => {
    const [u, v] = loop[(k + 1) % loop.length]!.point;
    const sweep = 4 * Math.atan(bulge);
    const radius = bulge === 0 ? 0 : Math.hypot(u - x, v - y) / (2 * Math.sin(sweep / 2));
    return sum + (x * v - u * y) / 2 + (radius ** 2 * (sweep - Math.sin(sweep))) / 2;
  }, 0);
