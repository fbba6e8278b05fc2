/**
 * What a transfer reports of a part that was moved by known amounts: errors found and moves to make in µm and µrad, and standard
 * uncertainties in closed form: points in a square about the part's own origin, each coordinate by tracker to s. Four points at the
 * distance R give x, y, z to s/√4, a turn in their plane to s/(√4 R), out of it to s/(√2 R); both sides add up in squares.
 */
import { expect, test } from 'vitest';
import type { Vec3 } from '../../src/geometry/vector.ts';
import { transfer } from '../../src/metrology/transfer/transfer.ts';
import type { PointTable } from '../../src/scenario/point-table.ts';
import type { TrackedPoint } from '../../src/scenario/tracked-point.ts';
import { transferReport } from '../../src/writing/transfer/transfer-report.ts';
import { designFrom } from '../metrology/support/design-from.ts';

const ORIGIN: Vec3 = [0, 0, 600];
const RADII = { part: 100, hologram: 250 };
const S = 0.01;
/** mm and rad about the part's origin; so small that turns add up. */
const MOVED = { translation: [0.12, -0.09, 0.2], rotation: [1e-5, -2e-5, 3e-5] } as const;

const square = (side: keyof typeof RADII) =>
  [0, 1, 2, 3].map((k) => {
    const angle = (k * Math.PI) / 2;
    const [x, y] = [RADII[side] * Math.cos(angle), RADII[side] * Math.sin(angle)];
    return { id: `${side}-${k}`, side, off: [x, y, 0] as const };
  });
const points = [...square('part'), ...square('hologram')];
const design = designFrom({
  part: { origin: ORIGIN },
  references: points.map(({ id, off: [x, y] }) => ({
    id,
    kind: 'smr',
    diameter: 38.1,
    at: [x, y, ORIGIN[2]],
  })),
  patches: [],
});

/** The tracker's frame is the substrate's. */
const tracked = points.map(({ id, side, off: [x, y] }): TrackedPoint => {
  const { translation: t, rotation: r } = MOVED;
  const moved: Vec3 =
    side === 'part' ? [t[0] - r[2] * y, t[1] + r[2] * x, t[2] + r[0] * y - r[1] * x] : [0, 0, 0];
  const at: Vec3 = [x + moved[0], y + moved[1], ORIGIN[2] + moved[2]];
  return { name: id, reference: id, side, measured: { kind: 'cartesian', at, sigma: [S, S, S] } };
});

/** How the points were read is passed on as it is. */
const TABLE: PointTable = {
  separator: 'comma',
  decimal: 'point',
  coordinates: 'cartesian',
  verticalAnglesFrom: null,
  columns: [],
  left: ['Time'],
  linesPassedOver: [],
  renamed: [],
};

// biome-ignore lint/suspicious/noExplicitAny: a report is read as a program reads its JSON.
const report = (): any => {
  const made = transfer(design, tracked);
  if ('findings' in made) throw new Error(JSON.stringify(made.findings));
  return JSON.parse(JSON.stringify(transferReport(design, made.transfer, [], TABLE)));
};
const { part, registrations } = report();
const AXES = ['x', 'y', 'z'] as const;
const TURNS = ['rx', 'ry', 'rz'] as const;

test('errors are what the part was moved by, moves their opposite', () => {
  AXES.forEach((axis, k) => {
    expect(part.error_um[axis]).toBeCloseTo(1000 * MOVED.translation[k], 3);
    expect(part.move_um[axis]).toBe(-part.error_um[axis]);
  });
  TURNS.forEach((turn, k) => {
    expect(part.error_urad[turn]).toBeCloseTo(1e6 * MOVED.rotation[k], 2);
    expect(part.move_urad[turn]).toBe(-part.error_urad[turn]);
  });
});

/** In µm and µrad. */
const along = (1000 * S) / 2;
const inPlane = (radius: number): number => (1e6 * S) / (2 * radius);
const outOfPlane = (radius: number): number => (1e6 * S) / (Math.SQRT2 * radius);

test('what the tracker alone leaves uncertain, µm and µrad', () => {
  const { part: near, hologram: far } = RADII;
  for (const axis of AXES) expect(part.sigma[axis]).toBeCloseTo(Math.hypot(along, along), 3);
  for (const turn of ['rx', 'ry']) {
    expect(part.sigma[turn]).toBeCloseTo(Math.hypot(outOfPlane(near), outOfPlane(far)), 2);
  }
  expect(part.sigma.rz).toBeCloseTo(Math.hypot(inPlane(near), inPlane(far)), 2);
});

test('all together is more, and its covariance is the square of what is told', () => {
  [...AXES, ...TURNS].forEach((degree, k) => {
    expect(part.combined[degree]).toBeGreaterThan(part.sigma[degree]);
    expect(Math.sqrt(part.covariance[k][k]) / part.combined[degree]).toBeCloseTo(1, 9);
  });
});

test('each side’s own registration is told about the part’s origin too', () => {
  const { sigma, combined, points: rows } = registrations.hologram;
  expect(sigma.z).toBeCloseTo(along, 3);
  expect(sigma.rz).toBeCloseTo(inPlane(RADII.hologram), 2);
  expect(sigma.rx).toBeCloseTo(outOfPlane(RADII.hologram), 2);
  expect(sigma.x).toBeCloseTo(along, 3);
  expect(combined.x).toBeGreaterThan(sigma.x);
  expect(rows).toHaveLength(4);
});
