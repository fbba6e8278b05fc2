/**
 * The pattern files of a package, as `make --pattern` asks for them: streams that are written when the package is, so that memory stays
 * flat, and what a report says of them (layers, database unit, cells, counts, areas).
 */
import type { Design } from '../../design/design.ts';
import { NM_PER_MM, UM_PER_MM } from '../../quantity/conversion.ts';
import { type FileContent, sha256Of } from '../manifest.ts';
import { PATTERN_LAYERS } from './layers.ts';
import { patternDxf } from './pattern-dxf.ts';
import {
  type PatternFormat,
  type PatternOptions,
  type PatternSummary,
  writePattern,
} from './write-pattern.ts';

interface PatternWishes extends Omit<PatternOptions, 'format'> {
  readonly formats: readonly PatternFormat[];
  readonly dxf: boolean;
  readonly every: number;
  readonly edgeShift: number;
}

export interface PatternPart {
  readonly files: ReadonlyMap<string, FileContent>;
  /** For report.json and the sheet. */
  readonly report: PatternReport;
}

export interface PatternReport {
  readonly thinned: boolean;
  readonly edgeShift_um: number;
  readonly layers: readonly { readonly layer: number; readonly datatype: number; readonly meaning: string }[];
  readonly files: readonly PatternFileReport[];
}

interface PatternFileReport {
  readonly file: string;
  readonly topCell: string;
  readonly databaseUnit_um: number;
  readonly patches: readonly {
    readonly id: string;
    readonly cell: string;
    readonly polygons: number;
    readonly vertices: number;
    readonly area_mm2: number;
    readonly bound_nm: number;
    readonly worst_nm: number;
  }[];
}

/** Traces the pattern once to hash and sum it up; the files trace it again as they are written. Throws a RangeError as writePattern does. */
export function patternPart(design: Design, wishes: PatternWishes): PatternPart {
  const files = new Map<string, FileContent>();
  const reports = wishes.formats.map((format): PatternFileReport => {
    const name = `pattern.${format}`;
    const options = { ...wishes, format };
    let summary: PatternSummary | undefined;
    const sha256 = sha256Of((sink) => {
      summary = writePattern(design, options, sink);
    });
    files.set(name, { sha256, stream: (sink) => void writePattern(design, options, sink) });
    return reported(name, summary as unknown as PatternSummary);
  });
  if (wishes.dxf) files.set('pattern.dxf', patternDxf(design, wishes).text);
  const report: PatternReport = {
    thinned: wishes.every > 1,
    edgeShift_um: wishes.edgeShift * UM_PER_MM,
    layers: Object.values(PATTERN_LAYERS).map(({ layer, datatype, meaning }) => ({
      layer,
      datatype,
      meaning,
    })),
    files: reports,
  };
  return { files, report };
}

function reported(file: string, { topCell, unit, patches }: PatternSummary): PatternFileReport {
  return {
    file,
    topCell,
    databaseUnit_um: unit * UM_PER_MM,
    patches: patches.map(({ id, cell, polygons, vertices, area, bound, worst }) => ({
      id,
      cell,
      polygons,
      vertices,
      area_mm2: area,
      bound_nm: bound * NM_PER_MM,
      worst_nm: worst * NM_PER_MM,
    })),
  };
}
