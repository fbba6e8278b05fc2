/**
 * The pattern files of a package, as `make --pattern` asks for them: traced once, written to a spool as they come, hashed on the way, and
 * what a report says of them (layers, database unit, cells, counts, areas).
 */
import { createHash } from 'node:crypto';
import type { Design } from '../../design/design.ts';
import { NM_PER_MM, UM_PER_MM } from '../../quantity/conversion.ts';
import type { ByteSink, FileContent } from '../manifest.ts';
import { PATTERN_LAYERS, type PatternLayer } from './layers.ts';
import { patternDxf } from './pattern-dxf.ts';
import { isMirrored, type SliverWish, sliversAsked } from './pattern-notes.ts';
import {
  type CellSummary,
  type PatternFormat,
  type PatternOptions,
  type PatternSummary,
  PatternWriter,
} from './write-pattern.ts';

export interface PatternWishes extends PatternOptions {
  readonly formats: readonly PatternFormat[];
  readonly dxf: boolean;
  readonly every: number;
  readonly edgeShift: number;
}

/** Where files wait until their package is written. */
export interface Spool {
  /** To write a file into; ended by `content`. */
  readonly sink: (name: string) => ByteSink;
  readonly content: (name: string, sha256: string) => FileContent;
}

/** A cell made elsewhere, on another thread: its bytes by format. */
export interface MadeCell {
  readonly summary: CellSummary;
  readonly pieces: (format: PatternFormat) => Iterable<Uint8Array>;
}

export interface PatternPart {
  readonly files: ReadonlyMap<string, FileContent>;
  /** For report.json and the page for the fabricator. */
  readonly report: PatternReport;
}

export interface PatternReport {
  readonly thinned: boolean;
  /** Whether the data are x to -x of the substrate frame. */
  readonly mirrored: boolean;
  readonly edgeShift_um: number;
  /** What became of areas nowhere as wide as `minFeature_um`. */
  readonly slivers: SliverWish;
  readonly minFeature_um: number;
  readonly layers: readonly PatternLayer[];
  /** Every file, and all that it holds: the one description that the page for the fabricator goes by. */
  readonly files: readonly PatternFileReport[];
}

/** Whether a file holds a pattern of this id, such as that of the main pattern. */
export const filesHold = ({ files }: PatternReport, id: string | undefined): boolean =>
  files.some(({ patches }) => patches.some((one) => one.id === id));

interface PatternFileReport {
  readonly file: string;
  /** Null in a DXF, which has layers by name and no cells, and counts in mm. */
  readonly topCell: string | null;
  readonly databaseUnit_um: number | null;
  readonly patches: readonly {
    readonly id: string;
    readonly cell: string | null;
    readonly polygons: number;
    readonly vertices: number;
    readonly slivers: number;
    readonly area_mm2: number;
    readonly bound_nm: number;
    readonly worst_nm: number;
  }[];
}

/** Throws a RangeError as PatternWriter does. `cells`: all of them, in order; undefined traces them here. */
export function patternPart(
  design: Design,
  wishes: PatternWishes,
  spool: Spool,
  cells?: readonly MadeCell[],
): PatternPart {
  const files = new Map<string, FileContent>();
  const reports: PatternFileReport[] = [];
  if (wishes.formats.length > 0) {
    const outputs = wishes.formats.map((format) => {
      const [name, hash] = [`pattern.${format}`, createHash('sha256')];
      const into = spool.sink(name);
      const sink: ByteSink = (bytes) => {
        hash.update(bytes);
        into(bytes);
      };
      return { format, name, hash, sink };
    });
    const summary = written(design, wishes, outputs, cells);
    for (const { name, hash } of outputs) {
      files.set(name, spool.content(name, hash.digest('hex')));
      reports.push(reported(name, summary));
    }
  }
  if (wishes.dxf) {
    const { text, patches } = patternDxf(design, wishes);
    files.set('pattern.dxf', text);
    reports.push({ file: 'pattern.dxf', topCell: null, databaseUnit_um: null, patches: patches.map(rowOf) });
  }
  const report: PatternReport = {
    thinned: wishes.every > 1,
    mirrored: isMirrored(design, wishes),
    edgeShift_um: wishes.edgeShift * UM_PER_MM,
    slivers: sliversAsked(wishes),
    minFeature_um: design.scenario.process.minFeature * UM_PER_MM,
    layers: Object.values(PATTERN_LAYERS),
    files: reports,
  };
  return { files, report };
}

function written(
  design: Design,
  wishes: PatternWishes,
  outputs: readonly { readonly format: PatternFormat; readonly sink: ByteSink }[],
  cells: readonly MadeCell[] | undefined,
): PatternSummary {
  const writer = new PatternWriter(design, wishes, outputs);
  writer.begin();
  for (let k = 0; k < writer.cells; k++) {
    if (cells === undefined) {
      writer.cell(k);
      continue;
    }
    const { summary, pieces } = cells[k]!;
    writer.take(
      summary,
      outputs.map(({ format }) => pieces(format)),
    );
  }
  return writer.end();
}

function reported(file: string, { topCell, unit, patches }: PatternSummary): PatternFileReport {
  return { file, topCell, databaseUnit_um: unit * UM_PER_MM, patches: patches.map(rowOf) };
}

type Traced = Omit<CellSummary, 'cell' | 'dropped'> & { readonly cell?: string };

const rowOf = ({ id, cell, polygons, vertices, slivers, area, bound, worst }: Traced) => ({
  id,
  cell: cell ?? null,
  polygons,
  vertices,
  slivers,
  area_mm2: area,
  bound_nm: bound * NM_PER_MM,
  worst_nm: worst * NM_PER_MM,
});
