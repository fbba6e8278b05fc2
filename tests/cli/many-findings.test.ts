/** Thousands of findings are counted, not printed: a few hundred whole, then how many of which code. */
import { expect, test } from 'vitest';
import { datumlight, scenarioFile } from './support/run.ts';

test('a thousand patches that leave the beam: three hundred lines, then a count by code; --json has them all', async () => {
  const patches = Array.from(
    { length: 1000 },
    (_, k) =>
      `  - {id: p${k}, reference: wall, focus: point, centre: [${(k % 40) * 4}, ${Math.floor(k / 40) * 4 + 80}], outline: {circle: {diameter: 3}}}`,
  );
  const scenario = scenarioFile(`format: datumlight/1
light: {wavelength: 632.8 nm}
interferometer: {focus: [0, 0, -500], fNumber: 3.6, pixelsAcrossBeam: 5000}
substrate: {outline: {rectangle: {width: 900, height: 900}}}
process: {minFeature: 0.1 um}
references: [{id: wall, kind: screen, at: [0, 0, 9000]}]
patches:
${patches.join('\n')}
`);
  const { code, stdout: said } = await datumlight(['check', scenario]);
  expect(code).toBe(1);
  expect(said.match(/\[error unlit\]/g)!.length).toBeLessThanOrEqual(301);
  expect(said).toMatch(/and \d+ more: \d+ \[error unlit\]/);
  const { stdout } = await datumlight(['check', scenario, '--json']);
  const { findings } = JSON.parse(stdout) as { findings: { rule: string }[] };
  expect(findings.filter(({ rule }) => rule === 'unlit').length).toBeGreaterThan(900);
});
