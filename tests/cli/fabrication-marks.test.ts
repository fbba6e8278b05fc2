/**
 * What the page for the fabricator says of the marks and of which file holds what, held against the files themselves: the DXF read as
 * groups of code and value, the GDSII by a reader that shares no code with src/.
 */
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { beforeAll, describe, expect, test } from 'vitest';
import { readGds } from '../independent/gdsii.ts';
import { datumlight, folder, scenarioFile, soundScenario } from './support/run.ts';

/** Off-axis paraboloid: its own main pattern, marks by the program, patterned face turned away. */
const EXAMPLE = 'examples/off-axis-asphere.yaml';

/** Tags and line breaks gone. */
const plain = (text: string): string =>
  text
    .replace(/<style>[\s\S]*?<\/style>/, '')
    .replaceAll(/<[^>]*>/g, ' ')
    .replaceAll(/\s+/g, ' ');

async function made(
  ...options: string[]
): Promise<{ out: string; page: string; report: ReturnType<typeof JSON.parse> }> {
  const out = join(folder(), 'out');
  const { code, stderr } = await datumlight(['make', EXAMPLE, '--out', out, ...options]);
  expect(code, stderr).toBe(0);
  return {
    out,
    page: plain(readFileSync(join(out, 'fabrication.html'), 'utf8')),
    report: JSON.parse(readFileSync(join(out, 'report.json'), 'utf8')),
  };
}

/** Closed polylines on a layer. */
function polylines(dxf: string, layer: string): number {
  const lines = dxf.split(/\r?\n/);
  let count = 0;
  let inside = false;
  for (let k = 0; k + 1 < lines.length; k += 2) {
    const [code, value] = [lines[k]!.trim(), lines[k + 1]!];
    if (code === '0') inside = value === 'LWPOLYLINE';
    else if (inside && code === '8' && value === layer) count++;
  }
  return count;
}

const THIN = ['--every', '300'];

describe('the main pattern in pattern.dxf alone', () => {
  let files: Awaited<ReturnType<typeof made>>;
  beforeAll(async () => {
    files = await made('--pattern-dxf', '--main', ...THIN);
  });

  test('the page and the report say that it is in the data', () => {
    const words = 'The main pattern is in the pattern files, in the frame of the crosses F1, F2, F3, F4.';
    expect(files.page).toContain(`Registration: ${words}`);
    expect(files.page).not.toContain('in no pattern file');
    expect(files.report.marks.registration).toBe(words);
  });

  test('it has a table of its patterns, which counts what the file holds', () => {
    const { page, out, report } = files;
    const [file] = report.pattern.files;
    expect(file).toMatchObject({ file: 'pattern.dxf', topCell: null, databaseUnit_um: null });
    expect(file.patches.map(({ id }: { id: string }) => id)).toContain('main');
    expect(file.patches).toHaveLength(10);
    const dxf = readFileSync(join(out, 'pattern.dxf'), 'utf8');
    let total = 0;
    for (const { id, polygons, vertices } of file.patches) {
      total += polygons;
      expect(page).toMatch(new RegExp(` ${id} – [\\d.]+ × [\\d.]+ ${polygons} ${vertices} `));
    }
    expect(polylines(dxf, 'THINNED_NOT_FOR_FABRICATION')).toBe(total);
    expect(page).toContain(`no cells; coordinates in mm; ${total} polygons`);
  });
});

