/**
 * `mapping.csv`, `mapping.svg`, the report's and the sheet's words of the mapping, against a paraboloid's normals by hand: from (h, 2600 − h²/4000)
 * through the axis at 600 − h²/4000 to the pattern. mm, px.
 */
import { readFileSync } from 'node:fs';
import Ajv2020 from 'ajv/dist/2020.js';
import { expect, test } from 'vitest';
import { patchTables } from '../../src/writing/coefficients/coefficients.ts';
import { jsonText } from '../../src/writing/json.ts';
import { mappingCsv } from '../../src/writing/mapping/mapping-csv.ts';
import { mappingSvg } from '../../src/writing/mapping/mapping-svg.ts';
import { reportOf } from '../../src/writing/report/report.ts';
import { surfaceSection } from '../../src/writing/sheet/surface-section.ts';
import { designFrom, type Words } from '../metrology/support/design-from.ts';

const HEAD = { version: '0.0.0', scenarioHash: '0123456789abcdef'.repeat(4), draft: false };
const FIDUCIALS = [
  { id: 'north', at: [80, 100] },
  { id: 'dot', at: [120, -30] },
];
const scene = (test_: Words): Words => ({
  title: 'Off <axis>',
  substrate: { outline: { circle: { diameter: 150 } }, thickness: 0 },
  part: {
    origin: [0, 0, 2600],
    datums: { M: { asphere: { vertex: [0, 0, 0], axis: [0, 0, 1], radius: -2000, conic: -1 } } },
  },
  test: { surface: 'M', aperture: { circle: { diameter: 200, centre: [80, 20] } }, ...test_ },
});
const design = designFrom(scene({ fiducials: FIDUCIALS }));
const main = design.main!;
/** The beam of f/3.2 from 500 mm spans 1000 pixels. */
const PITCH = 500 / 3.2 / 1000;

const onPattern = (x: number, y: number): readonly [number, number] => {
  const square = x * x + y * y;
  const scale = -(600 - square / 4000) / 2000;
  return [scale * x, scale * y];
};
const onCamera = (x: number, y: number): readonly [number, number] => {
  const [u, v] = onPattern(x, y);
  return [499.5 - u / PITCH, 499.5 - v / PITCH];
};

test('mapping.csv has marks, then a grid on the pattern, each row of one normal', () => {
  const text = mappingCsv(design, main, HEAD);
  const [head, ...rows] = text
    .trimEnd()
    .split('\n')
    .filter((line) => !line.startsWith('#'));
  expect(head).toBe(
    'mark,pattern_x_mm,pattern_y_mm,surface_x_mm,surface_y_mm,camera_column_px,camera_row_px,' +
      'magnification_max,magnification_min,incidence_deg,leaving_deg',
  );
  const read = rows.map((row) => row.split(','));
  expect(read.slice(0, 3).map(([mark]) => mark)).toEqual(['north', 'dot', '']);
  expect(read.slice(0, 2).map((row) => row.slice(3, 5).map(Number))).toEqual([
    [80, 100],
    [120, -30],
  ]);
  expect(rows.length).toBeGreaterThan(300);
  expect(text).toContain(`Rows: 2 marks of the part by id, then ${rows.length - 2} points 2 mm apart`);
  for (const row of read) {
    const [u, v, x, y, column, line, most, least, incidence, leaving] = row.slice(1).map(Number) as number[];
    const [px, py] = onPattern(x!, y!);
    expect(u).toBeCloseTo(px, 5);
    expect(v).toBeCloseTo(py, 5);
    const [cx, cy] = onCamera(x!, y!);
    expect(column).toBeCloseTo(cx, 2);
    expect(line).toBeCloseTo(cy, 2);
    // Around the axis lengths go as h against ρ; outward as ds = √(1 + (h/R)²) dh against dρ = (600 − 3h²/4000)/2000 dh.
    const h = Math.hypot(x!, y!);
    const around = 2000 / (600 - (h * h) / 4000);
    const outward = (2000 * Math.sqrt(1 + (h / 2000) ** 2)) / (600 - (3 * h * h) / 4000);
    expect(most).toBeCloseTo(Math.max(around, outward), 4);
    expect(least).toBeCloseTo(Math.min(around, outward), 4);
    expect(incidence).toBeCloseTo((Math.atan2(Math.hypot(u!, v!), 500) * 180) / Math.PI, 3);
    // The slope of the surface: h/R.
    expect(leaving).toBeCloseTo((Math.atan2(h, 2000) * 180) / Math.PI, 3);
  }
});

