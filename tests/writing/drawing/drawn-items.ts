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
