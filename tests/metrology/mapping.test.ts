/**
 * Which place of the surface under test the pattern and the camera show: against a sphere's and a paraboloid's geometry by hand, and
 * against normals followed back by code of its own. mm, radians, pixels.
 */
import { describe, expect, it, test } from 'vitest';
import {
  cameraPlace,
  distortionOf,
  mappedFrom,
  mappedGrid,
  mappedMarks,
  roundStep,
} from '../../src/metrology/null/mapping.ts';
import { followedBack, isoAsphere, type Sheet } from '../independent/surface-sheets.ts';
import { designFrom, type Words } from './support/design-from.ts';

const disc = (diameter: number, centre = [0, 0]) => ({ circle: { diameter, centre } });
const conic = (radius: number, kappa: number, more: Words = {}) => ({
  asphere: { vertex: [0, 0, 0], axis: [0, 0, 1], radius, conic: kappa, ...more },
});

function mapped(datum: Words, z: number, asked: Words, more: Words = {}) {
  const design = designFrom({
    substrate: { outline: { circle: { diameter: 400 } }, thickness: 0 },
    part: { origin: [0, 0, z], datums: { M: datum } },
    test: { surface: 'M', ...asked },
    ...more,
  });
  return { design, main: design.main! };
}

describe('a hollow sphere of R 1000, its centre 400 mm from the pattern', () => {
  // Vertex at 1400: the light runs through the centre, and the picture is turned by half a turn. Rays leave at tan θ = ρ/400.
  const { design, main } = mapped(conic(-1000, 0), 1400, { aperture: disc(300) });
  const { points, pitch } = mappedGrid(design, main);

  it('maps the grid of the pattern, all over the footprint', () => {
    const edge = (400 * 150) / Math.sqrt(1000 ** 2 - 150 ** 2);
    expect(main.footprint).toMatchObject({ shape: 'circle', radius: expect.closeTo(edge, 9) });
    expect(pitch).toBe(5);
    const within = (k: number): boolean => Math.hypot(5 * (k % 31) - 75, 5 * Math.floor(k / 31) - 75) <= edge;
    expect(points.length).toBe(Array.from({ length: 31 * 31 }, (_, k) => within(k)).filter(Boolean).length);
  });

  it('shows R sin θ on the other side, and lengths of R cos²θ/400 outward, R cos θ/400 around', () => {
    for (const { pattern, surface, magnification, incidence, leaving } of points) {
      const rho = Math.hypot(...pattern);
      const angle = Math.atan2(rho, 400);
      const [ux, uy] = rho === 0 ? [1, 0] : [pattern[0] / rho, pattern[1] / rho];
      expect(surface[0]).toBeCloseTo(-1000 * Math.sin(angle) * ux, 8);
      expect(surface[1]).toBeCloseTo(-1000 * Math.sin(angle) * uy, 8);
      expect(magnification[0]).toBeCloseTo((1000 / 400) * Math.cos(angle), 8);
      expect(magnification[1]).toBeCloseTo((1000 / 400) * Math.cos(angle) ** 2, 8);
      // The beam's focus lies 500 mm before the pattern.
      expect(incidence).toBeCloseTo(Math.atan2(rho, 500), 10);
      expect(leaving).toBeCloseTo(angle, 10);
    }
  });

  it('is turned by 180 degrees, not mirrored, and its distortion is what sin against tan leaves', () => {
    const { rotation, isMirrored, scale, rms, largest, largestAt, diameter } = distortionOf(main);
    expect(Math.abs(rotation)).toBeCloseTo(Math.PI, 9);
    expect(isMirrored).toBe(false);
    expect(diameter).toBe(300);
    // ρ_p = 400 r/√(R² − r²) against r, on rings of equal area: scale = Σ r ρ_p/Σ ρ_p².
    let [cross, square] = [0, 0];
    const rings = Array.from({ length: 20000 }, (_, k) => 150 * Math.sqrt((k + 0.5) / 20000));
    const onPattern = (r: number): number => (400 * r) / Math.sqrt(1e6 - r * r);
    for (const r of rings) {
      cross += r * onPattern(r);
      square += onPattern(r) ** 2;
    }
    const departures = rings.map((r) => r - (cross / square) * onPattern(r));
    expect(scale).toBeCloseTo(cross / square, 6);
    const mean = departures.reduce((sum, one) => sum + one * one, 0) / rings.length;
    expect(rms / Math.sqrt(mean)).toBeCloseTo(1, 4);
    expect(largest).toBeCloseTo(Math.abs(150 - (cross / square) * onPattern(150)), 6);
    expect(Math.hypot(...largestAt)).toBeCloseTo(150, 6);
  });
});

test('normals of a paraboloid meet its axis at R + h²/(2R) from the vertex, and so cross the pattern', () => {
  // The subnormal of a parabola is R, wherever it is taken.
  const { design, main } = mapped(conic(-2000, -1), 2600, { aperture: disc(300) });
  for (const { pattern, surface } of mappedGrid(design, main).points) {
    const h = Math.hypot(...surface);
    const foot = 2600 - (h * h) / 4000;
    const meet = 2600 - 2000 - (h * h) / 4000;
    // From (h, foot) through (0, meet) to z = 0.
    const rho = (h * meet) / (foot - meet);
    expect(Math.hypot(...pattern)).toBeCloseTo(rho, 8);
    if (h > 1) expect(pattern[0] * surface[0] + pattern[1] * surface[1]).toBeCloseTo(-rho * h, 6);
  }
});

