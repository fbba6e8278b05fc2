/**
 * What a mask shop must not guess, searched for in every file that it gets: what becomes of written areas, how deep, mirrored or not.
 * Files are read as text, GDSII and OASIS by readers that share no code with src/.
 */
import { createHash } from 'node:crypto';
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { expect, test } from 'vitest';
import { readGds } from '../independent/gdsii.ts';
import { readOasis } from '../independent/oasis.ts';
import { datumlight, folder, scenarioFile, soundScenario } from './support/run.ts';

const PLAIN = 'No edge shift is applied.';

const CASES = [
  {
    kind: 'etched',
    words: '',
    faces: 'part',
    options: [],
    /** In every file; and in those that speak of pattern files. */
    says: [
      'Written areas are etched into the glass.',
      'tolerance not stated, to be agreed',
      'Do not mirror them for writing.',
    ],
    files: [PLAIN, 'Write layer 1/0 (WRITTEN) of the pattern files and no other.'],
  },
  {
    kind: 'etched',
    words: ', etchDepth: 0.7 um, etchTolerance: 15 nm, widthTolerance: 60 nm',
    faces: 'interferometer',
    options: ['--edge-shift', '20 nm'],
    says: [
      'Written areas are etched into the glass.',
      'Etch depth 700 nm +/- 15 nm.',
      'Width of each written line as designed +/- 60 nm.',
      'Mirror them once, x to -x,',
    ],
    files: ['every edge of a written area is moved outward by 0.02 um. Do not size them again.'],
  },
  {
    kind: 'etched',
    words: '',
    faces: 'interferometer',
    options: ['--as-written'],
    says: ['Written areas are etched into the glass.'],
    files: [
      'mirrored already, x to -x',
      'Do not mirror them again;',
      'tables are to be mirrored once',
      PLAIN,
    ],
  },
  {
    kind: 'chrome',
    words: ', tone: written is opaque, opticalDensity: 3',
    faces: 'part',
    options: [],
    says: [
      'Written areas are opaque (chrome).',
      'Optical density of the chrome at 632.8 nm: 3 or more.',
      'Do not mirror them for writing.',
    ],
    files: [PLAIN],
  },
  {
    kind: 'chrome',
    words: '',
    faces: 'part',
    options: [],
    says: [
      'Written areas are clear (no chrome).',
      'Optical density of the chrome at 632.8 nm not stated, to be agreed.',
      'Do not mirror them for writing.',
    ],
    files: [PLAIN],
  },
] as const;

const scenario = ({ kind, words, faces }: (typeof CASES)[number]): string =>
  scenarioFile(
    soundScenario(
      (text) =>
        `${text
          .replace('width: 10, height: 10', 'width: 1, height: 1')
          .replace('diameter: 12}', 'diameter: 1}')
          .replace(
            '  edgeMargin: 3',
            `  thickness: 6.35\n  glass: fused silica\n  patternFaces: ${faces}\n  edgeMargin: 3`,
          )}\nprocess: {kind: ${kind}${words}}\n`,
    ),
  );

interface PeriodRow {
  readonly period_um: { readonly min: number };
}

/** As one line of plain text: tags, breaks between table cells and lines of a drawing gone. */
const plain = (text: string): string => text.replaceAll(/<[^>]*>/g, ' ').replaceAll(/\s+/g, ' ');

/** The contents of the texts of a DXF (group 1), one after the other: a drawing breaks its lines where the title block ends. */
function dxfTexts(file: string): string {
  const lines = file.split(/\r?\n/);
  return lines.filter((_, k) => k % 2 === 1 && lines[k - 1]!.trim() === '1').join(' ');
}

