/** Frames that show nothing like the pattern are refused, never placed by guess; a place that was given needs no search. */
import { describe, expect, test } from 'vitest';
import { locateHologram } from '../../../src/metrology/location/locate.ts';
import type { CameraFrame } from '../../../src/scenario/camera-frame.ts';
import { PLAIN_ORIENTATION, pixelAt } from '../../../src/scenario/camera-orientation.ts';
import { type LitRegion, outlinedFrame } from '../../independent/outlined-frame.ts';
import { deviates } from '../../independent/random.ts';
import { exampleDesign } from '../support/bench.ts';
import { litShapes, seenFrame } from '../support/seen-frame.ts';

const SIZE = 360;
const DESIGN = exampleDesign('converging-retroreflectors');

const frameOf = (valueAt: (column: number, row: number) => number): CameraFrame => ({
  ...{ width: SIZE, height: SIZE, holds: 'intensity', levels: 255 },
  values: Float32Array.from({ length: SIZE * SIZE }, (_, at) => valueAt(at % SIZE, Math.floor(at / SIZE))),
});
const { uniform, normal } = deviates(3);
const BLOBS = Array.from(
  { length: 12 },
  () => [SIZE * uniform(), SIZE * uniform(), 8 + 20 * uniform()] as const,
);

describe('nothing like the pattern', () => {
  test.each([
    ['no light', frameOf(() => 0), 'blank'],
    ['even light', frameOf(() => 0.5), 'blank'],
    ['noise', frameOf(() => 0.3 + 0.03 * normal()), 'blank'],
    [
      'light that falls off',
      frameOf((column, row) => 0.8 - ((column - 180) ** 2 + (row - 180) ** 2) / 1e5),
      'not-found',
    ],
    [
      'fringes all over',
      frameOf((column, row) => 0.5 + 0.4 * Math.cos(0.2 * column + 0.1 * row)),
      'not-found',
    ],
    [
      'spots anywhere',
      frameOf((column, row) =>
        BLOBS.some(([x, y, size]) => Math.hypot(column - x, row - y) < size) ? 0.7 : 0.05 + 0.02 * normal(),
      ),
      'not-found',
    ],
  ] as const)('%s', (_, frame, fault) => {
    const { map, faults } = locateHologram(DESIGN, frame);
    expect({ map, faults }).toEqual({ map: undefined, faults: [fault] });
  });

  test.each([
    ['diverging-balls', 'converging-retroreflectors'],
    ['converging-retroreflectors', 'diverging-balls'],
    ['full-bench', 'off-axis-asphere'],
    ['off-axis-asphere', 'full-bench'],
    ['infrared-collimated', 'freeform-mirror'],
    ['freeform-mirror', 'infrared-collimated'],
  ])('a frame of %s is none of %s', (seen, design) => {
    for (const seed of [1, 2]) {
      const { frame } = seenFrame(exampleDesign(seen), seed, { size: SIZE });
      const { map, faults } = locateHologram(exampleDesign(design), frame);
      expect({ seed, map, faults }).toEqual({
        seed,
        map: undefined,
        faults: [expect.stringMatching(/not-found|too-few/)],
      });
    }
  });

  test('one lit patch may be any of them', () => {
    const beam = { centre: DESIGN.beam.centre, radius: DESIGN.beam.cameraDiameter / 2 };
    const plain = { width: SIZE, height: SIZE, beam, mirrored: false, turned: 0, shift: [4, 3] as const };
    const [shape] = litShapes(DESIGN);
    const region: LitRegion = { shape: shape!, fringes: [3, 8], phase: 0, mean: 0.5, amplitude: 0.3 };
    const none = { vignetting: 0, uneven: 0, dust: 0, noise: 0.02, shot: 0, seed: 4, surround: 0.02 };
    const values = outlinedFrame({ ...plain, scale: 1, tilt: 0, distortion: 0 }, [region], none);
    const { map, faults } = locateHologram(DESIGN, { width: SIZE, height: SIZE, values, holds: 'intensity' });
    expect({ map, faults }).toEqual({ map: undefined, faults: ['too-few-lit'] });
  });
});

describe('a place that was given', () => {
  const place = { centre: [170, 190] as const, pixelsPerMm: 2.2 };

  test('is taken as it is, in a dark frame too', () => {
    const { map, faults } = locateHologram(
      DESIGN,
      frameOf(() => 0),
      { place, orientation: PLAIN_ORIENTATION },
    );
    expect(faults).toEqual([]);
    const grid = { centre: DESIGN.beam.centre, pitch: 1 / 2.2, columns: 341, rows: 381 };
    for (const at of [
      [0, 0],
      [30, -10],
      [-5, 44],
    ] as const) {
      const [column, row] = map!.toPixel(at);
      const expected = pixelAt(PLAIN_ORIENTATION, grid, at);
      expect(column).toBeCloseTo(expected[0], 9);
      expect(row).toBeCloseTo(expected[1], 9);
    }
    expect(map!.pitch).toBeCloseTo(1 / 2.2, 12);
  });

  test('without an orientation the outlines at that place tell it', () => {
    const half = SIZE / 2;
    const scale = half / (DESIGN.beam.cameraDiameter / 2);
    const { frame, screen } = seenFrame(DESIGN, 5, {
      size: SIZE,
      screen: { width: SIZE, mirrored: false, turned: 90, shift: [0, 0], scale: 1, tilt: 0, distortion: 0 },
    });
    expect(screen.turned).toBe(90);
    const centre = [(SIZE - 1) / 2, (SIZE - 1) / 2] as const;
    const found = locateHologram(DESIGN, frame, { place: { centre, pixelsPerMm: scale } });
    const seen = [found.map!.orientation, ...found.alike];
    expect(seen).toContainEqual({ ...PLAIN_ORIENTATION, turned: 90 });
    expect(seen).toHaveLength(2);
  });
});
