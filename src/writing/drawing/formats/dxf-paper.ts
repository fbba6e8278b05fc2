/**
 * The paper space of layout.dxf: one layout, a sheet of the drawing's size in mm, and a viewport that shows the view in model space at
 * 1:1, so that a CAD program opens and plots the sheet as it is. The viewport is locked, its border is on a layer that is not plotted,
 * and what the sheet has itself is frozen in it. Paper has the coordinates of model space, for some readers do not tell the two apart:
 * they see the same sheet drawn over itself.
 *
 * The library writes no VIEWPORT and no LAYOUT; they are written here. Source: the DXF reference's tables of VIEWPORT, PLOTSETTINGS and LAYOUT.
 */
import { type Dxfier, DxfObject, type DxfWriter, Point } from '@tarikjabiri/dxf';
import { middleOf } from '../boxes.ts';
import type { Box, Drawing } from '../drawing.ts';

export const VIEWPORT_LAYER = 'VIEWPORT';

type Tag = readonly [code: number, value: number | string];

/** `sheetLayers`: what the sheet holds itself. After all layers, before the entities of the paper. */
export function addPaper(writer: DxfWriter, drawing: Drawing, sheetLayers: readonly string[]): void {
  const { document } = writer;
  const { modelSpace, paperSpace, objects } = document;
  const { sheet, view } = drawing;
  // A reader takes the first viewport for that of the paper itself.
  paperSpace.addEntity(new Viewport(PAPER_ITSELF, sheet, []));
  const frozen = sheetLayers.flatMap((name) => writer.layer(name)?.handle ?? []);
  paperSpace.addEntity(new Viewport(ON_THE_VIEW, view, frozen));

  const layouts = objects.addDictionary();
  objects.addEntryToRoot('ACAD_LAYOUT', layouts.handle);
  for (const [order, block] of [modelSpace, paperSpace].entries()) {
    const layout = new Layout(order, block.blockRecord.handle, drawing);
    layout.ownerObjecthandle = layouts.handle;
    objects.addObject(layout);
    layouts.addEntryObject(layout.tab, layout.handle);
    block.blockRecord.layoutObject = layout.handle;
  }

  // The drawing opens on the sheet.
  writer.setVariable('$TILEMODE', { 70: 0 });
  const { left, bottom, right, top } = sheet;
  writer.setVariable('$PEXTMIN', { 10: left, 20: bottom, 30: 0 });
  writer.setVariable('$PEXTMAX', { 10: right, 20: top, 30: 0 });
  writer.setVariable('$PLIMMIN', { 10: left, 20: bottom });
  writer.setVariable('$PLIMMAX', { 10: right, 20: top });
}

/** Group 69. */
const PAPER_ITSELF = 1;
const ON_THE_VIEW = 2;
/** Group 90: the view's scale is locked, and the three bits that CAD programs set in every viewport. */
const LOCKED = 0x4000 + 0x8000 + 0x40 + 0x20;

/** At 1:1: as high in the model as on paper. A point under another name, for the library keeps its class of all entities to itself. */
class Viewport extends Point {
  readonly #tags: readonly Tag[];

  constructor(id: number, { left, bottom, right, top }: Box, frozen: readonly string[]) {
    const [x, y] = middleOf({ left, bottom, right, top });
    super(x, y, 0, { layerName: VIEWPORT_LAYER });
    this.type = 'VIEWPORT';
    this.subclassMarker = 'AcDbViewport';
    const height = top - bottom;
    this.#tags = [
      ...vector(0, x, y, 0),
      [40, right - left],
      [41, height],
      [68, id],
      [69, id],
      [12, x],
      [22, y],
      ...[13, 23].map((code): Tag => [code, 0]),
      ...[14, 24, 15, 25].map((code): Tag => [code, 10]),
      ...vector(6, 0, 0, 1),
      ...vector(7, 0, 0, 0),
      [42, 50],
      ...[43, 44].map((code): Tag => [code, 0]),
      [45, height],
      ...[50, 51].map((code): Tag => [code, 0]),
      [72, 1000],
      ...frozen.map((handle): Tag => [331, handle]),
      [90, LOCKED],
      [1, ''],
      [281, 0],
      [71, 1],
      [74, 0],
      ...plane(0),
      [79, 0],
      [146, 0],
    ];
  }

  protected override dxfyChild(dx: Dxfier): void {
    for (const [code, value] of this.#tags) dx.push(code, value);
  }
}

