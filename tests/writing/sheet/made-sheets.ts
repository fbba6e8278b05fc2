/** Sheets to look at: those of the examples, and one with every text hostile or as long as a scenario allows. */
import { readFileSync } from 'node:fs';
import type { Design } from '../../../src/design/design.ts';
import { designScenario } from '../../../src/design/design-scenario.ts';
import { readScenario } from '../../../src/reading/scenario/read-scenario.ts';
import { applyRules } from '../../../src/rules/all-rules.ts';
import { benchDrawing } from '../../../src/writing/bench/bench-svg.ts';
import { patchTables } from '../../../src/writing/coefficients/coefficients.ts';
import { layoutSvg } from '../../../src/writing/drawing/formats/layout-svg.ts';
import { layoutModel } from '../../../src/writing/drawing/sheet/layout-model.ts';
import { reportOf } from '../../../src/writing/report/report.ts';
import { reportedOrder } from '../../../src/writing/report/reported-order.ts';
import { reportedOrientation } from '../../../src/writing/report/reported-orientation.ts';
import { sheetHtml } from '../../../src/writing/sheet/sheet.ts';

export const HOSTILE = '<script>alert("x")</script> & \'</style>\u202e\u0007<img src=https://a.example/x>';

export function designOf(text: string): Design {
  const { scenario, findings } = readScenario(text, 'scenario.yaml');
  if (scenario === undefined) throw new Error(JSON.stringify(findings));
  const result = designScenario(scenario);
  if ('findings' in result) throw new Error(JSON.stringify(result.findings));
  return result.design;
}

const HEAD = { version: '0.0.0', scenarioHash: 'ab'.repeat(32), draft: false };

const drawingOf = (design: Design, head: typeof HEAD) => ({
  layout: layoutSvg(layoutModel(design, { ...head, tableHash: 'cd'.repeat(32) })),
  bench: benchDrawing(design, head),
});

export function sheetOf(design: Design, draft = false): string {
  const head = { ...HEAD, draft };
  const report = reportOf(design, applyRules(design), head, patchTables(design));
  return sheetHtml(design, report, head, drawingOf(design, head));
}

/** The sheet of a design with its first patch so many times, without a report on each of them. */
export function sheetOfMany(design: Design, count: number): string {
  const report = reportOf(design, [], HEAD, patchTables(design).slice(0, 1));
  const patches = Array.from({ length: count }, (_, k) => ({ ...design.patches[0]!, id: `p${k}` }));
  const many = { ...design, patches };
  const camera = { ...report.camera, orientation: reportedOrientation(many) };
  const order = reportedOrder(many);
  const reported = { ...report, camera, order, patches: patches.map(() => report.patches[0]!) };
  return sheetHtml(many, reported, HEAD, drawingOf(design, HEAD));
}

export const exampleText = (name: string): string => readFileSync(`examples/${name}.yaml`, 'utf8');

/** The longest ids that there may be, without a place to break them at. */
const LONG = 'W'.repeat(50);

const hostile = (): Design => {
  const design = designOf(
    exampleText('converging-retroreflectors')
      .replace(/\b(id|reference): (north|west|east)\b/g, `$1: ${LONG}$2`)
      .replace(/title: .*/, 'title: hostile'),
  );
  return { ...design, scenario: { ...design.scenario, title: `${HOSTILE} ${LONG}${LONG}` } };
};

const MAKERS: Readonly<Record<string, () => string>> = {
  'converging-retroreflectors': () => sheetOf(designOf(exampleText('converging-retroreflectors'))),
  'diverging-balls': () => sheetOf(designOf(exampleText('diverging-balls'))),
  'infrared-collimated': () => sheetOf(designOf(exampleText('infrared-collimated'))),
  'everything on one hologram': () =>
    sheetOf(designOf(readFileSync('tests/writing/sheet/jobs/everything.yaml', 'utf8'))),
  'broken-rules as a draft': () => sheetOf(designOf(exampleText('broken-rules')), true),
  'hostile and long texts': () => sheetOf(hostile(), true),
};

export const SHEET_NAMES = Object.keys(MAKERS);

const made = new Map<string, string>();

/** Made once for all tests of a file. */
export function sheet(name: string): string {
  const page = made.get(name) ?? MAKERS[name]!();
  made.set(name, page);
  return page;
}