describe('pattern files without the main pattern', () => {
  let files: Awaited<ReturnType<typeof made>>;
  beforeAll(async () => {
    files = await made('--pattern', 'gds', '--pattern-dxf', ...THIN);
  });

  test('page, report and GDSII say the same of it', () => {
    const words =
      'The main pattern is in no pattern file. Data made from the tables, which have its frame, must have the crosses F1, F2, F3, F4 at these coordinates; write it in the same run or align it to them.';
    expect(files.page).toContain(`Registration: ${words}`);
    expect(files.report.marks.registration).toBe(words);
    const gds = readGds(readFileSync(join(files.out, 'pattern.gds')));
    const notes = gds.notes(gds.tops[0]!).map(({ text }) => text);
    expect(notes).toContain('MAIN PATTERN: not in this file.');
    expect(notes.find((text) => text.startsWith('REGISTRATION'))).toContain(words);
  });

  test('the same zones have the same areas in both formats', () => {
    const [gds, dxf] = files.report.pattern.files;
    expect(dxf.file).toBe('pattern.dxf');
    for (const [k, { id, area_mm2 }] of gds.patches.entries()) {
      expect(dxf.patches[k].id).toBe(id);
      // Corners on a grid of 1 nm against one of 1 fm, along some metres of edge.
      expect(dxf.patches[k].area_mm2).toBeCloseTo(area_mm2, 3);
    }
  });

  test('each mark stands on the page where the layer of marks has polygons', () => {
    const gds = readGds(readFileSync(join(files.out, 'pattern.gds')));
    const corners = gds.polygons('MARKS').flatMap(({ points }) => points);
    expect(files.page).toContain(
      'Layer 2/0; the cell in GDSII and OASIS and the layer in a DXF are named MARKS',
    );
    for (const { kind, at_mm, width_mm, height_mm } of files.report.marks.marks) {
      if (kind === 'patches') continue;
      const [x, y] = at_mm as [number, number];
      const shown = [x, y].map((value) => String(value).replace('-', '−')).join(', ');
      expect(files.page).toContain(`(${shown}) ${Number(width_mm.toFixed(3))} × `);
      const own = corners
        .map(([u, v]) => [u - x, v - y] as const)
        .filter(([u, v]) => 2 * Math.abs(u) < width_mm + 1e-5 && 2 * Math.abs(v) < height_mm + 1e-5);
      expect(own.length, kind).toBeGreaterThan(3);
      expect(2 * Math.max(...own.map(([u]) => Math.abs(u)))).toBeCloseTo(width_mm, 4);
    }
  });

  test('the widths to measure are those of the lines in the file', () => {
    const gds = readGds(readFileSync(join(files.out, 'pattern.gds')));
    const bars = files.report.marks.marks.find(({ kind }: { kind: string }) => kind === 'bars');
    const page = files.page;
    const shown = bars.widths_um
      .map((w: { line: number; space: number }) => `${w.line}/${w.space}`)
      .join(', ');
    expect(page).toContain(`from the bottom row up: ${shown}`);
    expect(page).toContain(`lines of the bars along x and along y: line/space ${shown} µm`);
    const rectangles = gds
      .polygons('MARKS')
      .filter(({ points }) => points.length === 4)
      .map(({ points }) => {
        const [xs, ys] = [points.map(([x]) => x), points.map(([, y]) => y)];
        const size = [Math.max(...xs) - Math.min(...xs), Math.max(...ys) - Math.min(...ys)] as const;
        return {
          width: Math.min(...size),
          bottom: Math.min(...ys),
          long: Math.max(...size) >= 10 * Math.min(...size),
        };
      })
      .filter(({ long }) => long);
    for (const { line } of bars.widths_um) {
      const own = rectangles.filter(({ width }) => Math.abs(width - line / 1000) <= 1e-6);
      // Eleven along y and eleven along x.
      expect(own.length, `lines of ${line} µm`).toBeGreaterThanOrEqual(22);
    }
  });
});

test('without pattern files the page says that the shapes of the marks are missing, and where to register to', async () => {
  const { page } = await made();
  expect(page).toContain('The shapes of the marks are in no file of this package');
  expect(page).toContain(
    'Data made from them must have the crosses F1, F2, F3, F4 at these coordinates; write it in the same run',
  );
});

test('a mark that is asked for and not written stands on the page with the reason', async () => {
  const out = join(folder(), 'out');
  const file = scenarioFile(soundScenario((text) => `${text}\nmarks: auto\n`));
  await datumlight(['make', file, '--draft', '--out', out]);
  const page = plain(readFileSync(join(out, 'fabrication.html'), 'utf8'));
  const { leftOut } = JSON.parse(readFileSync(join(out, 'report.json'), 'utf8')).marks;
  expect(leftOut).toContainEqual({ kind: 'drawing', name: 'drawing', why: 'no number' });
  expect(page).toContain('drawing number not written: the scenario states no drawing number');
});

test('a scenario without marks has no chapter of them', async () => {
  const out = join(folder(), 'out');
  await datumlight(['make', scenarioFile(soundScenario((text) => text)), '--draft', '--out', out]);
  const html = readFileSync(join(out, 'fabrication.html'), 'utf8');
  expect(html).toContain('<h2>Data</h2>');
  expect(html).not.toContain('<h2>Marks</h2>');
});
