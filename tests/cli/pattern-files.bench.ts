/**
 * `make --pattern` through the executable, for 60 patches of a sound design, 44 million vertices: bound to one core, on one thread, on two.
 * taskset binds; without it the first row is left out.
 */
import { spawnSync } from 'node:child_process';
import { join } from 'node:path';
import { bench, describe } from 'vitest';
import { EXECUTABLE, folder, scenarioFile } from './support/run.ts';

const SIDE = 8;
const PITCH = 100 / SIDE;
const SIZE = 0.84 * PITCH;

const patches = Array.from({ length: 60 }, (_, k) => {
  const [x, y] = [k % SIDE, Math.floor(k / SIDE)].map((step) => PITCH * (step + 0.5) - 50);
  return (
    `  - {id: p${k}, reference: r${k % 3}, focus: line, centre: [${x}, ${y}], lineAngle: ${k % 2 ? 0 : 90} deg, ` +
    `outline: {rectangle: {width: ${SIZE}, height: ${SIZE}}}, bias: {shape: roof, fringes: 1}}\n`
  );
});
const scenario = scenarioFile(`format: datumlight/1
title: Sixty
light: {wavelength: 632.8 nm}
interferometer: {focus: [0, 0, -1000], fNumber: 3.2, pixelsAcrossBeam: 100000}
substrate: {outline: {circle: {diameter: 150}}, thickness: 6.35, glass: fused silica, edgeMargin: 3, clearance: 0.05}
references:
  - {id: r0, kind: smr, diameter: 1.5 in, at: [0, 650, 2800]}
  - {id: r1, kind: smr, diameter: 1.5 in, at: [520, -390, 2800]}
  - {id: r2, kind: smr, diameter: 1.5 in, at: [-520, -390, 2800]}
patches:
${patches.join('')}`);

const options = { iterations: 3, warmupIterations: 0, time: 0, warmupTime: 0 };
const hasTaskset = spawnSync('taskset', ['-c', '0', 'true']).status === 0;

function make(formats: readonly string[], jobs: number, bound: readonly string[] = []): void {
  const out = join(folder(), 'package');
  const args = [...['make', scenario, '--out', out, '--jobs', `${jobs}`, '--quiet'], '--pattern', ...formats];
  const [program, ...rest] = [...bound, process.execPath, EXECUTABLE, ...args];
  const { status, stderr } = spawnSync(program!, rest, { encoding: 'utf8' });
  if (status !== 0) throw new Error(`make ended with ${status}: ${stderr}`);
}

describe.each([[['gds']], [['oas']], [['gds', 'oas']]])('%j', (formats) => {
  if (hasTaskset) bench('one core', () => make(formats, 1, ['taskset', '-c', '0']), options);
  bench('two cores, one thread', () => make(formats, 1), options);
  bench('two cores, two threads', () => make(formats, 2), options);
});
