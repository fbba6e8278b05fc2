/**
 * Which files of a package say the edge shift: those that carry the shifted edges, with the way in words, the report, the fabricator's
 * page, the manifest, the drawing and the sheet of the coefficients, which say of which files it is; the tables say that they have none.
 * No others. And the warning where a line or a space falls below the least feature. Through the real executable.
 */
import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { expect, test } from 'vitest';
import { readGds } from '../independent/gdsii.ts';
import { readOasis } from '../independent/oasis.ts';
import { datumlight, folder, scenarioFile, soundScenario } from './support/run.ts';

const small = (): string =>
  scenarioFile(
    soundScenario((text) =>
      text.replace('width: 10, height: 10', 'width: 4, height: 4').replace('diameter: 12}', 'diameter: 1}'),
    ),
  );
const NONE = 'No edge shift is applied. Add what your process needs.';
const ALL = ['--pattern', 'gds', 'oas', '--pattern-dxf'];
const CARRIERS = ['pattern.dxf', 'pattern.gds', 'pattern.oas'];

async function made(...options: string[]) {
  const out = join(folder(), 'out');
  const { code, stderr } = await datumlight(['make', small(), '--out', out, ...options]);
  const text = (name: string): string => readFileSync(join(out, name), 'utf8');
  return { out, code, stderr, text };
}

test.each([
  [
    '-50 nm',
    -0.05,
    'Applied already to the pattern files: every edge of a written area is moved inward by 0.05 um. Do not size them again. The tables have the edges as designed.',
  ],
  ['0 nm', 0, NONE],
])('a shift of %s is said by each file that carries it, and by no other', async (shift, um, words) => {
  const { out, code, text } = await made(...ALL, '--edge-shift', shift);
  expect(code).toBe(0);
  const note = `EDGE SHIFT: ${words}`;
  const gds = readGds(readFileSync(join(out, 'pattern.gds')));
  expect(gds.notes(gds.tops[0]!).map(({ text: said }) => said)).toContain(note);
  const oas = readOasis(readFileSync(join(out, 'pattern.oas')));
  expect([...oas.notes.values()].flat().map(({ text: said }) => said)).toContain(note);
  expect(text('pattern.dxf')).toContain(note);
  for (const name of ['fabrication.html', 'coefficients.html']) expect(text(name)).toContain(words);
  for (const name of ['coefficients.csv', 'coefficients.json']) {
    expect(text(name)).toContain('No edge shift is applied to this table. Add what your process needs.');
    expect(text(name)).not.toMatch(/ward by/);
  }
  expect(JSON.parse(text('report.json')).pattern.edgeShift_um).toBeCloseTo(um, 12);
  const files = Object.entries<{ edgeShift_um?: number }>(JSON.parse(text('manifest.json')).files);
  const marked = files.filter(([, file]) => file.edgeShift_um !== undefined);
  expect(marked.map(([name]) => name).sort()).toEqual(CARRIERS);
  for (const [, file] of marked) expect(file.edgeShift_um).toBeCloseTo(um, 12);
  const sayers = /^(pattern|fabrication|coefficients|layout|report|manifest)\./;
  const others = readdirSync(out).filter((one) => !sayers.test(one));
  expect(others).toContain('sheet.html');
  // The sheet holds the drawing.
  for (const name of others)
    expect(text(name).replaceAll(/<svg[\s\S]*?<\/svg>/g, ''), name).not.toMatch(
      /edge.?shift|moved (in|out)ward/i,
    );
});

test('a shift that goes under process.minFeature: a warning with patch, place, width and limit, in the report too', async () => {
  const plain = await made(...ALL);
  expect(plain.stderr).not.toMatch(/shifted-feature/);
  const { code, stderr, text } = await made(...ALL, '--edge-shift', '0.5 um');
  expect(code).toBe(0);
  expect(stderr).toMatch(
    /patch near-1 has a space of [\d.]+ µm at x 59.[\d.]+ mm, y -?[\d.]+ mm, of which an edge shift of 0.5 µm leaves [\d.]+ µm; the minimum is 1 µm; .*\[warning shifted-feature\]/,
  );
  expect(text('pattern.dxf')).toContain('moved outward by 0.5 um');
  const { findings } = JSON.parse(text('report.json'));
  const [found] = findings.filter(({ rule }: { rule: string }) => rule === 'shifted-feature');
  expect(found).toMatchObject({ severity: 'warning', where: 'near-1', limit: 1, unit: 'um' });
  expect(found.value).toBeLessThan(found.limit);
});
