/**
 * The written pattern of a design as GDSII and OASIS, both from one trace: one cell a pattern (each patch, and the main pattern if asked)
 * with its zones, its outline and its id, and a top cell with what stands around them, the texts and every cell. Substrate frame, or
 * x to -x of it where the writer looks at the patterned face from the other side and asks for that; patterns stand in their cells where they
 * stand on the substrate.
 */
import type { Design } from '../../design/design.ts';
import type { Pattern } from '../../design/pattern.ts';
import { boundsOf } from '../../geometry/extent.ts';
import type { Outline } from '../../geometry/outline.ts';
import { tracePattern } from '../../pattern/trace-pattern.ts';
import { outlinePolygons } from '../../pattern/zone-outline.ts';
import { UM_PER_MM } from '../../quantity/conversion.ts';
import { cellNames } from './cell-names.ts';
import { DatabasePolygons, emptyTally, type SliverRule } from './database-polygon.ts';
import { drawnOutlines } from './drawn-outlines.ts';
import { DEFAULT_VERTEX_LIMIT, GDSII_MOST_VERTICES, type GdsiiDate, GdsiiStream } from './gdsii.ts';
import {
  type ByteSink,
  DRAFT_TOP_CELL,
  type LayoutStream,
  MARKS_CELL,
  MIRRORED_DRAFT_TOP_CELL,
  MIRRORED_TOP_CELL,
  PATTERN_LAYERS,
  type PatternLayer,
  THINNED_TOP_CELL,
  TOP_CELL,
} from './layers.ts';
import { markPolygons } from './mark-polygons.ts';
import { OasisStream } from './oasis.ts';
import {
  isMirrored,
  NOTE_LINE,
  type NoteWishes,
  patternNotes,
  patternsIn,
  sliversAsked,
} from './pattern-notes.ts';
import { sliverWidth } from './sliver.ts';

export type PatternFormat = 'gds' | 'oas';

export interface PatternOptions extends NoteWishes {
  /** Database units a micron: a whole number, 1000 (1 nm) or more; default 1000. */
  readonly stepsPerMicron?: number | undefined;
  /** Most vertices of a polygon, 4 to 8190; default 4094. */
  readonly vertexLimit?: number | undefined;
  /** For GDSII's dates (from SOURCE_DATE_EPOCH); zeros without. */
  readonly date?: GdsiiDate | undefined;
}

interface PatternOutput {
  readonly format: PatternFormat;
  readonly sink: ByteSink;
}

export interface PatternSummary {
  readonly topCell: string;
  /** Database unit, mm. */
  readonly unit: number;
  readonly patches: readonly CellSummary[];
}

/** Of a pattern's written zones as they stand in the file. */
export interface CellSummary {
  readonly id: string;
  readonly cell: string;
  readonly polygons: number;
  readonly vertices: number;
  /** Polygons narrower than the database unit, left out. */
  readonly dropped: number;
  /** Polygons nowhere as wide as the least feature: among those counted, or left out as asked. */
  readonly slivers: number;
  /** mm² */
  readonly area: number;
  /** Bound of an edge's deviation from its pattern line, and the largest measured before rounding, mm. */
  readonly bound: number;
  readonly worst: number;
}

const COARSEST_STEPS = 1000;
/** Outlines that are not written follow their arcs to this, mm. */
const DRAWN_TOLERANCE = 1e-4;

/**
 * The files cell by cell, in their order. Throws a RangeError for an option out of its range, for a unit too fine for the substrate's
 * size, and for a phase whose pattern lines cannot be placed (stationary over an area).
 */
export class PatternWriter {
  readonly #design: Design;
  readonly #options: PatternOptions;
  readonly #scale: number;
  readonly #streams: readonly LayoutStream[];
  readonly #patterns: readonly Pattern[];
  readonly #names: readonly string[];
  readonly #topCell: string;
  readonly #mirrored: boolean;
  readonly #polygons: DatabasePolygons;
  readonly #done: CellSummary[] = [];
  #layer: PatternLayer = PATTERN_LAYERS.written;

