/** `make --pattern` through the real executable: streamed files whose hashes the manifest knows, and refusals. */
import { createHash } from 'node:crypto';
import { existsSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { expect, test } from 'vitest';
import { datumlight, folder, scenarioFile, soundScenario } from './support/run.ts';

/** Small, for small files, but not so small that the roof sends all light past the patch. */
const small = (): string =>
  scenarioFile(
    soundScenario((text) =>
      text.replace('width: 10, height: 10', 'width: 4, height: 4').replace('diameter: 12}', 'diameter: 1}'),
    ),
  );

test('GDSII, OASIS and DXF: in the package, in the manifest, in the report and on the fabricator’s page', async () => {
  const out = join(folder(), 'out');
  const { code } = await datumlight([
    'make',
    small(),
    '--out',
    out,
    '--pattern',
    'gds',
    'oas',
    '--pattern-dxf',
  ]);
  expect(code).toBe(0);
  const manifest = JSON.parse(readFileSync(join(out, 'manifest.json'), 'utf8'));
  for (const name of ['pattern.gds', 'pattern.oas', 'pattern.dxf']) {
    const hash = createHash('sha256')
      .update(readFileSync(join(out, name)))
      .digest('hex');
    expect(manifest.files[name].sha256).toBe(hash);
  }
  // GDSII opens with HEADER, version 600; OASIS with its magic bytes (SEMI P39).
  expect(readFileSync(join(out, 'pattern.gds')).subarray(0, 4).toString('hex')).toBe('00060002');
  expect(readFileSync(join(out, 'pattern.oas')).subarray(0, 13).toString('latin1')).toBe('%SEMI-OASIS\r\n');
  const { pattern } = JSON.parse(readFileSync(join(out, 'report.json'), 'utf8'));
  const [gds, oas] = pattern.files;
  expect(gds.patches.map((patch: { id: string }) => patch.id)).toEqual(['north-1', 'near-1']);
  expect(oas.patches).toEqual(gds.patches);
  // Half of each patch is written, to what its one or two cut zones at the edge may add.
  expect(gds.patches[0].area_mm2).toBeCloseTo(8, 1);
  expect(readFileSync(join(out, 'fabrication.html'), 'utf8')).toContain('pattern.gds');
});

test('a thinned pattern is marked as a picture', async () => {
  const out = join(folder(), 'out');
  await datumlight(['make', small(), '--out', out, '--pattern', 'gds', '--every', '10']);
  const { pattern } = JSON.parse(readFileSync(join(out, 'report.json'), 'utf8'));
  expect(pattern.files[0].topCell).toBe('ALL_THINNED_NOT_FOR_FABRICATION');
  expect(readFileSync(join(out, 'fabrication.html'), 'utf8')).toContain(
    'THINNED: A PICTURE, NOT FOR FABRICATION',
  );
});

test.each([
  [['--pattern', 'gdx'], /"gdx"; expected gds or oas/],
  [['--pattern', 'gds', '--every', '0'], /--every is "0"; expected a whole number/],
  [['--pattern', 'gds', '--database-unit', '0.3 nm'], /expected an integer fraction/],
  [['--pattern', 'gds', '--edge-shift', '3 parsec'], /--edge-shift/],
  [['--pattern', 'gds', '--vertex-limit', '9000'], /at most 8190/],
  [
    ['--edge-shift', '50 nm'],
    /--edge-shift: applies to the pattern files only, and none is asked for; add --pattern/,
  ],
  [['--every', '10'], /--every: applies to the pattern files only/],
  [['--pattern', 'gds', '--edge-shift', '5 um'], /closes the narrowest space of patch north-1/],
  [['--pattern', 'gds', '--edge-shift', '-5 um'], /closes the narrowest line of patch north-1/],
])('%j is refused with exit 2, and nothing is written', async (options, message) => {
  const out = join(folder(), 'out');
  const { code, stderr } = await datumlight(['make', small(), '--out', out, ...options]);
  expect(code).toBe(2);
  expect(stderr).toMatch(message);
  expect(existsSync(out)).toBe(false);
});
