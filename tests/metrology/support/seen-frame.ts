/** Frames of a design's lit outlines by the independent renderer: a camera out of place in every way, fringes by chance, some patches dark. */
import type { Design } from '../../../src/design/design.ts';
import { isReadBy } from '../../../src/kinds/kinds.ts';
import type { FrameMap } from '../../../src/metrology/location/frame-map.ts';
import type { CameraFrame } from '../../../src/scenario/camera-frame.ts';
import type { CameraOrientation } from '../../../src/scenario/camera-orientation.ts';
import { edgeOf, type Shape } from '../../independent/outline-points.ts';
import {
  type Faults,
  type LitRegion,
  onScreen,
  outlinedFrame,
  type Screen,
} from '../../independent/outlined-frame.ts';
import { deviates } from '../../independent/random.ts';

export interface SeenFrame {
  readonly frame: CameraFrame;
  readonly screen: Screen;
  readonly orientation: CameraOrientation;
}

export const litShapes = ({ main, patches }: Design): readonly Shape[] => [
  ...(main === undefined ? [] : [main.footprint]),
  ...patches.filter(({ reference }) => !isReadBy(reference, 'mark')).map(({ outline }) => outline),
];

export interface Wishes {
  /** Pixels of the smaller side. */
  readonly size?: number;
  /** Patches that send nothing back, at most. */
  readonly dark?: number;
  /** As tests want it, by chance where left out. */
  readonly screen?: Partial<Screen>;
  readonly faults?: Faults;
  /** Over half the beam's diameter, at most. */
  readonly fringes?: number;
}

/** Everything else is by chance. */
export function seenFrame(
  design: Design,
  seed: number,
  { size = 480, dark = 0, screen: asked, faults, fringes = 15 }: Wishes = {},
): SeenFrame {
  const { uniform } = deviates(seed);
  const within = (most: number): number => most * (2 * uniform() - 1);
  const beam = { centre: design.beam.centre, radius: design.beam.cameraDiameter / 2 };
  const screen: Screen = {
    ...{ width: size + Math.floor(80 * uniform()), height: size, beam },
    ...{ mirrored: uniform() < 0.5, turned: 90 * Math.floor(4 * uniform()) },
    ...{ shift: [within(0.03) * size, within(0.03) * size], scale: 0.94 + within(0.06), tilt: within(2) },
    ...{ distortion: within(0.05), ...asked },
  };
  // Dark, or lit by the interferometer's own beam alone.
  const level = uniform() < 0.5 ? 0.02 : 0.25;
  const surround = faults?.surround ?? level;
  const shapes = litShapes(design);
  const unlit = new Set(Array.from({ length: dark }, () => Math.floor(uniform() * shapes.length)));
  const regions = shapes.map((shape, k): LitRegion => {
    const lit = { mean: 0.4 + within(0.1), amplitude: 0.15 + 0.2 * uniform() };
    const light = unlit.has(k) ? { mean: surround, amplitude: 0 } : lit;
    return { shape, fringes: [within(fringes), within(fringes)], phase: uniform(), ...light };
  });
  const values = outlinedFrame(screen, regions, {
    ...{ surround, vignetting: 0.3, uneven: 0.2, dust: 40, noise: 0.03, shot: 0.02, seed: seed + 1 },
    ...faults,
  });
  return {
    frame: { width: screen.width, height: screen.height, values, holds: 'intensity', levels: 255 },
    screen,
    orientation: { view: 'interferometer', turned: screen.turned as 0, mirrored: screen.mirrored },
  };
}

/** How far off a map is over the edges of all outlines, pixels: the most, and the root mean square along columns or rows. */
export function errorsOf(
  design: Design,
  screen: Screen,
  map: FrameMap,
): { readonly most: number; readonly usual: number } {
  const { centre, radius } = screen.beam;
  const offs = litShapes(design)
    .flatMap((shape) => edgeOf(shape, 8))
    .filter(([x, y]) => Math.hypot(x - centre[0], y - centre[1]) < radius)
    .map((place) => {
      const [a, b] = [map.toPixel(place), onScreen(screen, place)];
      return Math.hypot(a[0] - b[0], a[1] - b[1]);
    });
  return {
    most: Math.max(...offs),
    usual: Math.sqrt(offs.reduce((sum, off) => sum + off * off, 0) / offs.length / 2),
  };
}