  constructor(design: Design, options: PatternOptions, outputs: readonly PatternOutput[]) {
    const { stepsPerMicron = COARSEST_STEPS, vertexLimit = DEFAULT_VERTEX_LIMIT } = options;
    if (!(Number.isInteger(stepsPerMicron) && stepsPerMicron >= COARSEST_STEPS))
      throw new RangeError(
        `${stepsPerMicron} database units a micron; expected a whole number from ${COARSEST_STEPS} on`,
      );
    if (vertexLimit > GDSII_MOST_VERTICES)
      throw new RangeError(`a vertex limit of ${vertexLimit}; expected at most ${GDSII_MOST_VERTICES}`);
    this.#design = design;
    this.#options = options;
    this.#scale = stepsPerMicron * UM_PER_MM;
    this.#streams = outputs.map(({ format, sink }) =>
      format === 'gds'
        ? new GdsiiStream(sink, stepsPerMicron, options.date)
        : new OasisStream(sink, stepsPerMicron),
    );
    this.#patterns = patternsIn(design, options);
    this.#mirrored = isMirrored(design, options);
    this.#topCell = topCellOf(design, options);
    this.#names = cellNames(
      this.#patterns.map(({ id }) => id),
      OTHER_CELLS,
    );
    const take = (points: Int32Array, count: number): void => {
      for (const stream of this.#streams) stream.polygon(this.#layer, points, count);
    };
    this.#polygons = new DatabasePolygons(this.#scale, vertexLimit, take, this.#mirrored);
  }

  get cells(): number {
    return this.#names.length;
  }

  /** The head of each file. Left out, with `end`, where only cells are wanted, to be taken into other files by `take`. */
  begin(): void {
    for (const stream of this.#streams) stream.begin();
  }

  /** Traces a pattern and writes its cell. */
  cell(index: number): CellSummary {
    const [pattern, cell] = [this.#patterns[index]!, this.#names[index]!];
    const { every = 1, edgeShift = 0 } = this.#options;
    const { dutyCycle } = this.#design.scenario.process;
    const trace = tracePattern(pattern, { dutyCycle, grid: 1 / this.#scale, edgeShift, every });
    for (const stream of this.#streams) stream.beginCell(cell);
    this.#outline(pattern.outline, PATTERN_LAYERS.patch);
    const { minX, maxX, minY } = boundsOf(pattern.outline);
    this.#note(`PATTERN ${asciiOf(pattern.id)}`, (minX + maxX) / 2, minY);
    this.#layer = every > 1 ? PATTERN_LAYERS.thinned : PATTERN_LAYERS.written;
    this.#polygons.tally = emptyTally();
    const rule = this.#sliverRule();
    for (const { xy, count } of trace.zones()) this.#polygons.add(xy, count, rule);
    for (const stream of this.#streams) stream.endCell();
    const { twiceArea, ...counts } = this.#polygons.tally;
    const area = twiceArea / (2 * this.#scale * this.#scale);
    const summary = { id: pattern.id, cell, ...counts, area, bound: trace.bound, worst: trace.worst };
    this.#done.push(summary);
    return summary;
  }

  /** The next cell as another writer of the same design and options made it: its bytes for each output, in pieces. */
  take(summary: CellSummary, pieces: readonly Iterable<Uint8Array>[]): void {
    for (const [k, stream] of this.#streams.entries()) for (const bytes of pieces[k]!) stream.cells(bytes);
    this.#done.push(summary);
  }

  /** Hands over the bytes of the cells so far. */
  flush(): void {
    for (const stream of this.#streams) stream.flush();
  }

  /** The top cell and the end of each file. */
  end(): PatternSummary {
    const hasMarks = this.#marks();
    for (const stream of this.#streams) stream.beginCell(this.#topCell);
    for (const [outline, layer] of drawnOutlines(this.#design)) this.#outline(outline, layer);
    const { minX, maxX, minY } = boundsOf(this.#design.scenario.substrate.outline);
    const leftmost = this.#mirrored ? maxX : minX;
    const slivers = this.#done.reduce((sum, one) => sum + one.slivers, 0);
    for (const [k, note] of patternNotes(this.#design, this.#options, slivers).entries())
      this.#note(note, leftmost, minY - (k + 1) * NOTE_LINE);
    for (const stream of this.#streams) {
      for (const cell of this.#names) stream.place(cell);
      if (hasMarks) stream.place(MARKS_CELL);
      stream.endCell();
      stream.end();
    }
    return { topCell: this.#topCell, unit: 1 / this.#scale, patches: this.#done };
  }

  /** The cell of the marks; whether there are any. */
  #marks(): boolean {
    const polygons = markPolygons(this.#design, this.#options.edgeShift);
    if (polygons.length === 0) return false;
    this.#layer = PATTERN_LAYERS.marks;
    for (const stream of this.#streams) stream.beginCell(MARKS_CELL);
    for (const polygon of polygons) this.#polygons.add(Float64Array.from(polygon.flat()), polygon.length);
    for (const stream of this.#streams) stream.endCell();
    return true;
  }

  #sliverRule(): SliverRule {
    const width = sliverWidth(this.#design.scenario.process.minFeature);
    return { width, drop: sliversAsked(this.#options) === 'drop' };
  }

  #outline(outline: Outline, layer: PatternLayer): void {
    this.#layer = layer;
    for (const xy of outlinePolygons(outline, DRAWN_TOLERANCE)) this.#polygons.add(xy, xy.length / 2);
  }

  #note(text: string, x: number, y: number): void {
    const side = this.#mirrored ? -1 : 1;
    for (const stream of this.#streams)
      stream.note(
        PATTERN_LAYERS.notes,
        text,
        Math.round(side * x * this.#scale),
        Math.round(y * this.#scale),
      );
  }
}

const OTHER_CELLS = [
  MARKS_CELL,
  TOP_CELL,
  THINNED_TOP_CELL,
  DRAFT_TOP_CELL,
  MIRRORED_TOP_CELL,
  MIRRORED_DRAFT_TOP_CELL,
] as const;

function topCellOf(design: Design, options: PatternOptions): string {
  const { every = 1, draft } = options;
  const mirrored = isMirrored(design, options);
  if (every > 1) return mirrored ? MIRRORED_DRAFT_TOP_CELL : THINNED_TOP_CELL;
  if (draft) return mirrored ? MIRRORED_DRAFT_TOP_CELL : DRAFT_TOP_CELL;
  return mirrored ? MIRRORED_TOP_CELL : TOP_CELL;
}

/** Letters that both formats take in a text. */
const asciiOf = (id: string): string =>
  id
    .normalize('NFKD')
    .replace(/\p{M}/gu, '')
    .replace(/[^ -~]/gu, '?');
