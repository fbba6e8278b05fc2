/**
 * The written pattern of a small design as DXF (release 2007, text, mm): each zone a closed LWPOLYLINE of straight sides on
 * the layer of pattern files, the outlines of substrate and patches with true arcs. For looking and for laser writers that
 * take nothing else; a large pattern is refused, since a mask shop wants GDSII or OASIS.
 */
import type { DxfWriter } from '@tarikjabiri/dxf';
import type { Design } from '../../design/design.ts';
import { boundaryOf, polylineOf } from '../../geometry/boundary.ts';
import { boundsOf } from '../../geometry/extent.ts';
import type { Outline } from '../../geometry/outline.ts';
import { tracePattern } from '../../pattern/trace-pattern.ts';
import { addLoop, documentText, dxfText, newDocument } from '../drawing/formats/dxf-tags.ts';
import { drawnOutlines } from './drawn-outlines.ts';
import { PATTERN_LAYERS, type PatternLayer } from './layers.ts';
import { markPolygons } from './mark-polygons.ts';
import {
  isMirrored,
  NOTE_HEIGHT,
  NOTE_LINE,
  type NoteWishes,
  patternNotes,
  patternsIn,
  sliversAsked,
} from './pattern-notes.ts';
import { isSliver, sliverWidth } from './sliver.ts';
import type { CellSummary } from './write-pattern.ts';

interface PatternDxfOptions extends NoteWishes {
  /** Vertices at the most; default 200 000, about 20 MB. */
  readonly mostVertices?: number;
}

interface PatternDxf {
  readonly text: string;
  readonly polygons: number;
  readonly vertices: number;
  /** A pattern each; a DXF has no cells. */
  readonly patches: readonly Omit<CellSummary, 'cell' | 'dropped'>[];
}

const MOST_VERTICES = 200_000;
/** The file's decimals, mm. */
const GRID = 1e-9;
const COLOURS = {
  written: 5,
  marks: 4,
  thinned: 1,
  substrate: 7,
  notes: 7,
  patch: 8,
  keepOut: 6,
  seat: 3,
} as const satisfies Record<keyof typeof PATTERN_LAYERS, number>;

/** Throws a RangeError for a pattern with more vertices than `mostVertices`, naming what would be right. */
export function patternDxf(design: Design, options: PatternDxfOptions = {}): PatternDxf {
  const { mostVertices = MOST_VERTICES, every = 1, edgeShift = 0 } = options;
  const mirrored = isMirrored(design, options);
  const writer = newDocument();
  const zones = every > 1 ? PATTERN_LAYERS.thinned : PATTERN_LAYERS.written;
  for (const [key, layer] of Object.entries(PATTERN_LAYERS))
    if (layer === zones || layer.layer !== zones.layer)
      writer.addLayer(layer.name, COLOURS[key as keyof typeof COLOURS], 'Continuous');
  for (const [outline, layer] of drawnOutlines(design)) addOutline(writer, outline, layer, mirrored);
  const patches: PatternDxf['patches'][number][] = [];
  const total = (key: 'polygons' | 'vertices' | 'slivers'): number =>
    patches.reduce((sum, one) => sum + one[key], 0);
  for (const patch of patternsIn(design, options)) {
    addOutline(writer, patch.outline, PATTERN_LAYERS.patch, mirrored);
    const { dutyCycle, minFeature } = design.scenario.process;
    const trace = tracePattern(patch, { dutyCycle, grid: GRID, edgeShift, every });
    let [polygons, vertices, slivers, twiceArea] = [0, 0, 0, 0];
    for (const { xy, count } of trace.zones()) {
      if (isSliver(xy, count, sliverWidth(minFeature))) {
        slivers++;
        if (sliversAsked(options) === 'drop') continue;
      }
      polygons++;
      vertices += count;
      twiceArea += twiceAreaOf(xy, count);
      if (total('vertices') + vertices > mostVertices)
        throw new RangeError(
          `the pattern has more than ${mostVertices} vertices (so far patch ${patch.id}, ${total('polygons') + polygons} polygons); ` +
            'a DXF serves small patterns: write GDSII or OASIS, or only every nth pattern line for a picture',
        );
      const corners = Array.from({ length: count }, (_, k) => ({
        point: [turned(xy[2 * k]!, mirrored), xy[2 * k + 1]!] as const,
        bulge: 0,
      }));
      addLoop(writer, corners, zones.name);
    }
    const { bound, worst } = trace;
    patches.push({ id: patch.id, polygons, vertices, slivers, area: twiceArea / 2, bound, worst });
  }
  for (const polygon of markPolygons(design, edgeShift)) {
    const corners = polygon.map(([x, y]) => ({ point: [turned(x, mirrored), y] as const, bulge: 0 }));
    addLoop(writer, corners, PATTERN_LAYERS.marks.name);
  }
  const { minX, maxX, minY } = boundsOf(design.scenario.substrate.outline);
  for (const [k, note] of patternNotes(design, options, total('slivers')).entries())
    writer.addText(
      { x: mirrored ? turned(maxX, true) : minX, y: minY - (k + 1) * NOTE_LINE, z: 0 },
      NOTE_HEIGHT,
      dxfText(note),
      {
        layerName: PATTERN_LAYERS.notes.name,
      },
    );
  return {
    text: documentText(writer),
    polygons: total('polygons'),
    vertices: total('vertices'),
    patches,
  };
}

/** Counterclockwise, mm²; about the first corner, so that no large products are subtracted. */
function twiceAreaOf(xy: Float64Array, count: number): number {
  const [x0, y0] = [xy[0]!, xy[1]!];
  let sum = 0;
  for (let k = 1; k + 1 < count; k++)
    sum += (xy[2 * k]! - x0) * (xy[2 * k + 3]! - y0) - (xy[2 * k + 2]! - x0) * (xy[2 * k + 1]! - y0);
  return sum;
}

/** x, or the bulge of an arc, in mirrored data; never -0. */
const turned = (value: number, mirrored: boolean): number => (mirrored ? 0 - value : value);

function addOutline(writer: DxfWriter, outline: Outline, { name }: PatternLayer, mirrored: boolean): void {
  for (const loop of boundaryOf(outline)) {
    const corners = polylineOf(loop).map(({ point: [x, y], bulge }) => ({
      point: [turned(x, mirrored), y] as const,
      bulge: turned(bulge, mirrored),
    }));
    addLoop(writer, corners, name);
  }
}
