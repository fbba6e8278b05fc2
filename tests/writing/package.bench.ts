/** How the package grows with patches, part by part: 1, 100 and 5,000 of them; the rules are asked in many-patches.bench.ts. */
import { bench, describe } from 'vitest';
import { workOut } from '../../src/batch/work-out.ts';
import { drawingFont, shippedFiles } from '../../src/disk/shipped-files.ts';
import { coefficientSheet } from '../../src/writing/coefficients/coefficient-sheet.ts';
import { patchTables } from '../../src/writing/coefficients/coefficients.ts';
import { layoutDxf } from '../../src/writing/drawing/formats/layout-dxf.ts';
import { layoutPdf } from '../../src/writing/drawing/formats/layout-pdf.ts';
import { layoutSvg } from '../../src/writing/drawing/formats/layout-svg.ts';
import { layoutModel } from '../../src/writing/drawing/sheet/layout-model.ts';
import { packageFiles } from '../../src/writing/package/package.ts';
import { reportOf } from '../../src/writing/report/report.ts';
import { sheetHtml } from '../../src/writing/sheet/sheet.ts';
import { manyPatches } from '../batch/support/many-patches.ts';

const HEAD = { version: '0.0.0', scenarioHash: '0'.repeat(64), draft: true, tableHash: '0'.repeat(64) };

describe.each([1, 100, 5000])('%i patches', (count) => {
  const design = workOut(manyPatches(count), 'many.yaml').design!;
  const tables = patchTables(design);
  const report = reportOf(design, [], HEAD, tables);
  const drawing = layoutModel(design, HEAD);
  const svg = layoutSvg(drawing);
  const options = { iterations: 1, warmupIterations: 0, time: 0, warmupTime: 0 };
  bench('whole package', () => void packageFiles(design, [], HEAD, shippedFiles()), options);
  bench('fitted phases', () => void patchTables(design), options);
  bench('report', () => void reportOf(design, [], HEAD, tables), options);
  bench('drawing', () => void layoutModel(design, HEAD), options);
  bench('drawing as DXF', () => void layoutDxf(drawing), options);
  bench('drawing as SVG', () => void layoutSvg(drawing), options);
  bench('drawing as PDF', () => void layoutPdf(drawing, drawingFont()), options);
  bench('coefficient sheet', () => void coefficientSheet(design, tables, HEAD), options);
  bench(
    'bench sheet',
    () => void sheetHtml(design, report, HEAD, { layout: svg, bench: { svg, strips: [], words: [] } }),
    options,
  );
});
