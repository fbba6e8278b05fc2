/**
 * `motions.svg` and `motions.csv` against a paraboloid's normals by hand: R 2000 mm, D 300 mm, its vertex 2600 mm off, on the axis of a beam from
 * 500 mm. The pictures are read back pixel by pixel. nm for 1 µm and 1 µrad.
 */
import { decode } from 'fast-png';
import { expect, test } from 'vitest';
import { zernikeOrdersFromIndex } from '../../src/optics/zernike.ts';
import { patchTables } from '../../src/writing/coefficients/coefficients.ts';
import { motionsCsv } from '../../src/writing/motions/motions-csv.ts';
import { motionsSvg } from '../../src/writing/motions/motions-svg.ts';
import { DIVERGING } from '../../src/writing/palette.ts';
import { reportOf } from '../../src/writing/report/report.ts';
import { designFrom, type Words } from '../metrology/support/design-from.ts';

const HEAD = { version: '0.0.0', scenarioHash: '0123456789abcdef'.repeat(4), draft: false };
const scene = (test_: Words): Words => ({
  title: 'Coma & <tilt>',
  substrate: { outline: { circle: { diameter: 150 } }, thickness: 0 },
  part: {
    origin: [0, 0, 2600],
    datums: { M: { asphere: { vertex: [0, 0, 0], axis: [0, 0, 1], radius: -2000, conic: -1 } } },
  },
  test: { surface: 'M', aperture: { circle: { diameter: 300 } }, ...test_ },
});
const design = designFrom(scene({}));
const svg = motionsSvg(design, design.main!, HEAD);
const tested = reportOf(design, [], HEAD, patchTables(design)).test!;
const EDGE = 150;
const R = 2000;

interface Picture {
  readonly name: string;
  readonly address: string;
}
const pictures: readonly Picture[] = [
  ...svg.matchAll(
    /<title>(\w+ \w+, [a-z ]+): [^<]*<\/title><image[^>]* href="data:image\/png;base64,([^"]+)"/g,
  ),
].map(([, name, address]) => ({ name: name!, address: address! }));

/** From −7 to 7, and undefined where the picture is clear. */
const levelsOf = (
  name: string,
): { readonly side: number; readonly levels: readonly (number | undefined)[] } => {
  const { address } = pictures.find((picture) => picture.name === name)!;
  const { width, height, data, palette, depth } = decode(Buffer.from(address, 'base64'));
  expect([width, depth]).toEqual([height, 4]);
  const colours = palette!.map(
    ([r, g, b]) => `#${((1 << 24) | (r! << 16) | (g! << 8) | b!).toString(16).slice(1)}`,
  );
  expect(colours.slice(0, DIVERGING.length)).toEqual(DIVERGING);
  const rowBytes = Math.ceil(width / 2);
  const levels = Array.from({ length: width * height }, (_, at) => {
    const byte = data[Math.floor(at / width) * rowBytes + ((at % width) >> 1)]!;
    const index = at % 2 === 0 ? byte >> 4 : byte & 15;
    return index === DIVERGING.length ? undefined : index - 7;
  });
  return { side: width, levels };
};

/** The round number at the end of the scale of colours that is headed so. */
const limitOf = (words: string): number => {
  const scale = svg.slice(svg.indexOf(`>${words}, part and hologram<`));
  return Number([...scale.slice(0, 4000).matchAll(/text-anchor="middle"[^>]*>(−?[\d.]+)</g)][4]![1]);
};

/** Levels of a map within the aperture against heights by hand at the surface's x and y, nm. */
function agreement(name: string, limit: number, height: (x: number, y: number) => number) {
  const { side, levels } = levelsOf(name);
  let [inside, equal, worst] = [0, 0, 0];
  levels.forEach((level, at) => {
    // The view is 1.06 times as wide as the aperture. The beam crosses the axis on its way, so that the surface stands turned by 180° on the pattern,
    // and x of the pattern runs to the left: x of the surface runs to the right, and y down. Its scale changes by 0.3 % over the aperture.
    const [x, y] = [(at % side) + 0.5, Math.floor(at / side) + 0.5].map(
      (pixel) => (2 * pixel - side) * (1.06 / side) * EDGE,
    ) as [number, number];
    if (Math.hypot(x, y) > EDGE) return;
    const expected = Math.max(-7, Math.min(7, Math.round((7.5 * height(x, y)) / limit)));
    inside++;
    if (level === expected) equal++;
    worst = Math.max(worst, Math.abs((level ?? Number.NaN) - expected));
  });
  return { inside, equal: equal / inside, worst };
}

test('there is a picture for each degree of part and hologram, as measured and evaluated, in less than 300 kB', () => {
  const names = ['part', 'hologram'].flatMap((of) =>
    ['x', 'y', 'z', 'rx', 'ry', 'rz'].flatMap((degree) =>
      ['as measured', 'evaluated'].map((state) => `${of} ${degree}, ${state}`),
    ),
  );
  expect(pictures.map(({ name }) => name).sort()).toEqual(names.sort());
  expect(svg.length).toBeLessThan(300_000);
});