test('a draft says so in both files', () => {
  expect(mappingCsv(design, main, { draft: true }).split('\n')[0]).toMatch(/^# DRAFT: NOT FOR FABRICATION/);
  expect(mappingSvg(design, main, { draft: true }).match(/NOT FOR FABRICATION/g)).toHaveLength(3);
  expect(mappingSvg(design, main, HEAD)).not.toContain('FABRICATION');
});

test('mapping.svg draws lines and marks where the camera sees them, and says from which side', () => {
  const svg = mappingSvg(design, main, HEAD);
  expect(svg).toContain(
    'SEEN FROM THE INTERFEROMETER, as the camera sees it: x of the pattern to the left, y up',
  );
  expect(svg).toContain('every 20 mm');
  expect(svg).toContain('Off &lt;axis&gt;');
  // Its own ticks say how pixels lie on the paper.
  const ticks = (words: RegExp): readonly (readonly [number, number])[] =>
    [...svg.matchAll(words)].map(([, paper, pixel]) => [Number(paper), Number(pixel)] as const);
  const columns = ticks(/v5"\/><text text-anchor="middle" x="([\d.]+)" y="[\d.]+">(\d+)</g);
  const rows = ticks(/<path class="tick" d="M[\d.]+ ([\d.]+)h-5"\/><text[^>]*>(\d+)</g);
  const scaleOf = ([[p, a], [q, b]]: readonly (readonly [number, number])[]) => (q! - p!) / (b! - a!);
  expect(scaleOf(columns)).toBeGreaterThan(0);
  expect(scaleOf(rows)).toBeCloseTo(scaleOf(columns), 3);
  const paper = (x: number, y: number): readonly [number, number] => {
    const [column, row] = onCamera(x, y);
    return [
      columns[0]![0] + (column - columns[0]![1]) * scaleOf(columns),
      rows[0]![0] + (row - rows[0]![1]) * scaleOf(rows),
    ];
  };
  const marks = [...svg.matchAll(/class="mark" d="M([\d.]+) ([\d.]+)H[\d.]+M([\d.]+) /g)];
  expect(marks).toHaveLength(2);
  for (const [k, { at }] of FIDUCIALS.entries()) {
    const [x, y] = paper(at[0]!, at[1]!);
    expect(Number(marks[k]![3])).toBeCloseTo(x, 0);
    expect(Number(marks[k]![2])).toBeCloseTo(y, 0);
    expect(svg).toContain(`>${FIDUCIALS[k]!.id}</text>`);
  }
  // x = 0 is cut by the aperture's edge at y = 20 ± 60; the line runs between the two places.
  const [zero] = svg.matchAll(/class="x zero" d="M([\d.]+) ([\d.]+)L.*L([\d.]+) ([\d.]+)"/g);
  const [first, last] = [paper(0, -40), paper(0, 80)];
  const ends = zero!.slice(1).map(Number);
  for (const [k, expected] of [...first, ...last].entries())
    expect(Math.abs(ends[k]! - expected)).toBeLessThan(0.2);
  // Every line has its label; x from −20 to 180 less what is no run, y from −80 to 120 the same.
  const labels = [...svg.matchAll(/>([xy]) (−?\d+)<\/text>/g)].map(([, name, value]) => `${name}${value}`);
  expect(new Set(labels).size).toBe(labels.length);
  expect(labels).toEqual(expect.arrayContaining(['x0', 'x160', 'y−60', 'y0', 'y100']));
});

test('a ring has two edges, and its lines stop at the hole', () => {
  const ring = designFrom(scene({ aperture: { ring: { inner: 80, outer: 200 } } }));
  const svg = mappingSvg(ring, ring.main!, HEAD);
  expect(svg.match(/class="edge" d="M[^"]*Z"/g)).toHaveLength(2);
  expect(svg.match(/class="x zero"/g)).toHaveLength(2);
});

test('the report has the mapping and the marks by its schema', () => {
  const parsed = JSON.parse(jsonText(reportOf(design, [], HEAD, patchTables(design))));
  const validate = new Ajv2020.default({ strict: true, allowUnionTypes: true }).compile(
    JSON.parse(readFileSync('schemas/report.schema.json', 'utf8')),
  );
  expect(validate(parsed) ? [] : validate.errors).toEqual([]);
  const { mapping, fiducials } = parsed.test;
  expect(Math.abs(mapping.rotation_deg)).toBeCloseTo(180, 3);
  expect(mapping.mirrored).toBe(false);
  expect(mapping.distortion_percent.largest).toBeGreaterThan(mapping.distortion_percent.rms);
  for (const [k, { id, at, pattern_mm, camera_px }] of fiducials.entries()) {
    expect([id, at]).toEqual([FIDUCIALS[k]!.id, FIDUCIALS[k]!.at]);
    for (const axis of [0, 1]) {
      expect(pattern_mm[axis]).toBeCloseTo(onPattern(at[0], at[1])[axis]!, 8);
      expect(camera_px[axis]).toBeCloseTo(onCamera(at[0], at[1])[axis]!, 6);
    }
  }
});

test('the sheet says how the picture lies and where the marks appear', () => {
  const text = surfaceSection(design, reportOf(design, [], HEAD, patchTables(design)))!.text;
  const [, scale] =
    /1 mm of pattern shows ([\d.]+) mm of surface, turned by −?180°; distortion [\d.]+ % of/.exec(text)!;
  // Between that at the axis and that outward at the far edge, h = 182 mm.
  expect(Number(scale)).toBeGreaterThan(2000 / 600);
  expect(Number(scale)).toBeLessThan(2000 / (600 - (3 * 182 ** 2) / 4000));
  const [column, row] = onCamera(80, 100);
  expect(text).toContain(
    `<td>north</td><td class="n">80</td><td class="n">100</td><td class="n">${onPattern(80, 100)
      .map((value) => value.toFixed(3).replace('-', '−'))
      .join(
        '</td><td class="n">',
      )}</td><td class="n">${column.toFixed(1)}</td><td class="n">${row.toFixed(1)}</td>`,
  );
  const bare = designFrom(scene({}));
  expect(surfaceSection(bare, reportOf(bare, [], HEAD, patchTables(bare)))!.text).not.toContain(
    'camera column',
  );
});
