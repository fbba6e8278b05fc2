/**
 * What a mask shop must not guess, searched for in every file that it gets: what becomes of written areas, how deep, mirrored or not.
 * Files are read as text, GDSII and OASIS by readers that share no code with src/.
 */
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { expect, test } from 'vitest';
import { readGds } from '../independent/gdsii.ts';
import { readOasis } from '../independent/oasis.ts';
import { datumlight, folder, scenarioFile, soundScenario } from './support/run.ts';

const CASES = [
  {
    kind: 'etched',
    words: '',
    faces: 'part',
    tone: 'Written areas are etched into the glass.',
    data: 'Do not mirror them for writing.',
  },
  {
    kind: 'etched',
    words: ', etchDepth: 0.7 um, etchTolerance: 15 nm',
    faces: 'interferometer',
    tone: 'Written areas are etched into the glass.',
    data: 'Mirror them once, x to -x,',
  },
  {
    kind: 'chrome',
    words: ', tone: written is opaque',
    faces: 'part',
    tone: 'Written areas are opaque (chrome).',
    data: 'Do not mirror them for writing.',
  },
  {
    kind: 'chrome',
    words: '',
    faces: 'part',
    tone: 'Written areas are clear (no chrome).',
    data: 'Do not mirror them for writing.',
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

/** As one line of plain text: tags, breaks between table cells and lines of a drawing gone. */
const plain = (text: string): string => text.replaceAll(/<[^>]*>/g, ' ').replaceAll(/\s+/g, ' ');

/** The contents of the texts of a DXF (group 1), one after the other: a drawing breaks its lines where the title block ends. */
function dxfTexts(file: string): string {
  const lines = file.split(/\r?\n/);
  return lines.filter((_, k) => k % 2 === 1 && lines[k - 1]!.trim() === '1').join(' ');
}

test.each(CASES.map((one) => [`${one.kind}${one.words}`, one.faces, one] as const))(
  '%s, pattern facing the %s: the same answer in every file',
  async (_, __, wanted) => {
    const out = join(folder(), 'out');
    const { code, stderr } = await datumlight([
      'make',
      scenario(wanted),
      '--draft',
      '--out',
      out,
      '--pattern',
      'gds',
      'oas',
      '--pattern-dxf',
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
    const everywhere = [
      inGds.join(' '),
      dxfTexts(read('pattern.dxf')),
      plain(read('coefficients.html')),
      plain(read('fabrication.html')),
      plain(read('layout.svg')),
      dxfTexts(read('layout.dxf')),
    ];
    for (const text of everywhere) {
      expect(text).toContain(wanted.tone);
      expect(text).toContain(wanted.data);
    }
    const { process } = JSON.parse(read('report.json')).scenario.input;
    expect(process.tone).toBe(
      wanted.words.includes('opaque')
        ? 'written is opaque'
        : `written is ${wanted.kind === 'etched' ? 'etched' : 'clear'}`,
    );
    expect(process.writerMirrorsData).toBe(wanted.faces === 'interferometer');
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
