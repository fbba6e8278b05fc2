/**
 * The pattern files of a package, as `make --pattern` asks for them: traced once, written to a spool as they come, hashed on the way, and
 * what a report says of them (layers, database unit, cells, counts, areas).
 */
import { createHash, type Hash } from 'node:crypto';
import type { Design } from '../../design/design.ts';
import { NM_PER_MM, UM_PER_MM } from '../../quantity/conversion.ts';
import type { ByteSink, FileContent } from '../manifest.ts';
import type { WrittenFiles } from '../written-areas.ts';
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

/** What is known of the files before they are traced, for drawings and tables that are made meanwhile. */
export const writtenFiles = (design: Design, wishes: PatternWishes): WrittenFiles => ({
  mirrored: isMirrored(design, wishes),
  edgeShift_um: wishes.edgeShift * UM_PER_MM,
  thinned: wishes.every > 1,
  main: wishes.main === true && design.main !== undefined,
});

/** The files on their way, cell by cell in their order. */
export class PatternFiles {
  readonly #design: Design;
  readonly #wishes: PatternWishes;
  readonly #spool: Spool;
  readonly #outputs: readonly HashedOutput[];
  readonly #writer: PatternWriter | undefined;

  /** Throws a RangeError as PatternWriter does. */
  constructor(design: Design, wishes: PatternWishes, spool: Spool) {
    this.#design = design;
    this.#wishes = wishes;
    this.#spool = spool;
    this.#outputs = wishes.formats.map((format) => hashedOutput(format, spool));
    if (this.#outputs.length === 0) return;
    this.#writer = new PatternWriter(design, wishes, this.#outputs);
    this.#writer.begin();
  }

  get cells(): number {
    return this.#writer?.cells ?? 0;
  }

  /** The next cell; `made`: elsewhere; undefined traces it here. */
  cell(index: number, made: MadeCell | undefined): void {
    if (made === undefined) this.#writer!.cell(index);
    else
      this.#writer!.take(
        made.summary,
        this.#outputs.map(({ format }) => made.pieces(format)),
      );
  }

  end(): PatternPart {
    const [design, wishes] = [this.#design, this.#wishes];
    const files = new Map<string, FileContent>();
    const reports: PatternFileReport[] = [];
    if (this.#writer !== undefined) {
      const summary = this.#writer.end();
      for (const { name, hash } of this.#outputs) {
        files.set(name, this.#spool.content(name, hash.digest('hex')));
        reports.push(reported(name, summary));
      }
    }
    if (wishes.dxf) {
      const { text, patches } = patternDxf(design, wishes);
      files.set('pattern.dxf', text);
      reports.push({
        file: 'pattern.dxf',
        topCell: null,
        databaseUnit_um: null,
        patches: patches.map(rowOf),
      });
    }
    const { thinned, mirrored, edgeShift_um } = writtenFiles(design, wishes);
    const report: PatternReport = {
      thinned,
      mirrored,
      edgeShift_um,
      slivers: sliversAsked(wishes),
      minFeature_um: design.scenario.process.minFeature * UM_PER_MM,
      layers: Object.values(PATTERN_LAYERS),
      files: reports,
    };
    return { files, report };
  }
}

interface HashedOutput {
  readonly format: PatternFormat;
  readonly name: string;
  readonly hash: Hash;
  readonly sink: ByteSink;
}

function hashedOutput(format: PatternFormat, spool: Spool): HashedOutput {
  const [name, hash] = [`pattern.${format}`, createHash('sha256')];
  const into = spool.sink(name);
  const sink: ByteSink = (bytes) => {
    hash.update(bytes);
    into(bytes);
  };
  return { format, name, hash, sink };
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
