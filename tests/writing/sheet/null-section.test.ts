/** The null on the setup sheet: its figures against rays to the displaced surface, and the main pattern in the operator's picture, mirrored. */
import { readFileSync } from 'node:fs';
import { expect, it } from 'vitest';
import type { DesignedPatch } from '../../../src/design/design.ts';
import { designScenario } from '../../../src/design/design-scenario.ts';
import { benchState } from '../../../src/metrology/camera/fringe-picture-displacements.ts';
import { nullBranches } from '../../../src/metrology/camera/null-return.ts';
import { readScenario } from '../../../src/reading/scenario/read-scenario.ts';
import { PLAIN_ORIENTATION } from '../../../src/scenario/camera-orientation.ts';
import type { Report } from '../../../src/writing/report/report-form.ts';
import { reportedTest } from '../../../src/writing/report/reported-test.ts';
import { nullSection } from '../../../src/writing/sheet/null-section.ts';
import { operatorView } from '../../../src/writing/sheet/operator-view.ts';
import { patchTable } from '../../../src/writing/sheet/patch-table.ts';

const name = 'examples/off-axis-asphere.yaml';
const made = designScenario(readScenario(readFileSync(name, 'utf8'), name).scenario!);
if (!('design' in made)) throw new Error(name);
const { design } = made;
const main = design.main!;
const unread = { patches: [] as Report['patches'] } as Report;
const section = nullSection(design, main, reportedTest(design)!, PLAIN_ORIENTATION).text;

/** W over the edge of the aperture with the part moved by mm and rad. */
function range(six: readonly number[]): number {
  const part = { translation: six.slice(0, 3) as never, rotation: six.slice(3) as never };
  const [branch] = nullBranches(design, main, benchState(design, { part }));
  const waves = Array.from({ length: 60 }, (_, k) => {
    const angle = (k * Math.PI) / 30;
    return branch!.waves.at(...main.normals.from(60 + 50 * Math.cos(angle), 50 * Math.sin(angle))!.at);
  });
  return Math.max(...waves) - Math.min(...waves);
}

it('says the fringes of tilt of 10 µm and 10 µrad as rays show them, none about the axis', () => {
  for (const [row, six] of [
    ['x 10 µm', [0.01, 0, 0, 0, 0, 0]],
    ['y 10 µm', [0, 0.01, 0, 0, 0, 0]],
    ['rx 10 µrad', [0, 0, 0, 1e-5, 0, 0]],
    ['ry 10 µrad', [0, 0, 0, 0, 1e-5, 0]],
  ] as const) {
    const said = Number(section.match(new RegExp(`<td>${row}</td><td[^>]*>([\\d.]+)</td>`))?.[1]);
    expect(said / range(six)).toBeCloseTo(1, 1);
  }
  expect(section).toMatch(/<td>rz 10 µrad<\/td>(<td[^>]*>–<\/td>){4}/);
  expect(range([0, 0, 0, 0, 0, 1e-5])).toBeLessThan(0.001);
});

it('names two motions that cancel: each shows fringes, both together none', () => {
  const [, turn] = section.match(/x 10 µm and ry ([\d.−]+) µrad together make no tilt/)!;
  const by = 1e-6 * Number(turn!.replace('−', '-'));
  expect(range([0.01, 0, 0, 0, 0, 0])).toBeGreaterThan(3);
  expect(range([0, 0, 0, 0, by, 0])).toBeGreaterThan(3);
  expect(range([0.01, 0, 0, 0, by, 0])).toBeLessThan(0.03);
});

it('says when to stop by the reading that is readable, the figure to be expected and the one allowed', () => {
  expect(section).toMatch(
    /the null has less than 0\.05 fringe of tilt and power: .*adds [\d.]+ nm rms to the figure; 5 nm is allowed/,
  );
  expect(section).toContain('A flat null does not prove that the part is in place.');
});

it('has the main pattern in the first row of the table and in the picture, mirrored, where its rays leave', () => {
  expect(patchTable(design, unread).text).toMatch(
    /<tbody>\s*<tr><td[^>]*>M<\/td><td>main<\/td><td>surface M<\/td><td>null<\/td>/,
  );
  const moved = {
    ...design,
    main: { ...main, outline: shifted(main.outline), footprint: shifted(main.footprint) },
  };
  const view = operatorView({ ...moved, patches: [] as readonly DesignedPatch[] }, PLAIN_ORIENTATION).text;
  const paths = [...view.matchAll(/<path d="(M [^"]*) Z"/g)].map(([, d]) => d!);
  const xs = paths[1]!
    .split(/[ML]/)
    .slice(1)
    .map((pair) => Number(pair.trim().split(' ')[0]));
  // x runs to the left.
  expect((Math.min(...xs) + Math.max(...xs)) / 2).toBeCloseTo(-20 - main.centre[0], 1);
  expect(view).toMatch(/>M<\/text>/);
});

const shifted = (outline: typeof main.outline): typeof main.outline =>
  outline.shape === 'polygon' ? { ...outline, points: outline.points.map(([x, y]) => [x + 20, y]) } : outline;
