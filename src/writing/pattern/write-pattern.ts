/**
 * The written pattern of a design as GDSII or OASIS: one cell a patch (and one for the main pattern if asked) with its zones and its
 * outline, and a top cell with the substrate's outline and every cell. Substrate frame; patches stand in their cells where they stand on the substrate.
 */
import type { Design } from '../../design/design.ts';
import { boundsOf } from '../../geometry/extent.ts';
import type { Outline } from '../../geometry/outline.ts';
import { tracePattern } from '../../pattern/trace-pattern.ts';
import { outlinePolygons } from '../../pattern/zone-outline.ts';
import { UM_PER_MM } from '../../quantity/conversion.ts';
import { DatabasePolygons, emptyTally } from './database-polygon.ts';
import { GDSII_MOST_VERTICES, GDSII_NAME_LENGTH, type GdsiiDate, GdsiiStream } from './gdsii.ts';
import {
  type ByteSink,
  DRAFT_TOP_CELL,
  PATTERN_LAYERS,
  type PatternLayer,
  THINNED_TOP_CELL,
  TOP_CELL,
} from './layers.ts';
import { OasisStream } from './oasis.ts';
import { NOTE_LINE, type NoteWishes, patternNotes, patternsIn } from './pattern-notes.ts';

export type PatternFormat = 'gds' | 'oas';

export interface PatternOptions extends NoteWishes {
  readonly format: PatternFormat;
  /** Database units a micron: a whole number, 1000 (1 nm) or more; default 1000. */
  readonly stepsPerMicron?: number | undefined;
  /** Most vertices of a polygon, 4 to 8190; default 8190. */
  readonly vertexLimit?: number | undefined;
  /** For GDSII's dates (from SOURCE_DATE_EPOCH); zeros without. */
  readonly date?: GdsiiDate | undefined;
}

export interface PatternSummary {
  readonly topCell: string;
  /** Database unit, mm. */
  readonly unit: number;
  readonly patches: readonly PatchPatternSummary[];
}

/** Of a patch's written zones as they stand in the file. */
interface PatchPatternSummary {
  readonly id: string;
  readonly cell: string;
  readonly polygons: number;
  readonly vertices: number;
  /** Polygons narrower than the database unit, left out. */
  readonly dropped: number;
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
 * Writes the file piece by piece. Throws a RangeError for an option out of its range, for a unit too fine for the substrate's size,
 * and for a phase whose pattern lines cannot be placed (stationary over an area).
 */
export function writePattern(design: Design, options: PatternOptions, sink: ByteSink): PatternSummary {
  const { stepsPerMicron = COARSEST_STEPS, vertexLimit = GDSII_MOST_VERTICES, every = 1 } = options;
  if (!(Number.isInteger(stepsPerMicron) && stepsPerMicron >= COARSEST_STEPS))
    throw new RangeError(
      `${stepsPerMicron} database units a micron; expected a whole number from ${COARSEST_STEPS} on`,
    );
  if (vertexLimit > GDSII_MOST_VERTICES)
    throw new RangeError(`a vertex limit of ${vertexLimit}; expected at most ${GDSII_MOST_VERTICES}`);
  const stream =
    options.format === 'gds'
      ? new GdsiiStream(sink, stepsPerMicron, options.date)
      : new OasisStream(sink, stepsPerMicron);
  let layer: PatternLayer = PATTERN_LAYERS.written;
  const scale = stepsPerMicron * UM_PER_MM;
  const polygons = new DatabasePolygons(scale, vertexLimit, (points, count) =>
    stream.polygon(layer, points, count),
  );
  const addOutline = (outline: Outline, on: PatternLayer): void => {
    layer = on;
    for (const xy of outlinePolygons(outline, DRAWN_TOLERANCE)) polygons.add(xy, xy.length / 2);
  };
  const topCell = every > 1 ? THINNED_TOP_CELL : options.draft ? DRAFT_TOP_CELL : TOP_CELL;
  const patterns = patternsIn(design, options);
  const cells = cellNames(
    patterns.map(({ id }) => id),
    [TOP_CELL, THINNED_TOP_CELL, DRAFT_TOP_CELL],
  );
  const patches = patterns.map((patch, index): PatchPatternSummary => {
    const cell = cells[index]!;
    const trace = tracePattern(patch, {
      dutyCycle: design.scenario.process.dutyCycle,
      grid: 1 / scale,
      edgeShift: options.edgeShift ?? 0,
      every,
    });
    stream.beginCell(cell);
    addOutline(patch.outline, PATTERN_LAYERS.patch);
    layer = every > 1 ? PATTERN_LAYERS.thinned : PATTERN_LAYERS.written;
    polygons.tally = emptyTally();
    for (const { xy, count } of trace.zones()) polygons.add(xy, count);
    stream.endCell();
    const { twiceArea, ...counts } = polygons.tally;
    const area = twiceArea / (2 * scale * scale);
    return { id: patch.id, cell, ...counts, area, bound: trace.bound, worst: trace.worst };
  });
  stream.beginCell(topCell);
  addOutline(design.scenario.substrate.outline, PATTERN_LAYERS.substrate);
  const { minX, minY } = boundsOf(design.scenario.substrate.outline);
  for (const [k, note] of patternNotes(design, options).entries())
    stream.note(
      PATTERN_LAYERS.notes,
      note,
      Math.round(minX * scale),
      Math.round((minY - (k + 1) * NOTE_LINE) * scale),
    );
  for (const cell of cells) stream.place(cell);
  stream.endCell();
  stream.end();
  return { topCell, unit: 1 / scale, patches };
}

/**
 * Names of cells that every reader takes, one for each id, in their order: letters, digits, `_`, `?` and `$`, at most 32, none twice.
 * `taken` are names not to be used.
 */
export function cellNames(ids: readonly string[], taken: readonly string[]): readonly string[] {
  const used = new Set(taken.map((name) => name.toUpperCase()));
  return ids.map((id) => {
    const legal =
      id
        .normalize('NFKD')
        .replace(/\p{M}/gu, '')
        .replace(/[^A-Za-z0-9_?$]/gu, '_') || '_';
    for (let count = 1; ; count++) {
      const tail = count === 1 ? '' : `_${count}`;
      const name = legal.slice(0, GDSII_NAME_LENGTH - tail.length) + tail;
      if (used.has(name.toUpperCase())) continue;
      used.add(name.toUpperCase());
      return name;
    }
  });
}
