/**
 * One drawing model for all writers: a makerjs model of lines, arcs, circles and captions, a model per layer, in mm in the
 * substrate frame (x right, y up, seen from the part side). makerjs keeps an arc's ends as angles in degrees, which loses
 * some picometres, so an arc carries its exact ends beside them; a text carries its height and alignment.
 */
import makerjs from 'makerjs';
import type { Vec2 } from '../../geometry/vector.ts';
import type { Layer, LayerName } from './layers.ts';
import type { Lettering } from './lettering.ts';
import type { Drawn } from './walk-drawing.ts';

export interface Box {
  readonly left: number;
  readonly bottom: number;
  readonly right: number;
  readonly top: number;
}

/** Laid out once, written in several formats. */
export interface Drawing {
  readonly shapes: readonly Drawn[];
  /** Of the scenario, fit to be shown, or what stands for it. */
  readonly title: string;
  /** What is drawn and from which side it is seen. */
  readonly description: string;
  readonly draft: boolean;
  /** The trimmed sheet. */
  readonly sheet: Box;
  /** Such as `A3`, or undefined for a sheet of no standard size. */
  readonly sheetName: string | undefined;
  readonly lettering: Lettering;
  /** 1, or less where many small patches would be covered by lines of the common widths: a factor to those on patches. */
  readonly patchLines: number;
}

const ON_PATCHES: ReadonlySet<LayerName> = new Set(['PATCHES', 'FOCUS_LINES', 'CENTRE_LINES']);

/** Width of a layer's lines, mm. */
export const lineWidth = (
  { name, width }: Layer,
  { lettering, patchLines }: Pick<Drawing, 'lettering' | 'patchLines'>,
): number => width * lettering.narrowLine * (ON_PATCHES.has(name) ? patchLines : 1);

/** An arc with its exact ends in the order in which it is run through; bulge = tan(sweep/4), sweep > 0 counterclockwise. */
export interface ExactArc extends MakerJs.IPathArc {
  readonly start: Vec2;
  readonly finish: Vec2;
  readonly bulge: number;
}

/** A closed run of lines and arcs, each starting where the one before ends. */
export interface LoopModel extends MakerJs.IModel {
  readonly closed: true;
}

export type Align = 'left' | 'centre' | 'right';

/** A caption with its height; the anchor runs along the base line over the whole room reserved for the text. */
export interface TextModel extends MakerJs.IModel {
  readonly caption: MakerJs.ICaption;
  readonly height: number;
  readonly align: Align;
}

/** A model of one layer that belongs to one keep-out or patch, whose id goes into the files. */
export interface OwnedModel extends MakerJs.IModel {
  readonly owner: string;
}

/** Gathers models layer by layer under keys of its own: an id from a scenario never becomes a key. */
export class DrawingLayers {
  readonly #layers = new Map<LayerName, MakerJs.IModel[]>();

  add(layer: LayerName, ...models: readonly MakerJs.IModel[]): void {
    const held = this.#layers.get(layer) ?? [];
    this.#layers.set(layer, held);
    held.push(...models);
  }

  model(order: readonly LayerName[]): MakerJs.IModel {
    const models: Record<string, MakerJs.IModel> = {};
    for (const layer of order) {
      const held = this.#layers.get(layer);
      if (held) models[layer] = { layer, models: keyed(held) };
    }
    return { units: makerjs.unitType.Millimeter, models };
  }
}

export const lineModel = (...lines: readonly (readonly [Vec2, Vec2])[]): MakerJs.IModel => ({
  paths: Object.fromEntries(
    lines.map(([from, to], index) => [`p${index}`, new makerjs.paths.Line([...from], [...to])]),
  ),
});

const keyed = (models: readonly MakerJs.IModel[]): Record<string, MakerJs.IModel> =>
  Object.fromEntries(models.map((model, index) => [`m${index}`, model]));

/** The curves of one patch or keep-out, under its id. */
export const ownedModel = (owner: string, curves: readonly MakerJs.IModel[]): OwnedModel => ({
  owner,
  models: keyed(curves),
});

export const circleModel = (centre: Vec2, radius: number): MakerJs.IModel => ({
  paths: { p0: new makerjs.paths.Circle([...centre], radius) },
});

/** A closed polygon. */
export function polygonModel(points: readonly Vec2[]): LoopModel {
  const lines = points.map((point, index) => [point, points[(index + 1) % points.length]!] as const);
  return { ...lineModel(...lines), closed: true };
}
