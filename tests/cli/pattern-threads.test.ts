/** A pattern large enough to be traced on several threads: the same bytes as on one, and nothing left aside of the pieces. */
import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { expect, test } from 'vitest';
import '../machine/patience.ts';
import { cellsUnderWay } from '../../src/batch/pattern-cells.ts';
import { workOut } from '../../src/batch/work-out.ts';
import { Spool } from '../../src/disk/spool.ts';
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
${BALLS.map(({ id, centre }) => `  - {id: p-${id}, reference: ${id}, focus: point, centre: ${JSON.stringify(centre)}, outline: {circle: {diameter: 12}}}`).join('\n')}
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

test('threads that were begun before a rule was found broken leave nothing', async () => {
  const [file, out] = [scenarioFile(SCENARIO.replace('thickness: 6.35', 'thickness: 63.5')), folder()];
  const { code, stdout } = await datumlight([
    ...['make', file, '--out', join(out, 'package')],
    ...['--pattern', 'gds', 'oas', '--jobs', '2'],
  ]);
  expect(stdout).toContain('nothing written');
  expect(code).toBe(1);
  expect(readdirSync(out)).toEqual([]);
});

test('where no thread can start, each cell is left to this one, and the threads’ end is not waited for', async () => {
  const { design } = workOut(SCENARIO, 'six.yaml');
  const spool = new Spool(join(folder(), 'out'));
  // The threads' program lies beside the bundle alone, not beside the source.
  const cells = cellsUnderWay(
    design!,
    { formats: ['gds'], dxf: false, every: 1, edgeShift: 0, draft: true },
    spool,
    2,
  )!;
  for (let k = 0; k < BALLS.length; k++) expect(await cells.cell(k)).toBeUndefined();
  await cells.stop();
  spool.discard();
});
