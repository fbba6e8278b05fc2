/**
 * A shop that has only the package: its questions answered by text search in fabrication.html, through the executable. What becomes of
 * written areas, how deep, mirrored or not, biased or not, which layer, what to accept. Figures against the files themselves, by readers
 * that share no code with src/, and against closed forms.
 */
import { execFileSync } from 'node:child_process';
import { createHash } from 'node:crypto';
import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { beforeAll, describe, expect, test } from 'vitest';
import { readGds } from '../independent/gdsii.ts';
import { lacks, program } from '../machine/outside-programs.ts';
import { datumlight, folder, scenarioFile, soundScenario } from './support/run.ts';

/** Fused silica 6.35 mm, patches of 1 mm; `substrate` and `process` as words of the scenario. */
const scenario = (substrate: string, process: string): string =>
  scenarioFile(
    soundScenario(
      (text) =>
        `${text
          .replace('width: 10, height: 10', 'width: 1, height: 1')
          .replace('diameter: 12}', 'diameter: 1}')
          .replace(
            '  edgeMargin: 3',
            `  thickness: 6.35\n  glass: fused silica\n${substrate}  edgeMargin: 3`,
          )}\nprocess: {${process}}\n`,
    ),
  );

const pdftotext = program('pdftotext');

/** Tags and line breaks gone. */
const plain = (text: string): string =>
  text
    .replace(/<style>[\s\S]*?<\/style>/, '')
    .replaceAll(/<[^>]*>/g, ' ')
    .replaceAll(/\s+/g, ' ');

const CASES = [
  {
    name: 'nothing stated, no pattern files',
    substrate: '',
    process: 'kind: etched',
    options: [],
    says: [
      'Written areas are etched into the glass. All other areas, outside the patches too, stay unetched.',
      'Etch depth 692.3 nm',
      'the face toward the part',
      'Do not mirror them for writing.',
      'This package has no pattern files. Make the data from coefficients.csv',
      'No edge shift is applied.',
      'see the drawing of the blank (not in this package)',
      '692.3 nm, tolerance not stated, to be agreed.',
      // sin²(0.95 π/2) = 0.9938: what a groove 5 % too shallow leaves the orders.
      'A depth 5 % off leaves a working order 99.4 % of its light',
      // sin²(0.45 π) = 0.9755: a duty of 0.45 or 0.55 in place of 0.5.
      'A line 5 % of the period off leaves a working order 97.6 % of its light',
      'The budget counts with u = 0.1 µm, the program’s default',
    ],
    not: ['in any direction', 'Layer'],
    drawn: ['placement not stated, to be agreed', 'No tolerance to the edge is stated.'],
    notDrawn: ['CZ'],
  },
  {
    name: 'all stated, the pattern away, written as the drawing has it',
    substrate: '  patternFaces: interferometer\n  tolerance: {wavefront: 0.02, wedge: 20 urad}\n',
    process:
      'kind: etched, etchDepth: 700 nm, etchTolerance: 15 nm, widthTolerance: 60 nm, placement: 0.15 um, positionToEdge: 0.1 mm',
    options: ['--pattern', 'gds', '--edge-shift', '-50 nm'],
    says: [
      'Etch depth 700 nm +/- 15 nm.',
      'Patterns are on the face toward the interferometer. It is the face away from the viewer of the drawing.',
      'Mirror them once, x to -x,',
      'as the drawing and the tables have them, seen from the part side',
      'every edge of a written area is moved inward by 0.05 um. Do not size them again.',
      'Write layer 1/0 (WRITTEN) of the pattern files and no other.',
      '1/0 WRITTEN written zones',
      'database unit 0.001 µm',
      '700 nm ± 15 nm. ',
      '0.5 × period ± 60 nm. ',
      '0.3 µm or less off in any direction (2u): a zone of Ø0.6 µm',
      '0.05 mm or less off in any direction: a zone of Ø0.1 mm',
      '±40 µrad (2u)',
    ],
    not: ['program’s default'],
    // The same zones as on the page, mm.
    drawn: ['Ø0.0006 CZ', 'Ø0.1 CZ', 'placement 0.15 µm (standard uncertainty)'],
    notDrawn: ['not stated'],
  },
  {
    name: 'chrome, mirrored in the files',
    substrate: '  patternFaces: interferometer\n',
    process: 'kind: chrome, tone: written is opaque, opticalDensity: 3',
    options: ['--pattern', 'gds', '--as-written', '--every', '20'],
    says: [
      'Written areas are opaque (chrome). All other areas, outside the patches too, are clear (no chrome).',
      'Optical density of the chrome at 632.8 nm: 3 or more.',
      'x to −x of the drawing and the tables: as the writer sees the patterned surface',
      'The pattern files are mirrored already: do not mirror them again.',
      'No edge shift is applied. Add what your process needs.',
      'THINNED: A PICTURE, NOT FOR FABRICATION',
      'leave chrome on the written areas only',
    ],
    not: ['Etch depth'],
    drawn: ['NOT FOR FABRICATION'],
    notDrawn: ['Etch depth'],
  },
] as const;

