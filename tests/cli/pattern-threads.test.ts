/** A pattern large enough to be traced on several threads: the same bytes as on one, and nothing left aside of the pieces. */
import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { expect, test } from 'vitest';
import '../machine/patience.ts';
import { datumlight, folder, scenarioFile } from './support/run.ts';

const BALLS = [0, 60, 120, 180, 240, 300].map((turn) => {
  const [c, s] = [Math.cos((turn * Math.PI) / 180), Math.sin((turn * Math.PI) / 180)];
  return { id: `b${turn}`, at: [110 * c, 110 * s, 160], centre: [50 * c, 50 * s] };
});
const SCENARIO = `format: datumlight/1
title: Six large patches
light: {wavelength: 632.8 nm}
interferometer: {focus: [0, 0, -500], fNumber: 3.2}
substrate: {outline: {circle: {diameter: 150}}, thickness: 6.35, glass: fused silica, patternFaces: interferometer}
references:
${BALLS.map(({ id, at }) => `  - {id: ${id}, kind: ball, diameter: 0.25 in, at: ${JSON.stringify(at)}}`).join('\n')}
patches:
${BALLS.map(({ id, centre }) => `  - {id: p-${id}, reference: ${id}, focus: point, centre: ${JSON.stringify(centre)}, outline: {circle: {diameter: 10}}}`).join('\n')}
`;

test('one thread and three write the same package, and leave nothing beside it', async () => {
  const [file, out] = [scenarioFile(SCENARIO), folder()];
  for (const jobs of ['1', '3']) {
    const { stderr } = await datumlight([
      ...['make', file, '--draft', '--out', join(out, jobs)],
      ...['--pattern', 'gds', 'oas', '--jobs', jobs],
    ]);
    expect(stderr).not.toContain('internal error');
  }
  expect(readdirSync(out).toSorted()).toEqual(['1', '3']);
  const names = readdirSync(join(out, '1'));
  expect(names).toContain('pattern.oas');
  expect(readdirSync(join(out, '3'))).toEqual(names);
  for (const name of names) {
    const [one, three] = ['1', '3'].map((jobs) => readFileSync(join(out, jobs, name)));
    expect({ name, same: one!.equals(three!) }).toEqual({ name, same: true });
  }
  const { pattern } = JSON.parse(readFileSync(join(out, '3', 'report.json'), 'utf8'));
  expect(pattern.files[0].patches.map(({ id }: { id: string }) => id)).toEqual(
    BALLS.map(({ id }) => `p-${id}`),
  );
});
