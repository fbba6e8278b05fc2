/**
 * `plan` where only a figure is asked: its exit code, its words, what it writes of its aim into the file, and what `check` says of that file.
 * Through the real executable. nm rms.
 */
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { expect, test } from 'vitest';
import { withPlanMark } from '../../src/reading/scenario/plan-mark.ts';
import { datumlight, folder, scenarioFile } from './support/run.ts';

/** A paraboloid with three cubes about it, its patches left open. */
const scene = (figure: string, more = ''): string => `format: datumlight/1
light: {wavelength: 632.8 nm}
interferometer:
  focus: [0, 0, -500]
  fNumber: 1.5
  pixelsAcrossBeam: 4000
  readable: 0.1
  placed: {x: 5 um, y: 5 um, z: 20 um, rx: 5 urad, ry: 5 urad}
substrate: {outline: {circle: {diameter: 240}}}
part:
  origin: [0, 0, 2600]
  datums: {M: {asphere: {vertex: [0, 0, 0], axis: [0, 0, 1], radius: -2000 mm, conic: -1}}}
test: {surface: M, aperture: {circle: {diameter: 300}}, figure: ${figure}}
references:
  - {id: a, kind: smr, diameter: 1.5 in, at: [220, 0, 0], frame: part, patches: auto}
  - {id: b, kind: smr, diameter: 1.5 in, at: [-110, 190, 0], frame: part, patches: auto}
  - {id: c, kind: smr, diameter: 1.5 in, at: [-110, -190, 0], frame: part, patches: auto}
patches: []
${more}`;

test('the file and the terminal say what was planned for, and check finds the figure kept', async () => {
  const out = join(folder(), 'planned.yaml');
  const { code, stdout, stderr } = await datumlight(['plan', scenarioFile(scene('1 nm')), '--out', out]);
  expect([code, stderr]).toEqual([0, '']);
  const aim = /`test\.figure`, 1 nm: misalignment is expected to leave ([\d.]+) nm rms$/m;
  const left = Number(aim.exec(stdout)![1]);
  expect(stdout).toMatch(/planned: \d+ patches, \d+ mm² of glass, worst 0\.\d+ of its limit/);
  expect(left).toBeLessThanOrEqual(1);
  const written = readFileSync(out, 'utf8');
  expect(/^# planned for (.*)$/m.exec(written)![0]).toMatch(aim);
  const checked = await datumlight(['check', out]);
  expect(checked.code).toBe(0);
  const [, expected] = /figure {2}expected ([\d.]+) nm rms.*allowed 1 nm/.exec(checked.stdout)!;
  expect(Number(expected)).toBeCloseTo(left, 1);
  expect(checked.stdout).toMatch(/^ {2}x +\([\d.]+ µm\) +[\d.]+ µm +– /m);
  expect(checked.stdout).toMatch(/^ {2}rz +\(by eye\) +[\d.]+ µrad +– /m);
  expect(checked.stdout).toContain('wanted in brackets: what test.figure allows');
});

test('a figure that no patches keep: exit 1, the figure by name with its causes, both figures in the JSON', async () => {
  const file = scenarioFile(scene('0.05 nm', 'wanted: {rz: 1 mrad}\n'));
  const out = join(folder(), 'planned.yaml');
  const { code, stdout } = await datumlight(['plan', file, '--out', out, '--json']);
  expect(code).toBe(1);
  const { ok, worst, reasons, figure_nm } = JSON.parse(stdout);
  expect(ok).toBe(false);
  expect(figure_nm.allowed).toBeCloseTo(0.05, 12);
  expect(worst).toBeCloseTo(figure_nm.expected / figure_nm.allowed, 9);
  expect(reasons[0]).toMatch(/^test\.figure is not kept: .*; to meet the figure, all of these: /);
  expect(readFileSync(out, 'utf8')).toMatch(/^# planned for `wanted` \(rz\) and `test\.figure`, 0\.05 nm: /m);
});

test('the aim of a former run goes with its mark; a comment of the user stays', () => {
  const once = withPlanMark('title: a\n# planned for the second bench\n', '`test.figure`, 5 nm: …');
  expect(once).toContain(
    '# planned for the second bench\n# planned for `test.figure`, 5 nm: …\n# written by',
  );
  const again = withPlanMark(once, '`test.figure`, 3 nm: …');
  expect(again).not.toContain('5 nm');
  expect(again).toContain(
    '# planned for the second bench\n# planned for `test.figure`, 3 nm: …\n# written by',
  );
  expect(withPlanMark(again)).toBe(withPlanMark('title: a\n# planned for the second bench\n'));
});
