/**
 * Which files of a package say the edge shift: those that carry the shifted edges, with the way in words, the report, the fabricator's
 * page and the manifest; no others. And the warning where a line or a space falls below the least feature. Through the real executable.
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
const ALL = ['--pattern', 'gds', 'oas', '--pattern-dxf'];
const CARRIERS = ['pattern.dxf', 'pattern.gds', 'pattern.oas'];

async function made(...options: string[]) {
  const out = join(folder(), 'out');
  const { code, stderr } = await datumlight(['make', small(), '--out', out, ...options]);
  const text = (name: string): string => readFileSync(join(out, name), 'utf8');
  return { out, code, stderr, text };
}

test.each([
  ['-50 nm', -0.05, 'every edge of a written area moved inward by 0.05'],
  ['0 nm', 0, 'none; edges are as designed'],
])('a shift of %s is said by each file that carries it, and by no other', async (shift, um, words) => {
  const { out, code, text } = await made(...ALL, '--edge-shift', shift);
  expect(code).toBe(0);
  const note = `EDGE SHIFT: ${words}${um === 0 ? '' : ' um'}.`;
  const gds = readGds(readFileSync(join(out, 'pattern.gds')));
  expect(gds.notes(gds.tops[0]!).map(({ text: said }) => said)).toContain(note);
  const oas = readOasis(readFileSync(join(out, 'pattern.oas')));
  expect([...oas.notes.values()].flat().map(({ text: said }) => said)).toContain(note);
  expect(text('pattern.dxf')).toContain(note);
  expect(text('fabrication.html')).toContain(`${words}${um === 0 ? '' : ' µm'}.`);
  expect(JSON.parse(text('report.json')).pattern.edgeShift_um).toBeCloseTo(um, 12);
  const files = Object.entries<{ edgeShift_um?: number }>(JSON.parse(text('manifest.json')).files);
  const marked = files.filter(([, file]) => file.edgeShift_um !== undefined);
  expect(marked.map(([name]) => name).sort()).toEqual(CARRIERS);
  for (const [, file] of marked) expect(file.edgeShift_um).toBeCloseTo(um, 12);
  const sayers = new Set([...CARRIERS, 'fabrication.html', 'report.json', 'manifest.json']);
  for (const name of readdirSync(out).filter((one) => !sayers.has(one)))
    expect(text(name), name).not.toMatch(/edge.?shift|moved (in|out)ward/i);
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
