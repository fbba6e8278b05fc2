/**
 * The written pattern of a small design as DXF (release 2007, ASCII, mm): each zone a closed LWPOLYLINE of straight sides on
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
import { PATTERN_LAYERS, type PatternLayer } from './layers.ts';
import { NOTE_HEIGHT, NOTE_LINE, type NoteWishes, patternNotes, patternsIn } from './pattern-notes.ts';

interface PatternDxfOptions extends NoteWishes {
  /** Vertices at the most; default 200 000, about 20 MB. */
  readonly mostVertices?: number;
}

interface PatternDxf {
  readonly text: string;
  readonly polygons: number;
  readonly vertices: number;
}

const MOST_VERTICES = 200_000;
/** The file's decimals, mm. */
const GRID = 1e-9;
const COLOURS = { written: 5, thinned: 1, substrate: 7, notes: 7, patch: 8 } as const satisfies Record<
  keyof typeof PATTERN_LAYERS,
  number
>;

/** Throws a RangeError for a pattern with more vertices than `mostVertices`, naming what would be right. */
export function patternDxf(design: Design, options: PatternDxfOptions = {}): PatternDxf {
  const { mostVertices = MOST_VERTICES, every = 1, edgeShift = 0 } = options;
  const writer = newDocument();
  const zones = every > 1 ? PATTERN_LAYERS.thinned : PATTERN_LAYERS.written;
  for (const [key, layer] of Object.entries(PATTERN_LAYERS))
    if (layer === zones || layer.layer !== zones.layer)
      writer.addLayer(layer.name, COLOURS[key as keyof typeof COLOURS], 'Continuous');
  addOutline(writer, design.scenario.substrate.outline, PATTERN_LAYERS.substrate);
  let [polygons, vertices] = [0, 0];
  for (const patch of patternsIn(design, options)) {
    addOutline(writer, patch.outline, PATTERN_LAYERS.patch);
    const { dutyCycle } = design.scenario.process;
    for (const { xy, count } of tracePattern(patch, { dutyCycle, grid: GRID, edgeShift, every }).zones()) {
      polygons++;
      vertices += count;
      if (vertices > mostVertices)
        throw new RangeError(
          `the pattern has more than ${mostVertices} vertices (so far patch ${patch.id}, ${polygons} polygons); ` +
            'a DXF serves small patterns: write GDSII or OASIS, or only every nth pattern line for a picture',
        );
      const corners = Array.from({ length: count }, (_, k) => ({
        point: [xy[2 * k]!, xy[2 * k + 1]!] as const,
        bulge: 0,
      }));
      addLoop(writer, corners, zones.name);
    }
  }
  const { minX, minY } = boundsOf(design.scenario.substrate.outline);
  for (const [k, note] of patternNotes(design, options).entries())
    writer.addText({ x: minX, y: minY - (k + 1) * NOTE_LINE, z: 0 }, NOTE_HEIGHT, dxfText(note), {
      layerName: PATTERN_LAYERS.notes.name,
    });
  return { text: documentText(writer, () => undefined), polygons, vertices };
}

function addOutline(writer: DxfWriter, outline: Outline, { name }: PatternLayer): void {
  for (const loop of boundaryOf(outline)) addLoop(writer, polylineOf(loop), name);
}