/** −(n_x + p_x): the normal meets the pattern at ρ = −h (600 − h²/4000)/2000, where the beam comes from 500 mm. */
function hologramX(x: number, y: number): number {
  const square = x * x + y * y;
  const [u, v] = [x, y].map((value) => (-value * (600 - square / 4000)) / R) as [number, number];
  return 1000 * (x / Math.hypot(R, x, y) - u / Math.hypot(500, u, v));
}

test.each([
  // n_x = −x/R, but for its third order; n_z = −1 + h²/(2R²), of which piston is taken, whose mean is a²/(4R²).
  ['part x, as measured', 'as measured: nm of height for 1 µm', (x: number) => (-1000 * x) / R],
  ['part y, as measured', 'as measured: nm of height for 1 µm', (_: number, y: number) => (-1000 * y) / R],
  ['hologram x, as measured', 'as measured: nm of height for 1 µm', hologramX],
  // y n_z: the surface's +y side goes away from the hologram.
  ['part rx, as measured', 'as measured: nm of height for 1 µrad', (_: number, y: number) => -y],
  ['part ry, as measured', 'as measured: nm of height for 1 µrad', (x: number) => x],
  [
    'part x, evaluated',
    'evaluated: nm of height for 1 µm',
    (x: number, y: number) => ((1000 * x) / (2 * R ** 3)) * (x * x + y * y - (2 * EDGE ** 2) / 3),
  ],
])('%s shows the heights by hand where the camera sees them', (name, words, height) => {
  const { inside, equal, worst } = agreement(name, limitOf(words), height);
  expect(inside).toBeGreaterThan(4000);
  expect(worst).toBeLessThanOrEqual(1);
  expect(equal).toBeGreaterThan(0.95);
});

test('a turn about the axis is white all over, and the label says 0', () => {
  const { levels } = levelsOf('part rz, evaluated');
  expect(new Set(levels.filter((level) => level !== undefined))).toEqual(new Set([0]));
  expect(svg).toContain('<title>part rz, evaluated: 0 nm rms</title>');
});

test('maps carry the rms of the report, and say from which side and what is taken out', () => {
  const left = Number(tested.perHologramMotion.x.left_nm.toPrecision(2));
  expect(svg).toContain(`<title>hologram x, evaluated: ${left} nm rms</title>`);
  expect(svg).toContain(
    'SEEN FROM THE INTERFEROMETER, as the camera sees it: x of the pattern to the left, y up',
  );
  expect(svg).toContain('Evaluated: less piston, tilt, power');
  expect(svg).toContain('Coma &amp; &lt;tilt&gt;');
  // As measured is less piston, which no interferometer sees: 1 µm along z is the defocus of n_z, a²/(4R²)/√3.
  const [, z] = /<title>part z, as measured: ([\d.]+) nm rms/.exec(svg)!;
  expect(Number(z) / (1000 * EDGE ** 2) / (1 / (4 * R ** 2 * Math.sqrt(3)))).toBeCloseTo(1, 1);
});

test('a ring has both edges; a draft says so in both files', () => {
  const ring = designFrom(scene({ aperture: { ring: { inner: 100, outer: 300 } } }));
  const text = motionsSvg(ring, ring.main!, { draft: true });
  expect(/<path id="edge"[^>]* d="([^"]+)"/.exec(text)![1]!.match(/Z/g)).toHaveLength(2);
  expect(text.match(/NOT FOR FABRICATION/g)).toHaveLength(3);
  expect(svg).not.toContain('FABRICATION');
  const bare = designFrom(scene({ removed: [] }));
  expect(motionsSvg(bare, bare.main!, HEAD)).toContain('Evaluated: nothing removed.');
  expect(motionsCsv(tested, { draft: true }).split('\n')[0]).toMatch(/^# DRAFT: NOT FOR FABRICATION/);
});

test('motions.csv has a row for each degree, with the figures of the report and the orders of the terms', () => {
  const text = motionsCsv(tested, HEAD);
  const [heads, ...rows] = text
    .trimEnd()
    .split('\n')
    .filter((line) => !line.startsWith('#'))
    .map((line) => line.split(','));
  expect(heads!.slice(0, 6)).toEqual(['moved', 'degree', 'unit', 'raw_nm', 'left_nm', 'z0_nm']);
  expect(heads).toHaveLength(20);
  expect(rows.map((row) => row.slice(0, 3).join(' '))).toEqual(
    ['part', 'hologram'].flatMap((of) => [
      ...['x', 'y', 'z'].map((degree) => `${of} ${degree} um`),
      ...['rx', 'ry', 'rz'].map((degree) => `${of} ${degree} urad`),
    ]),
  );
  const [x] = rows;
  expect(Number(x![3])).toBeCloseTo(tested.perMotion.x.raw_nm, 8);
  // Third order: a³/(2R³)/√72, all of it Z 3,1; the fifth order takes half a percent.
  const coma = (1000 * EDGE ** 3) / (2 * R ** 3) / Math.sqrt(72);
  expect(Math.abs(Number(x![4]) / coma - 1)).toBeLessThan(0.01);
  expect(Math.abs(Number(x![5 + 8]) / coma - 1)).toBeLessThan(0.01);
  expect(text).toContain(`z8 ${zernikeOrdersFromIndex(8).join(' ')};`);
  expect(text).toContain('less what the evaluation removes (piston, tilt, power)');
});