/** By order. Group 70: a model tab, or 0 for a sheet. Group 74: what is plotted, all that is drawn or the layout. */
const TABS = [
  { tab: 'Model', flags: 1024, plotted: 1 },
  { tab: 'Sheet 1 to 1', flags: 0, plotted: 5 },
] as const;
const IN_MILLIMETRES = 1;
/** Group 75: the scale 1:1 by name. */
const ONE_TO_ONE = 16;

/** A layout with its plot settings: the sheet's size, no margins, 1 mm as 1 mm, the sheet's lower left corner at its own coordinates. */
class Layout extends DxfObject {
  readonly tab: string;
  readonly #tags: readonly Tag[];

  constructor(order: number, blockRecord: string, { sheet, sheetName }: Drawing) {
    super('LAYOUT');
    const { tab, flags, plotted } = TABS[order]!;
    this.tab = tab;
    const { left, bottom, right, top } = sheet;
    const [width, height] = [right - left, top - bottom];
    this.#tags = [
      [100, 'AcDbPlotSettings'],
      [1, ''],
      [2, ''],
      [4, paperName(sheetName, width, height)],
      [6, ''],
      ...[40, 41, 42, 43].map((code): Tag => [code, 0]),
      [44, width],
      [45, height],
      [46, -left],
      [47, -bottom],
      ...[48, 49, 140, 141].map((code): Tag => [code, 0]),
      [142, 1],
      [143, 1],
      [70, flags],
      [72, IN_MILLIMETRES],
      [73, 0],
      [74, plotted],
      [7, ''],
      [75, ONE_TO_ONE],
      [76, 0],
      [77, 2],
      [78, 300],
      [147, 1],
      [148, 0],
      [149, 0],
      [100, 'AcDbLayout'],
      [1, tab],
      [70, 1],
      [71, order],
      [10, left],
      [20, bottom],
      [11, right],
      [21, top],
      ...vector(2, 0, 0, 0),
      ...vector(4, left, bottom, 0),
      ...vector(5, right, top, 0),
      [146, 0],
      ...plane(3),
      [76, 0],
      [330, blockRecord],
    ];
  }

  override dxfy(dx: Dxfier): void {
    super.dxfy(dx);
    for (const [code, value] of this.#tags) dx.push(code, value);
  }
}

/** As CAD programs name the sheets of the A series; no name for one that they must take from its size. */
const paperName = (sheet: string | undefined, width: number, height: number): string =>
  sheet !== undefined && /^A\d$/.test(sheet)
    ? `ISO_${sheet}_(${width.toFixed(2)}_x_${height.toFixed(2)}_MM)`
    : '';

/** The coordinates of the k-th point: groups 10 + k, 20 + k, 30 + k. */
const vector = (k: number, x: number, y: number, z: number): Tag[] => [
  [10 + k, x],
  [20 + k, y],
  [30 + k, z],
];

/** A user's coordinate system that is the world's: origin and axes from groups 110 or 13. */
const plane = (k: number): Tag[] =>
  k === 0
    ? [
        ...[110, 120, 130].map((code): Tag => [code, 0]),
        [111, 1],
        [121, 0],
        [131, 0],
        [112, 0],
        [122, 1],
        [132, 0],
      ]
    : [...vector(3, 0, 0, 0), ...vector(6, 1, 0, 0), ...vector(7, 0, 1, 0)];