describe.each(CASES)('$name', ({ substrate, process, options, says, not, drawn, notDrawn }) => {
  let out: string;
  let page: string;
  beforeAll(async () => {
    out = join(folder(), 'out');
    const { code, stderr } = await datumlight([
      'make',
      scenario(substrate, process),
      ...['--draft', '--out', out],
      ...options,
    ]);
    expect([0, 1], stderr).toContain(code);
    page = plain(readFileSync(join(out, 'fabrication.html'), 'utf8'));
  });

  test('the page answers', () => {
    for (const words of says) expect(page).toContain(words);
    for (const words of not) expect(page).not.toContain(words);
    expect(page).toContain('NOT FOR FABRICATION');
    for (const check of ['Line width (CD)', 'Placement', 'Pattern to edge', 'transmitted wavefront', 'Tone'])
      expect(page).toContain(check);
  });

  test('the drawing says the same of the limits', () => {
    const drawing = plain(readFileSync(join(out, 'layout.svg'), 'utf8'));
    for (const words of drawn) expect(drawing).toContain(words);
    for (const words of notDrawn) expect(drawing).not.toContain(words);
  });

  test.skipIf(lacks({ pdftotext }))('the PDF has the same words', () => {
    const file = join(out, 'fabrication.pdf');
    const text = execFileSync(pdftotext!, ['-raw', file, '-'], { encoding: 'utf8' });
    const inPdf = new Set(text.split(/\s+/));
    const body = readFileSync(join(out, 'fabrication.html'), 'utf8').replace(/[\s\S]*<main>/, '');
    const inHtml = plain(body).replaceAll('&lt;', '<').trim().split(' ');
    expect(inHtml.length).toBeGreaterThan(300);
    expect(inHtml.filter((word) => !inPdf.has(word))).toEqual([]);
  });

  test('it gives the hash of each file that a shop uses', () => {
    const used = readdirSync(out).filter((name) => /^(layout|coefficients|samples|pattern)\./.test(name));
    expect(used.length).toBeGreaterThanOrEqual(7);
    for (const name of used) {
      const hash = createHash('sha256')
        .update(readFileSync(join(out, name)))
        .digest('hex');
      expect(page).toMatch(new RegExp(`${name.replace('.', '\\.')} .{4,60} ${hash}`));
    }
  });

  test('nothing is fetched and nothing runs', () => {
    expect(readFileSync(join(out, 'fabrication.html'), 'utf8')).not.toMatch(/<script|src=|href=|url\(/);
  });

  test.runIf(options.length > 0)('cells and counts are those of the file', () => {
    const gds = readGds(readFileSync(join(out, 'pattern.gds')));
    expect(page).toContain(`top cell ${gds.tops[0]}`);
    const { pattern } = JSON.parse(readFileSync(join(out, 'report.json'), 'utf8'));
    for (const { id, cell, polygons, vertices } of pattern.files[0].patches) {
      expect(page).toContain(`${id} ${cell} 1 × 1 ${polygons} ${vertices}`);
      const written = gds.polygons(cell).filter(({ layer }: { layer: number }) => layer === 1);
      expect(written.length).toBe(polygons);
    }
  });
});

test('the wavefront’s limit is that of the lit circle, scaled to the disc that can be measured', async () => {
  const out = join(folder(), 'out');
  const file = scenario('  tolerance: {wavefront: 0.02}\n', 'kind: etched');
  await datumlight(['make', file, '--draft', '--out', out]);
  // Power and astigmatism grow with r²; 150 mm less two edge margins of 3 mm can be measured.
  const lit = JSON.parse(readFileSync(join(out, 'report.json'), 'utf8')).camera.diameter_mm;
  const limit = 2 * 0.02 * (144 / lit) ** 2;
  const page = plain(readFileSync(join(out, 'fabrication.html'), 'utf8'));
  expect(page).toContain('to the edge of Ø 144 mm');
  expect(page).toContain(`±${limit.toPrecision(3)} waves (2u)`);
});

test('the operator’s sheet has none of it', async () => {
  const out = join(folder(), 'out');
  await datumlight(['make', scenario('', 'kind: etched'), '--draft', '--out', out, '--pattern', 'gds']);
  // The drawing in it has its title block.
  const sheet = readFileSync(join(out, 'sheet.html'), 'utf8').replaceAll(/<svg[\s\S]*?<\/svg>/g, '');
  expect(sheet).not.toMatch(/Pattern files|Top cell|Database unit|Edge shift|minimum feature/i);
});

test.each([
  ['kind: etched, opticalDensity: 3', 'an etched pattern has no optical density'],
  ['kind: chrome, opticalDensity: 0', 'opticalDensity'],
])('%s is refused with its place', async (words, message) => {
  const { code, stdout, stderr } = await datumlight(['check', scenario('', words)]);
  expect(code).toBe(2);
  expect(stdout + stderr).toContain(message);
});
