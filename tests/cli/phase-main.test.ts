/** `phase --patch main`: the main pattern's phase and period at points of the user's, against the null of a sphere, which is its point focus. */
import { writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { expect, test } from 'vitest';
import { datumlight, folder } from './support/run.ts';

const [FOCUS, CENTRE, WAVELENGTH] = [500, 1800, 632.8e-6];
const SCENARIO = `
format: datumlight/1
light: {wavelength: 632.8 nm}
interferometer: {focus: [0, 0, -${FOCUS}]}
substrate: {outline: {circle: {diameter: 150}}, thickness: 0}
part:
  origin: [0, 0, ${CENTRE}]
  datums: {M: {sphere: {centre: [0, 0, 0], diameter: 1600, side: inside}}}
test: {surface: M, aperture: {circle: {diameter: 140}}}
references: []
patches: []
`;
const POINTS = [
  [0, 0],
  [10, 0],
  [-7, 21],
  [30, 30],
] as const;

const file = join(folder(), 'sphere.yaml');
writeFileSync(file, SCENARIO);
const input = `x_mm,y_mm\n${POINTS.map((point) => point.join(',')).join('\n')}\n`;

/** Light from the focus before the pattern, on to the sphere’s centre behind it: E_out = −|C − P|. */
const phaseAt = (x: number, y: number): number =>
  (FOCUS + CENTRE - Math.hypot(x, y, CENTRE) - Math.hypot(x, y, FOCUS)) / WAVELENGTH;

test('the phase and period of the main pattern', async () => {
  const { code, stdout } = await datumlight(['phase', file, '--patch', 'main', '--points', '-'], { input });
  expect(code).toBe(0);
  const rows = stdout.trimEnd().split('\n').slice(1);
  expect(rows).toHaveLength(POINTS.length);
  rows.forEach((row, k) => {
    const [x, y, phase, period] = row.split(',').map(Number);
    expect([x, y]).toEqual(POINTS[k]);
    expect(Math.abs(phase! - phaseAt(x!, y!))).toBeLessThan(2e-4);
    const r = Math.hypot(x!, y!);
    if (r === 0) return;
    const h = 1e-3;
    const [u, v] = [x! / r, y! / r];
    const slope = (phaseAt(x! + h * u, y! + h * v) - phaseAt(x! - h * u, y! - h * v)) / (2 * h);
    expect(period! / (1000 / Math.abs(slope))).toBeCloseTo(1, 5);
  });
});

test('a name that is none is answered with main among the known ones', async () => {
  const { code, stderr } = await datumlight(['phase', file, '--patch', 'north', '--points', '-'], { input });
  expect(code).not.toBe(0);
  expect(stderr).toContain('known patches: main');
});
