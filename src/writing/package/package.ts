/** All the files of a package, from a design and what was found in it. */
import type { Design } from '../../design/design.ts';
import type { Finding } from '../../finding/finding.ts';
import { type CameraOrientation, PLAIN_ORIENTATION } from '../../scenario/camera-orientation.ts';
import { benchDrawing } from '../bench/bench-svg.ts';
import { benchPage } from '../bench-page/bench-page.ts';
import { coefficientSheet } from '../coefficients/coefficient-sheet.ts';
import { coefficientsCsv, coefficientsJson, patchTables } from '../coefficients/coefficients.ts';
import { samplesCsv } from '../coefficients/samples.ts';
import { layoutDxf } from '../drawing/formats/layout-dxf.ts';
import { layoutPdf } from '../drawing/formats/layout-pdf.ts';
import { layoutSvg } from '../drawing/formats/layout-svg.ts';
import { layoutModel } from '../drawing/sheet/layout-model.ts';
import { fabricationDocument } from '../fabrication/document.ts';
import { fabricationHtml } from '../fabrication/fabrication-html.ts';
import { fabricationPdf } from '../fabrication/fabrication-pdf.ts';
import { jsonText } from '../json.ts';
import { type FileContent, manifestJson, sha256, sheetCamera } from '../manifest.ts';
import { mappingCsv } from '../mapping/mapping-csv.ts';
import { mappingSvg } from '../mapping/mapping-svg.ts';
import { motionsCsv } from '../motions/motions-csv.ts';
import { motionsSvg } from '../motions/motions-svg.ts';
import type { PatternPart } from '../pattern/pattern-files.ts';
import type { Provenance } from '../provenance.ts';
import { reachMapSvg } from '../reach/reach-map.ts';
import { reportOf } from '../report/report.ts';
import type { Report } from '../report/report-form.ts';
import { sheetHtml } from '../sheet/sheet.ts';

interface Package<Content extends FileContent = string | Uint8Array> {
  readonly files: ReadonlyMap<string, Content>;
  readonly report: Report;
}

/** Files of the program's own that go into a package, see disk/shipped-files.ts. */
export interface Shipped {
  /** The bench page without a design. */
  readonly benchTemplate: string;
  /** The TrueType font of layout.pdf. */
  readonly drawingFont: Uint8Array;
}

/**
 * A package without pattern files. The sheet's pictures and clock directions are as a camera of this orientation shows them.
 */
export function packageFiles(
  design: Design,
  found: readonly Finding[],
  head: Provenance,
  shipped: Shipped,
  orientation = PLAIN_ORIENTATION,
): Package {
  return begunPackage(design, found, head, shipped, orientation)(undefined) as Package;
}

/** Takes the pattern files, if there are any, and adds what tells of them. */
type PackageEnd = (pattern: PatternPart | undefined) => Package<FileContent>;

/** All but what needs the traced pattern, so that it can be made while threads trace; `head.patternFiles` says that there will be one, and how. */
export function begunPackage(
  design: Design,
  found: readonly Finding[],
  head: Provenance,
  shipped: Shipped,
  orientation: CameraOrientation,
): PackageEnd {
  const findings = found.map(byFileName);
  const tables = patchTables(design);
  const plain: Report = { ...reportOf(design, findings, head, tables), ...sheetCamera(orientation) };
  const coefficients = coefficientsCsv(design, tables, head);
  const named = { ...head, tableHash: sha256(coefficients) };
  const drawing = layoutModel(design, named);
  const svg = layoutSvg(drawing);
  const bench = benchDrawing(design, head);
  const made: readonly (readonly [string, FileContent])[] = [
    ['layout.dxf', layoutDxf(drawing)],
    ['layout.svg', svg],
    ['layout.pdf', layoutPdf(drawing, shipped.drawingFont)],
    ['bench.svg', bench.svg],
    ['coefficients.csv', coefficients],
    ['coefficients.json', coefficientsJson(design, tables, head)],
    ['coefficients.html', coefficientSheet(design, tables, named)],
    ['samples.csv', samplesCsv(design, head)],
    ...(design.main === undefined
      ? []
      : ([
          ['mapping.csv', mappingCsv(design, design.main, head)],
          ['mapping.svg', mappingSvg(design, design.main, head)],
          ['motions.csv', motionsCsv(plain.test!, head)],
          ['motions.svg', motionsSvg(design, design.main, head)],
        ] as const)),
    ['reach.svg', reachMapSvg(design, head)],
    ['sheet.html', sheetHtml(design, plain, head, { layout: svg, bench }, orientation)],
    ['bench.html', benchPage(design, head, shipped.benchTemplate, orientation)],
  ];
  return (pattern) => {
    const report: Report = { ...plain, ...(pattern && { pattern: pattern.report }) };
    const files = new Map([...made, ['report.json', jsonText(report)], ...(pattern?.files ?? [])]);
    const fabrication = fabricationDocument(design, named, files, pattern?.report);
    files.set('fabrication.html', fabricationHtml(fabrication));
    files.set('fabrication.pdf', fabricationPdf(fabrication, shipped.drawingFont));
    const shifts = [...(pattern?.files.keys() ?? [])].map(
      (name) => [name, pattern!.report.edgeShift_um] as const,
    );
    files.set('manifest.json', manifestJson(files, head, new Map(shifts), orientation));
    return { files, report };
  };
}

/** A package does not tell in which folder its scenario lay, so that it comes out the same on any machine. */
function byFileName(finding: Finding): Finding {
  if (finding.place === undefined) return finding;
  const file = finding.place.file.split(/[\\/]/).at(-1)!;
  return { ...finding, place: { ...finding.place, file } };
}
