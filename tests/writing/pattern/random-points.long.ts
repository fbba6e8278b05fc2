/**
 * Points at random against the phase in whole pattern files of the examples, as `make` writes them with marks on the glass: roofs joined at
 * their ridges, data mirrored for a face that is turned away, the main pattern beside the patches, edges shifted, both orders, every
 * outline. The phases come by brute force from the scenario's own numbers (tests/independent), the polygons from the bytes.
 */
import { readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import type { Design } from '../../../src/design/design.ts';
import { designScenario } from '../../../src/design/design-scenario.ts';
import { readScenario } from '../../../src/reading/scenario/read-scenario.ts';
import { datumlight, example, folder } from '../../cli/support/run.ts';
import { surfacePhase } from '../../independent/surface-phase.ts';
import { isoAsphere } from '../../independent/surface-sheets.ts';
import { outlineWords, sceneOfDesign } from '../support/scene-of-design.ts';
import {
  type Data,
  Draws,
  type Expected,
  jointsOf,
  judged,
  marksIn,
  patchesOf,
} from './points-against-phase.ts';

interface Case {
  readonly name: string;
  readonly options: readonly string[];
  readonly main?: true;
  /** Outward, mm. */
  readonly edgeShift?: number;
  readonly mirrored?: true;
  readonly roofs: number;
}
const CASES: readonly Case[] = [
  { name: 'off-axis-asphere', options: ['--as-written', '--main'], main: true, mirrored: true, roofs: 9 },
  { name: 'converging-retroreflectors', options: ['--edge-shift', '50 nm'], edgeShift: 5e-5, roofs: 9 },
  { name: 'full-bench', options: [], roofs: 4 },
  { name: 'infrared-collimated', options: [], roofs: 2 },
  { name: 'diverging-balls', options: ['--edge-shift', '-0.08 um'], edgeShift: -8e-5, roofs: 0 },
];
const MM_PER_NM = 1e-6;

interface CellRow {
  readonly id: string;
  readonly cell: string;
  readonly bound_nm: number;
}

/** The example with marks, as a file and as a design. */
async function made({ name, options }: Case) {
  const given = readFileSync(example(name), 'utf8');
  const text = /^marks:/m.test(given) ? given : `${given}\nmarks: auto\n`;
  const [file, out] = [join(folder(), `${name}.yaml`), join(folder(), 'package')];
  writeFileSync(file, text);
  const { code, stderr } = await datumlight(['make', file, '--out', out, '--pattern', 'gds', ...options]);
  if (code !== 0) throw new Error(stderr);
  const { pattern } = JSON.parse(readFileSync(join(out, 'report.json'), 'utf8'));
  const { scenario } = readScenario(text, file);
  const answer = scenario && designScenario(scenario);
  if (answer === undefined || !('design' in answer)) throw new Error(`no design of ${name}`);
  const bytes = readFileSync(join(out, 'pattern.gds'));
  const data: Data = { bytes, topCell: pattern.files[0].topCell, mirrored: pattern.mirrored };
  return { design: answer.design, data, rows: pattern.files[0].patches as readonly CellRow[] };
}

/** The null of a conic that stands unturned. */
function mainOf({ main, scenario, light, glass }: Design, bound: number): Expected {
  const { origin } = scenario.part.frame;
  const datum = scenario.part.datums.find(({ id }) => id === main!.test.surface);
  const { aperture } = main!.test;
  const { beam } = scenario.interferometer;
  if (datum?.kind !== 'asphere' || aperture.shape !== 'circle' || beam.kind !== 'diverging')
    throw new Error('another null than this test follows');
  expect([datum.terms, datum.xy, datum.zernike, scenario.part.rotation]).toEqual([
    [],
    [],
    undefined,
    [0, 0, 0],
  ]);
  expect([datum.axis, glass.side]).toEqual([[0, 0, 1], 'after']);
  const sheet = {
    height: isoAsphere(datum.radius!, datum.conic),
    toSubstrate: ([x, y, z]: readonly [number, number, number]) =>
      [
        x + origin[0] + datum.vertex[0],
        y + origin[1] + datum.vertex[1],
        z + origin[2] + datum.vertex[2],
      ] as const,
  };
  const bench = { wavelength: light.wavelength, focus: beam.focus, glass };
  return {
    ...{ id: 'main', centre: [0, 0], outline: outlineWords(main!.outline, [0, 0]), bound },
    phase: surfacePhase(sheet, bench, aperture.centre, main!.centre),
  };
}

describe.each(CASES)('$name $options', (one) => {
  it('has no wrong point', async () => {
    const { edgeShift = 0, mirrored = false } = one;
    const { design, data, rows } = await made(one);
    expect(data.mirrored).toBe(mirrored);
    const rowOf = (id: string): CellRow => rows.find((row) => row.id === id)!;
    const boundOf = (id: string): number => MM_PER_NM * rowOf(id).bound_nm;
    const patterns = patchesOf(sceneOfDesign(design), boundOf);
    if (one.main) patterns.push(mainOf(design, boundOf('main')));
    // As the README promises.
    for (const { bound } of patterns) expect(bound).toBeLessThanOrEqual(5.001 * MM_PER_NM);
    const { dutyCycle } = design.scenario.process;
    const sheet = { patterns, marks: marksIn(design), dutyCycle, edgeShift };
    const draws = new Draws(sheet, 20_000);
    const tallies = judged(
      {
        inPatterns: draws.inPatterns(4000),
        besideLines: draws.besideLines(2000, 6 * MM_PER_NM, 100 * MM_PER_NM),
        besideRidges: draws.besideRidges(2000),
        besideOutlines: draws.besideOutlines(2000, 4e-3),
        aboutMarks: draws.aboutMarks(1500),
        anywhere: draws.anywhere(1000, 80),
      },
      sheet,
      data,
    );
    for (const [where, { wrong }] of Object.entries(tallies))
      expect({ where, wrong }).toEqual({ where, wrong: [] });
    const { inPatterns, besideLines, besideRidges, besideOutlines, aboutMarks } = tallies;
    expect(besideRidges.points).toBeGreaterThanOrEqual(one.roofs === 0 ? 0 : 2000);
    for (const some of [inPatterns, besideLines, besideRidges, besideOutlines, aboutMarks]) {
      expect(some.near).toBeLessThan(0.05 * Math.max(1, some.points));
      expect(some.written + some.marked).toBeGreaterThanOrEqual(0.2 * some.points);
    }
    expect(inPatterns.near).toBeLessThan(0.01 * inPatterns.points);
    const roofs = patterns.filter(({ roof }) => roof !== undefined);
    expect(roofs.length).toBe(one.roofs);
    for (const roof of roofs) {
      const { crossing, ending } = jointsOf(roof, rowOf(roof.id).cell, data);
      expect(crossing, roof.id).toBeGreaterThan(50);
      expect(ending, roof.id).toBeLessThan(1e-3);
    }
  });
});
