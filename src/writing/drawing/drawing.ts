/**
 * The drawing that all writers share, laid out once: what stands on each layer, in the order in which it is written. Curves are
 * makerjs models of lines, arcs and circles, texts are our own. mm, substrate frame (x right, y up, seen from the part side).
 */
import makerjs from 'makerjs';
import type { Vec2 } from '../../geometry/vector.ts';
import type { Layer, LayerName } from './layers.ts';
import type { Lettering } from './lettering.ts';

export interface Box {
  readonly left: number;
  readonly bottom: number;
  readonly right: number;
  readonly top: number;
}

export interface Drawing {
  /** What stands on each layer; a layer without anything is missing. */
  readonly layers: ReadonlyMap<LayerName, readonly Item[]>;
  /** Of the scenario, fit to be shown, or what stands for it. */
  readonly title: string;
  /** What is drawn and from which side it is seen. */
  readonly description: string;
  readonly draft: boolean;
  /** The trimmed sheet. */
  readonly sheet: Box;
  /** What is not of the sheet itself lies in it: substrate, patterns, captions and dimensions. */
  readonly view: Box;
  /** Such as `A3`, or undefined for a sheet of no standard size. */
  readonly sheetName: string | undefined;
  readonly lettering: Lettering;
  /** 1, or less where many small patches would be covered by lines of the common widths: a factor to those on patches. */
  readonly patchLines: number;
}

/** `owner`: id of the patch, keep-out or seat that it belongs to, which goes into the files. */
export type Item = Curves | Text;

/** Lines and circles; or, closed, one loop of lines and arcs, each of which begins where the one before ends. */
export interface Curves extends MakerJs.IModel {
  readonly paths: MakerJs.IPathMap;
  readonly closed?: boolean;
  /** Closed too, on a layer of filled areas: what is left out of the area. */
  readonly holes?: readonly Curves[];
  readonly owner?: string | undefined;
}

export type Align = 'left' | 'centre' | 'right';

/** A line of text. */
export interface Text {
  readonly text: string;
  /** On the base line: its left end, middle or right end by `align`. */
  readonly at: Vec2;
  /** Of the capitals. */
  readonly height: number;
  readonly align: Align;
  /** By which it is turned about `at`, radians. */
  readonly angle: number;
  readonly owner?: string | undefined;
}

export const isText = (item: Item): item is Text => 'text' in item;

/** A straight line from one point to another. */
export type Line = readonly [Vec2, Vec2];

export const levelLine = (left: number, right: number, y: number): Line => [
  [left, y],
  [right, y],
];
export const uprightLine = (x: number, bottom: number, top: number): Line => [
  [x, bottom],
  [x, top],
];

export const lineCurves = (...lines: readonly Line[]): Curves =>
  curvesOf(lines.map(([from, to]) => new makerjs.paths.Line([...from], [...to])));

export const circleCurves = (centre: Vec2, radius: number): Curves =>
  curvesOf([new makerjs.paths.Circle([...centre], radius)]);

export const closedCurves = (paths: readonly MakerJs.IPath[]): Curves => ({
  ...curvesOf(paths),
  closed: true,
});

export const polygonCurves = (points: readonly Vec2[]): Curves => ({
  paths: new makerjs.models.ConnectTheDots(
    true,
    points.map(([x, y]) => [x, y]),
  ).paths,
  closed: true,
});

const curvesOf = (paths: readonly MakerJs.IPath[]): Curves => ({
  paths: Object.fromEntries(paths.map((path, index) => [`p${index}`, path])),
});

export const ownedBy = (owner: string, items: readonly Item[]): Item[] =>
  items.map((item) => ({ ...item, owner }));

const ON_PATCHES: ReadonlySet<LayerName> = new Set(['PATCHES', 'FOCUS_LINES', 'CENTRE_LINES']);

/** Width of a layer's lines, mm. */
export const lineWidth = (
  { name, width }: Layer,
  { lettering, patchLines }: Pick<Drawing, 'lettering' | 'patchLines'>,
): number => width * lettering.narrowLine * (ON_PATCHES.has(name) ? patchLines : 1);
