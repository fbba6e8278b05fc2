/** All the files of a package, from a design and what was found in it. */
import type { Design } from '../design/design.ts';
import type { Finding } from '../finding/finding.ts';
import { coefficientSheet } from './coefficient-sheet/coefficient-sheet.ts';
import { coefficientsCsv, coefficientsJson, patchTables } from './coefficients.ts';
import { layoutDxf } from './drawing/layout-dxf.ts';
import { layoutModel } from './drawing/layout-model.ts';
import { layoutPdf } from './drawing/layout-pdf.ts';
import { layoutSvg } from './drawing/layout-svg.ts';
import { jsonText } from './json.ts';
import { manifestJson, type PackageFiles, sha256 } from './manifest.ts';
import { reportOf } from './report.ts';
import { samplesCsv } from './samples.ts';
import { sheetHtml } from './sheet/sheet.ts';

export interface PackageHead {
  readonly version: string;
  /** SHA-256 of the scenario's bytes, hex. */
  readonly scenarioHash: string;
  readonly draft: boolean;
  /** For the drawing where the scenario gives none: such as 2026-01-31. */
  readonly date?: string;
}

export interface Package {
  readonly files: PackageFiles;
  readonly report: Record<string, unknown>;
}

export function packageFiles(design: Design, found: readonly Finding[], head: PackageHead): Package {
  const findings = found.map(byFileName);
  const tables = patchTables(design);
  const report = reportOf(design, findings, head, tables);
  const coefficients = coefficientsCsv(design, tables);
  const tableHash = sha256(coefficients);
  const drawing = layoutModel(design, { ...head, tableHash });
  const svg = layoutSvg(drawing);
  const files = new Map<string, string | Uint8Array>([
    ['layout.dxf', layoutDxf(drawing)],
    ['layout.svg', svg],
    ['layout.pdf', layoutPdf(drawing)],
    ['coefficients.csv', coefficients],
    ['coefficients.json', coefficientsJson(design, tables)],
    ['coefficients.html', coefficientSheet(design, tables, { ...head, tableHash })],
    ['samples.csv', samplesCsv(design)],
    ['report.json', jsonText(report)],
    ['sheet.html', sheetHtml(design, report, head, svg)],
  ]);
  files.set('manifest.json', manifestJson(files, head));
  return { files, report };
}

/** A package does not tell in which folder its scenario lay, so that it comes out the same on any machine. */
function byFileName(finding: Finding): Finding {
  if (finding.place === undefined) return finding;
  const file = finding.place.file.split(/[\\/]/).at(-1)!;
  return { ...finding, place: { ...finding.place, file } };
}
