/** The drawing's model as a flat list of what a writer can write, in drawing order: layer by layer. mm, substrate frame. */
import makerjs from 'makerjs';
import type { Vec2 } from '../../geometry/vector.ts';
import type { Align, ExactArc, LoopModel, OwnedModel, TextModel } from './drawing.ts';
import type { LayerName } from './layers.ts';
import { anchorOf } from './text-model.ts';

/** A vertex of a closed loop and the run from it to the next: bulge = tan(sweep/4), 0 and no radius where straight. */
export interface Vertex {
  readonly point: Vec2;
  readonly bulge: number;
  readonly radius: number | undefined;
}

type Shape =
  | { readonly kind: 'line'; readonly from: Vec2; readonly to: Vec2 }
  | { readonly kind: 'circle'; readonly centre: Vec2; readonly radius: number }
  | { readonly kind: 'loop'; readonly vertices: readonly Vertex[] }
  | {
      readonly kind: 'text';
      readonly text: string;
      readonly at: Vec2;
      readonly height: number;
      readonly align: Align;
      readonly angle: number;
    };

export type Drawn = Shape & {
  readonly layer: LayerName;
  /** Id of the patch or keep-out that it belongs to. */
  readonly owner: string | undefined;
};

export function walkDrawing(model: MakerJs.IModel): Drawn[] {
  const drawn: Drawn[] = [];
  const owners: (string | undefined)[] = [];
  const draw = (layer: string, shape: Shape) =>
    drawn.push({ ...shape, layer: layer as LayerName, owner: owners.at(-1) });
  makerjs.model.walk(model, {
    beforeChildWalk({ childModel, layer }) {
      if (isLoop(childModel)) draw(layer, { kind: 'loop', vertices: verticesOf(childModel) });
      if (isText(childModel)) draw(layer, textOf(childModel));
      if (isLoop(childModel) || isText(childModel)) return false;
      owners.push(isOwned(childModel) ? childModel.owner : owners.at(-1));
      return true;
    },
    afterChildWalk() {
      owners.pop();
    },
    onPath({ pathContext, layer }) {
      draw(layer, shapeOf(pathContext));
    },
  });
  return drawn;
}

const isLoop = (model: MakerJs.IModel): model is LoopModel => 'closed' in model;
const isText = (model: MakerJs.IModel): model is TextModel => model.caption !== undefined;
const isOwned = (model: MakerJs.IModel): model is OwnedModel => 'owner' in model;

function verticesOf(loop: LoopModel): Vertex[] {
  return Object.values(loop.paths ?? {}).map((path): Vertex => {
    if (!isArc(path)) return { point: pointOf(path.origin), bulge: 0, radius: undefined };
    return { point: path.start, bulge: path.bulge, radius: path.radius };
  });
}

function textOf(model: TextModel): Shape {
  const { at, angle } = anchorOf(model);
  return { kind: 'text', text: model.caption.text, at, height: model.height, align: model.align, angle };
}

function shapeOf(path: MakerJs.IPath): Shape {
  if (isLine(path)) return { kind: 'line', from: pointOf(path.origin), to: pointOf(path.end) };
  if (isCircle(path)) return { kind: 'circle', centre: pointOf(path.origin), radius: path.radius };
  throw new TypeError(`a drawing holds lines and circles outside its loops, got a path of type ${path.type}`);
}

const isArc = (path: MakerJs.IPath): path is ExactArc => path.type === makerjs.pathType.Arc;
const isLine = (path: MakerJs.IPath): path is MakerJs.IPathLine => path.type === makerjs.pathType.Line;
const isCircle = (path: MakerJs.IPath): path is MakerJs.IPathCircle => path.type === makerjs.pathType.Circle;
const pointOf = (point: MakerJs.IPoint): Vec2 => [point[0]!, point[1]!];