test.each(CASES.map((one) => [`${one.kind}${one.words}`, one.faces, one.options.join(' '), one] as const))(
  '%s, pattern facing the %s, %s: the same answer in every file',
  async (_, __, ___, wanted) => {
    const out = join(folder(), 'out');
    const { code, stderr } = await datumlight([
      ...['make', scenario(wanted), '--draft', '--out', out],
      ...['--pattern', 'gds', 'oas', '--pattern-dxf', ...wanted.options],
    ]);
    expect([0, 1], stderr).toContain(code);
    const read = (name: string): string => readFileSync(join(out, name), 'utf8');
    const gds = readGds(readFileSync(join(out, 'pattern.gds')));
    const inGds = gds.notes(gds.tops[0]!).map(({ text }) => text);
    const oasis = readOasis(readFileSync(join(out, 'pattern.oas'))).notes.map(({ text }) => text);
    // The ids of the patches stand in their own cells.
    expect(oasis.filter((text) => !text.startsWith('PATTERN '))).toEqual(inGds);
    expect(inGds[0]).toBe('DRAFT: NOT FOR FABRICATION');
    expect(dxfTexts(read('pattern.dxf'))).toContain('DRAFT: NOT FOR FABRICATION');
    const ofFiles = {
      'pattern.gds': inGds.join(' '),
      'pattern.dxf': dxfTexts(read('pattern.dxf')),
      'coefficients.html': plain(read('coefficients.html')),
      'fabrication.html': plain(read('fabrication.html')),
      'layout.svg': plain(read('layout.svg')),
      'layout.dxf': dxfTexts(read('layout.dxf')),
    };
    const json = JSON.parse(read('coefficients.json'));
    const ofTables = {
      'coefficients.csv': read('coefficients.csv'),
      'coefficients.json': json.fabrication.join(' '),
    };
    const lacking = (texts: Readonly<Record<string, string>>, says: readonly string[]): string[] =>
      Object.entries(texts).flatMap(([file, text]) =>
        says.filter((words) => !text.includes(words)).map((words) => `${file}: ${words}`),
      );
    expect(lacking({ ...ofFiles, ...ofTables }, wanted.says)).toEqual([]);
    expect(lacking(ofFiles, wanted.files)).toEqual([]);
    // A table is as it is, whatever the pattern files beside it are.
    const away = wanted.faces === 'interferometer';
    const mirroring = `Data made from this table are as seen ${away ? 'through the glass. Mirror them once' : 'looking at the patterned surface. Do not mirror them'}`;
    expect(
      lacking(ofTables, [
        mirroring,
        'No edge shift is applied to this table.',
        'less than the duty cycle, 0.5',
      ]),
    ).toEqual([]);
    const face = `Patterns are on the face toward the ${wanted.faces}.`;
    const { 'layout.svg': svg, 'layout.dxf': drawing, ...texts } = { ...ofFiles, ...ofTables };
    expect(lacking(texts, [face])).toEqual([]);
    expect(lacking({ svg, drawing }, [`side ${away ? 'down' : 'up'}, toward the ${wanted.faces}`])).toEqual(
      [],
    );
    const { 'fabrication.html': page, ...others } = { ...ofFiles, ...ofTables };
    expect(page).toContain('Acceptance on arrival');
    const { 'coefficients.html': sheet, ...pointing } = others;
    expect(lacking(pointing, ['Acceptance: see fabrication.pdf.'])).toEqual([]);
    expect(sheet).toContain('fabrication.pdf');
    const report = JSON.parse(read('report.json'));
    expect(report.scenario.input.substrate.patternFaces).toBe(wanted.faces);
    // The hash that the drawing has the beginning of is the one on the page, and that of the file.
    const hash = createHash('sha256').update(read('coefficients.csv')).digest('hex');
    expect(page).toContain(hash);
    expect(lacking({ svg, drawing }, [`coefficients.csv (SHA-256 ${hash.slice(0, 12)})`])).toEqual([]);
    // Half of the smallest period, and the edge shift on either side.
    const least = Math.min(...report.patches.map((one: PeriodRow) => one.period_um.min));
    const shift = report.pattern.edgeShift_um;
    for (const [name, width] of [
      ['Narrowest written line', least / 2 + 2 * shift],
      ['Narrowest space', least / 2 - 2 * shift],
    ] as const)
      expect(page).toContain(`${name} ${Number(width.toPrecision(4))}`);
    expect(page).toContain('database unit 0.001 µm');
    expect(gds.unit).toBeCloseTo(1e-6, 15);
    const { process } = report.scenario.input;
    expect(process.tone).toBe(
      wanted.words.includes('opaque')
        ? 'written is opaque'
        : `written is ${wanted.kind === 'etched' ? 'etched' : 'clear'}`,
    );
    expect(process.writerMirrorsData).toBe(away);
    const options: readonly string[] = wanted.options;
    expect(report.pattern.mirrored).toBe(options.includes('--as-written'));
    expect(report.pattern.edgeShift_um).toBe(options.includes('--edge-shift') ? 0.02 : 0);
  },
);

test('the depth is half a wave unless stated: 632.8 nm through fused silica (Malitson 1965, n 1.4570179) wants 692.34 nm', async () => {
  const out = join(folder(), 'out');
  await datumlight(['make', scenario(CASES[0]), '--draft', '--out', out]);
  const { process } = JSON.parse(readFileSync(join(out, 'report.json'), 'utf8')).scenario.input;
  // λ/(2(n − 1))
  expect(process.etchDepth_nm).toBeCloseTo(632.8 / (2 * 0.4570179), 1);
  expect(readFileSync(join(out, 'coefficients.html'), 'utf8')).toContain('Etch depth 692.3 nm');
});

test('a stated depth and its tolerance are printed as stated', async () => {
  const out = join(folder(), 'out');
  await datumlight(['make', scenario(CASES[1]), '--draft', '--out', out]);
  expect(readFileSync(join(out, 'coefficients.html'), 'utf8')).toContain('Etch depth 700 nm +/- 15 nm');
});

test.each([
  ['kind: chrome, tone: written is etched', 'does not fit'],
  ['kind: etched, tone: written is clear', 'does not fit'],
  ['kind: chrome, etchDepth: 700 nm', 'a chrome pattern has no etch depth'],
])('%s is refused with its place', async (words, message) => {
  const file = scenarioFile(soundScenario((text) => `${text}\nprocess: {${words}}\n`));
  const { code, stdout, stderr } = await datumlight(['check', file]);
  expect(code).toBe(2);
  expect(stdout + stderr).toContain(message);
});
