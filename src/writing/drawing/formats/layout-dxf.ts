/**
 * layout.dxf: the drawing as a DXF of release AC1021 (2007) as text in UTF-8, in mm, on the layers of layout.svg and with its coordinates.
 *
 * Written: LINE, CIRCLE, closed LWPOLYLINE with bulges, TEXT, solid HATCH for the areas with pattern; the id of a patch or keep-out as
 * extended data of its curves. Model space holds all of it, in the coordinates of the substrate frame, for machines. Paper space holds the
 * sheet once more at the same place: frame, title block and notes, and the view through a viewport (dxf-paper.ts). Not written: DIMENSION, blocks.
 * The library knows no clock and no random handles.
 */
import {
  type Circle,
  type DxfBlock,
  type Dxfier,
  type DxfWriter,
  type Entity,
  ExtendedData,
  Hatch,
  HatchBoundaryPaths,
  HatchPredefinedPatterns,
  type Line,
  type LWPolyline,
  TextHorizontalAlignment,
  TextVerticalAlignment,
} from '@tarikjabiri/dxf';
import type { Vec2 } from '../../../geometry/vector.ts';
import { type Curves, type Drawing, isText, lineWidth, type Text } from '../drawing.ts';
import { DASHES, LAYERS, type Layer, type LayerName } from '../layers.ts';
import { drawable } from '../lettering.ts';
import { areaLoops, type Vertex, writeCurves } from '../outline-model.ts';
import { addPaper, VIEWPORT_LAYER } from './dxf-paper.ts';
import { addLoop, documentText, dxfText, newDocument } from './dxf-tags.ts';

const APPLICATION = 'DATUMLIGHT';
/** Grey: on the screen only. */
const BORDER_COLOUR = 8;
const STYLE = 'LETTERING';
/** A wide sans serif that most readers have or stand in for; no place on the drawing relies on its widths. */
const FONT_FILE = 'arial.ttf';

export function layoutDxf(drawing: Drawing): string {
  const writer = newDocument();
  writeHeader(writer, drawing);
  for (const layer of LAYERS) {
    if (layer.name !== 'DRAFT_MARK' || drawing.draft) writeLayer(writer, layer, drawing);
  }
  writer.tables.addStyle(STYLE).fontFileName = FONT_FILE;
  writer.tables.addAppId(APPLICATION, 0);
  writer.addLayer(VIEWPORT_LAYER, BORDER_COLOUR, 'Continuous');
  for (const layer of LAYERS) addLayer(writer.modelSpace, layer, drawing);
  const ofSheet = LAYERS.filter((layer: Layer) => layer.onSheet);
  addPaper(
    writer,
    drawing,
    ofSheet.map(({ name }) => name),
  );
  for (const layer of ofSheet) addLayer(writer.document.paperSpace, layer, drawing);
  const weightOf = (name: string): number | undefined => {
    const layer = LAYERS.find((one) => one.name === name);
    return layer && lineWeight(lineWidth(layer, drawing));
  };
  return documentText(writer, { weightOf, unplotted: VIEWPORT_LAYER, seenThrough: 'DRAFT_MARK' });
}

function addLayer(space: DxfBlock, { name, filled }: Layer, drawing: Drawing): void {
  for (const item of drawing.layers.get(name) ?? []) {
    const entities = isText(item)
      ? [addText(space, name, item)]
      : filled
        ? [addArea(space, name, item)]
        : addCurves(space, name, item);
    if (item.owner === undefined) continue;
    for (const entity of entities) entity.xdatas.push(new OwnerData(item.owner));
  }
}

function writeHeader(writer: DxfWriter, { sheet }: Drawing): void {
  writer.setVariable('$EXTMIN', { 10: sheet.left, 20: sheet.bottom, 30: 0 });
  writer.setVariable('$EXTMAX', { 10: sheet.right, 20: sheet.top, 30: 0 });
  writer.setVariable('$LIMMIN', { 10: sheet.left, 20: sheet.bottom });
  writer.setVariable('$LIMMAX', { 10: sheet.right, 20: sheet.top });
  writer.setVariable('$LTSCALE', { 40: 1 });
  writer.setVariable('$LWDISPLAY', { 290: 1 });
}