test('a flat shows itself: no distortion, magnification 1', () => {
  const flat = { plane: { point: [0, 0, 0], normal: [0, 0, 1] } };
  const { design, main } = mapped(flat, 300, { aperture: disc(60, [5, 9]) });
  for (const { pattern, surface, magnification } of mappedGrid(design, main).points) {
    expect(surface[0]).toBeCloseTo(pattern[0], 9);
    expect(surface[1]).toBeCloseTo(pattern[1], 9);
    expect(magnification[0]).toBeCloseTo(1, 9);
    expect(magnification[1]).toBeCloseTo(1, 9);
  }
  const { rms, largest, scale, rotation, isMirrored } = distortionOf(main);
  for (const zero of [rms, largest, scale - 1, rotation]) expect(zero).toBeCloseTo(0, 9);
  expect(isMirrored).toBe(false);
});

test('an axis that points back to the hologram shows the surface mirrored', () => {
  const datum = { asphere: { vertex: [0, 0, 0], axis: [0, 0, -1], radius: 2000, conic: -1 } };
  const { main } = mapped(datum, 2600, { aperture: disc(200) });
  expect(distortionOf(main).isMirrored).toBe(true);
});

test('off axis, tilted, freeform, behind glass: places, lengths and angles as followed back', () => {
  const M = conic(-2000, -1, { xy: { '2,1': 2e-9 } });
  const { design, main } = mapped(
    M,
    0,
    { aperture: disc(160, [90, 40]) },
    {
      substrate: {
        outline: { circle: { diameter: 400 } },
        ...{ thickness: 9.5, index: 1.457, patternFaces: 'interferometer' },
      },
      part: { origin: [-20, 0, 2600], rotation: [0, '0.02 rad', 0], datums: { M } },
    },
  );
  const base = isoAsphere(-2000, -1);
  const [cos, sin] = [Math.cos(0.02), Math.sin(0.02)];
  const sheet: Sheet = {
    height: (x, y) => base(x, y) + 2e-9 * x * x * y,
    toSubstrate: ([x, y, z]) => [-20 + x * cos + z * sin, y, 2600 + z * cos - x * sin],
  };
  const follow = (x: number, y: number) => followedBack(sheet, x, y, { thickness: 9.5, index: 1.457 });
  const { points } = mappedGrid(design, main);
  expect(points.length).toBeGreaterThan(150);
  for (const { pattern, surface, magnification, leaving } of points) {
    const { on, back } = follow(...surface);
    expect(on[0]).toBeCloseTo(pattern[0], 6);
    expect(on[1]).toBeCloseTo(pattern[1], 6);
    expect(leaving).toBeCloseTo(Math.atan2(Math.hypot(back[0], back[1]), -back[2]), 8);
    // Small steps on the surface all round, their lengths against those on the pattern: the principal ones are the extremes.
    const ratios = Array.from({ length: 60 }, (_, k) => {
      const [dx, dy] = [0.5 * Math.cos((k * Math.PI) / 60), 0.5 * Math.sin((k * Math.PI) / 60)];
      const [next, before] = [
        follow(surface[0] + dx, surface[1] + dy),
        follow(surface[0] - dx, surface[1] - dy),
      ];
      const length = Math.hypot(...next.at.map((value, axis) => value - before.at[axis]!));
      return length / Math.hypot(next.on[0] - before.on[0], next.on[1] - before.on[1]);
    });
    expect(Math.max(...ratios) / magnification[0]).toBeCloseTo(1, 4);
    expect(Math.min(...ratios) / magnification[1]).toBeCloseTo(1, 4);
  }
});

test('the camera’s square spans the beam, x to the left and y up', () => {
  const { design } = mapped(conic(-2000, -1), 2600, { aperture: disc(200) });
  const half = 500 / 3.2 / 2;
  // Middles of pixels: the square's edges lie half a pixel beyond the first and the last.
  for (const [x, y, column, row] of [
    [0, 0, 499.5, 499.5],
    [half, 0, -0.5, 499.5],
    [0, half, 499.5, -0.5],
    [-half, -half, 999.5, 999.5],
  ] as const) {
    const place = cameraPlace(design, [x, y]);
    expect(place[0]).toBeCloseTo(column, 8);
    expect(place[1]).toBeCloseTo(row, 8);
  }
});

test('a mark appears where its own normal crosses the pattern', () => {
  const fiducials = [
    { id: 'north', at: [0, 90] },
    { id: 'dot', at: ['3 cm', -20] },
  ];
  const { design, main } = mapped(conic(-1000, 0), 1400, { aperture: disc(300), fiducials });
  const marks = mappedMarks(design, main);
  expect(marks.map(({ id }) => id)).toEqual(['north', 'dot']);
  const pitch = 500 / 3.2 / 1000;
  for (const { point } of marks) {
    const [x, y] = point.surface;
    const scale = -400 / Math.sqrt(1e6 - x * x - y * y);
    expect(point.pattern[0]).toBeCloseTo(scale * x, 9);
    expect(point.pattern[1]).toBeCloseTo(scale * y, 9);
    expect(point.camera[0]).toBeCloseTo(499.5 - (scale * x) / pitch, 6);
    expect(point.camera[1]).toBeCloseTo(499.5 - (scale * y) / pitch, 6);
  }
  expect(mappedFrom(design, main, [0, 90])).toEqual(marks[0]!.point);
});

test('a mark that the light does not meet is refused by name', () => {
  const fiducials = [
    { id: 'seen', at: [0, 99.9] },
    { id: 'lost', at: [130, 0] },
  ];
  expect(() => mapped(conic(-2000, -1), 2600, { aperture: disc(200), fiducials })).toThrow(
    /mark lost at x 130 mm, y 0 mm lies outside the aperture of surface M/,
  );
});

test.each([
  [1, 1],
  [4.99, 2],
  [5, 5],
  [99, 50],
  [0.3, 0.2],
  [0.07, 0.05],
])('the round step up to %f is %f', (most, step) => {
  expect(roundStep(most)).toBeCloseTo(step, 12);
});
