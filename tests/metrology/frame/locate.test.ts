/**
 * The hologram found in frames by an independent renderer: shifted, scaled, turned, mirrored, distorted, unevenly lit, with dust, noise and
 * dark patches. Errors are in pixels, against the renderer's own camera.
 */
import { describe, expect, test } from 'vitest';
import type { Design } from '../../../src/design/design.ts';
import { aperturePicture } from '../../../src/metrology/camera/fringe-picture.ts';
import { locateHologram } from '../../../src/metrology/location/locate.ts';
import {
  type CameraOrientation,
  isSameOrientation,
  pixelAt,
} from '../../../src/scenario/camera-orientation.ts';
import { exampleDesign } from '../support/bench.ts';
import { errorsOf, type SeenFrame, seenFrame } from '../support/seen-frame.ts';

/** Patches left dark, at most; of three balls two leave the turn of the picture open. */
const EXAMPLES: readonly (readonly [name: string, dark: number])[] = [
  ['converging-retroreflectors', 3],
  ['diverging-balls', 0],
  ['freeform-mirror', 1],
  ['full-bench', 2],
  ['infrared-collimated', 0],
  ['off-axis-asphere', 3],
];
const FRAMES = 4;

/** Believed where outlines cannot tell: then the frame's own. */
function located(design: Design, { frame, orientation }: SeenFrame) {
  const found = locateHologram(design, frame);
  if (found.map === undefined || isSameOrientation(found.map.orientation, orientation)) return found;
  return locateHologram(design, frame, { orientation });
}

describe('examples in frames of every kind', () => {
  const ratios: number[] = [];

  test.each(EXAMPLES)('%s is found within half a pixel, %i patches dark', (name, dark) => {
    const design = exampleDesign(name);
    for (let seed = 1; seed <= FRAMES; seed++) {
      const seen = seenFrame(design, 100 * seed + name.length, { dark, size: 560 });
      const { map, faults, contradicted } = located(design, seen);
      expect({ seed, faults, contradicted }).toEqual({ seed, faults: [], contradicted: undefined });
      expect(isSameOrientation(map!.orientation, seen.orientation)).toBe(true);
      const { most, usual } = errorsOf(design, seen.screen, map!);
      expect(most, `seed ${seed}`).toBeLessThan(0.5);
      ratios.push(usual / map!.uncertainty);
    }
  });

  test('the stated uncertainty is honest: no error of three times as much, one in twenty of twice as much at most', () => {
    expect(ratios).toHaveLength(FRAMES * EXAMPLES.length);
    expect(Math.max(...ratios)).toBeLessThan(3);
    expect(ratios.filter((ratio) => ratio > 2).length).toBeLessThanOrEqual(0.05 * ratios.length);
    // And no more than that: an uncertainty that covers everything says nothing.
    const usual = Math.sqrt(ratios.reduce((sum, ratio) => sum + ratio ** 2, 0) / ratios.length);
    expect(usual).toBeGreaterThan(0.3);
  });
});

test('a map leads back from a pixel to the place that is seen there', () => {
  const design = exampleDesign('converging-retroreflectors');
  const { frame } = seenFrame(design, 5);
  const map = locateHologram(design, frame).map!;
  for (const pixel of [
    [10, 20],
    [240, 240],
    [450, 100],
  ] as const) {
    const [column, row] = map.toPixel(map.toPattern(pixel));
    expect(column).toBeCloseTo(pixel[0], 6);
    expect(row).toBeCloseTo(pixel[1], 6);
  }
});

test('a picture of the whole aperture with keep-outs and the rim drawn in it is placed where it was drawn', () => {
  const design = exampleDesign('diverging-balls');
  const orientation: CameraOrientation = { view: 'interferometer', turned: 90, mirrored: false };
  const { width, height, grey } = aperturePicture(design, {
    size: 500,
    orientation,
    camera: { noise: 0.02 },
  });
  const values = Float32Array.from(grey, (level) => level / 255);
  const { map } = locateHologram(design, { width, height, values, holds: 'intensity' }, { orientation });
  const { centre, cameraDiameter } = design.beam;
  const grid = { centre, pitch: cameraDiameter / 500, columns: 500, rows: 500 };
  for (const { centre: at } of design.patches) {
    const [seen, drawn] = [map!.toPixel(at), pixelAt(orientation, grid, at)];
    expect(Math.hypot(seen[0] - drawn[0], seen[1] - drawn[1])).toBeLessThan(0.5);
  }
});

test('a phase map is placed by where it has values', () => {
  const design = exampleDesign('converging-retroreflectors');
  const still = { vignetting: 0, uneven: 0, dust: 0, noise: 0, shot: 0, seed: 1, surround: 0 };
  const seen = seenFrame(design, 8, { dark: 1, faults: still, fringes: 0 });
  const values = seen.frame.values.map((value) => (value > 0.1 ? 3 * value : Number.NaN));
  const { width, height } = seen.frame;
  const frame = { width, height, values, holds: 'phase' as const };
  const { map } = locateHologram(design, frame, { orientation: seen.orientation });
  expect(errorsOf(design, seen.screen, map!).most).toBeLessThan(0.5);
});

test('of several frames one that shows the pattern is enough, and all are of one size', () => {
  const design = exampleDesign('converging-retroreflectors');
  const { frame } = seenFrame(design, 3);
  const dark = { ...frame, values: new Float32Array(frame.values.length) };
  expect(locateHologram(design, [dark, frame]).faults).toEqual([]);
  expect(locateHologram(design, [frame, { ...frame, width: frame.width - 1 }]).faults).toEqual([
    'sizes-differ',
  ]);
});