function writeLayer(writer: DxfWriter, layer: Layer, drawing: Drawing): void {
  const { name, line, colour } = layer;
  if (line === 'continuous') {
    writer.addLayer(name, colour.index, 'Continuous');
    return;
  }
  const pattern = DASHES[line].map(
    (dash, index) => dash * lineWidth(layer, drawing) * (index % 2 === 0 ? 1 : -1),
  );
  const lineType = writer.addLType(
    line.toUpperCase(),
    line === 'chain' ? '____ . ____ . ____' : '__ __ __ __',
    pattern,
  );
  writer.addLayer(name, colour.index, lineType.name);
}

function addCurves(space: DxfBlock, layerName: LayerName, curves: Curves) {
  return writeCurves<Line | Circle | LWPolyline>(curves, {
    line: (from, to) => space.addLine(point3(from), point3(to), { layerName }),
    circle: (centre, radius) => space.addCircle(point3(centre), radius, { layerName }),
    loop: (vertices) => addLoop(space, vertices, layerName),
  });
}

const addArea = (space: DxfBlock, layerName: LayerName, area: Curves): Entity =>
  space.addEntity(new AreaFill(areaLoops(area), layerName));

/** A solid HATCH within closed polylines, left out within an even number of them; its boundaries are written here, for the library's own can only be all outer or all inner ones. */
class AreaFill extends Hatch {
  readonly #loops: readonly (readonly Vertex[])[];

  constructor(loops: readonly (readonly Vertex[])[], layerName: LayerName) {
    super(new HatchBoundaryPaths(), { name: HatchPredefinedPatterns.SOLID }, { layerName });
    this.#loops = loops;
  }

  protected override dxfyChild(dx: Dxfier): void {
    const pairs = (...tags: readonly (readonly [code: number, value: number | string])[]): void => {
      for (const [code, value] of tags) dx.push(code, value);
    };
    pairs([10, 0], [20, 0], [30, 0], [210, 0], [220, 0], [230, 1], [2, 'SOLID'], [70, 1], [71, 0]);
    pairs([91, this.#loops.length]);
    for (const [k, loop] of this.#loops.entries()) {
      pairs([92, k === 0 ? OUTER_POLYLINE : POLYLINE], [72, 1], [73, 1], [93, loop.length]);
      for (const { point, bulge } of loop) pairs([10, point[0]], [20, point[1]], [42, bulge]);
      pairs([97, 0]);
    }
    pairs([75, 0], [76, 1], [98, 0]);
  }
}

/** Group 92 of a HATCH: a boundary made of a polyline, and one on the outside. */
const POLYLINE = 2;
const OUTER_POLYLINE = 3;

function addText(space: DxfBlock, layerName: LayerName, { text, at, height, align, angle }: Text) {
  const horizontalAlignment = {
    left: TextHorizontalAlignment.Left,
    centre: TextHorizontalAlignment.Center,
    right: TextHorizontalAlignment.Right,
  }[align];
  const entity = space.addText(point3(at), height, dxfText(text), {
    layerName,
    ...(angle === 0 ? {} : { rotation: (angle * 180) / Math.PI }),
    ...(align === 'left'
      ? {}
      : {
          horizontalAlignment,
          verticalAlignment: TextVerticalAlignment.BaseLine,
          secondAlignmentPoint: point3(at),
        }),
  });
  entity.textStyle = STYLE;
  return entity;
}

/** Extended data: whose curve it is. Written here, since the library's own strings lose their last character. */
class OwnerData extends ExtendedData {
  readonly #owner: string;

  constructor(owner: string) {
    super(APPLICATION);
    this.#owner = owner;
  }

  override dxfy(dx: Dxfier): void {
    dx.push(1001, this.name);
    dx.push(1000, dxfText(drawable(this.#owner), LONGEST_DATA));
  }
}

/** A string of extended data holds at most 255 bytes. */
const LONGEST_DATA = 255;

/** The line weights that a layer may have, in hundredths of a millimetre: those of the lettering's lines, and finer ones. */
const LINE_WEIGHTS = [200, 140, 100, 70, 50, 35, 25, 18, 13, 9, 5, 0];

const lineWeight = (width: number): number =>
  LINE_WEIGHTS.find((weight) => weight <= Math.round(100 * width))!;

const point3 = ([x, y]: Vec2) => ({ x, y, z: 0 });
