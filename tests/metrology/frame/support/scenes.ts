/**
 * Holograms to take frames of, by the words of scenarios: retroreflectors with roofs, balls with a biasing tilt and without, and rings; of
 * random places and sizes. mm, degrees.
 */
import type { Design } from '../../../../src/design/design.ts';
import type { deviates } from '../../../independent/random.ts';
import type { Feature } from '../../../independent/ring-bench.ts';
import { designFrom, type Words } from '../../support/design-from.ts';
import { ring } from '../../support/full-bench.ts';

export interface FrameScene {
  readonly design: Design;
  /** By ring. */
  readonly features: Readonly<Record<string, Feature>>;
}

type Random = ReturnType<typeof deviates>;
type Place = readonly [number, number];

const LAMBDA = 632.8e-6;
const FOCUS = [0, 0, -500];
const BEAM = 150;
/** Centres of the places for patches: three circles, none of which touches the next, and turned so that no two orientations look alike. */
const PLACES: readonly Place[] = [
  ...Array.from({ length: 13 }, (_, k): Place => [60, 0.2 + (2 * Math.PI * k) / 13]),
  ...Array.from({ length: 7 }, (_, k): Place => [38, 0.1 + (2 * Math.PI * k) / 7]),
  ...Array.from({ length: 3 }, (_, k): Place => [15, 0.3 + (2 * Math.PI * k) / 3]),
].map(([radius, angle]) => [radius * Math.cos(angle), radius * Math.sin(angle)]);

const scene = (references: readonly Words[], patches: readonly Words[]): FrameScene => ({
  features: {},
  design: designFrom({
    interferometer: { focus: FOCUS, fNumber: 500 / BEAM, pixelsAcrossBeam: 1000, readable: 0.1 },
    substrate: { outline: { circle: { diameter: 170 } }, thickness: 6.35, index: 1.457 },
    part: { origin: [0, 0, 400] },
    references,
    patches,
  }),
});

/** `count` places, 21 at most, with something between them that tells them apart: the first two are left free one by one. */
const chosen = (count: number): readonly Place[] =>
  PLACES.filter((_, k) => k !== 2 && k !== 15).slice(0, count);

/** Retroreflectors around the axis, each patch on one of its own; its line at random, or as given. */
export function lineScene({ uniform }: Random, count = 18, line?: number): FrameScene {
  const between = (low: number, high: number): number => low + (high - low) * uniform();
  const places = chosen(count);
  return scene(
    places.map((place, k) => ({
      ...{ id: `c${k}`, kind: 'smr', diameter: 38.1, frame: 'part' },
      at: [place[0] * between(1.5, 3), place[1] * between(1.5, 3), between(-100, 800)],
    })),
    places.map((centre, k) => {
      const lineAngle = line ?? between(0, 360);
      return {
        ...{ id: `p${k}`, reference: `c${k}`, focus: 'line', centre, lineAngle },
        outline: { rectangle: { width: between(7, 11), height: between(7, 11), rotation: lineAngle } },
        bias: { shape: 'roof', fringes: between(1, 3) },
      };
    }),
  );
}

/** Balls near by; those of odd number without a bias. */
export function ballScene({ uniform }: Random, count = 18): FrameScene {
  const between = (low: number, high: number): number => low + (high - low) * uniform();
  const places = chosen(count);
  return scene(
    places.map((place, k) => ({
      ...{ id: `b${k}`, kind: 'ball', diameter: 12.7, frame: 'part' },
      at: [place[0] * between(1.1, 1.5), place[1] * between(1.1, 1.5), between(-280, -200)],
    })),
    places.map((centre, k) => ({
      ...{ id: `p${k}`, reference: `b${k}`, focus: 'point', centre },
      outline: { circle: { diameter: between(8, 12) } },
      ...(k % 2 === 0 ? { bias: { shape: 'tilt', fringes: between(2, 4), direction: between(0, 360) } } : {}),
    })),
  );
}

const GLASS = { thickness: 6.35, index: 1.457 };
const SPHERE = { centre: [0, 0, 400], radius: 130 } as const;

/** A return ring, and light at normal incidence on a sphere and on a plane of the part; two retroreflectors tell the orientation. */
export function ringScene({ uniform }: Random): FrameScene {
  const inner = [22, 37, 52].map((radius) => radius + 2 * uniform());
  const ids = ['sphere', 'plane', 'back'];
  const patch = (id: string, k: number): Words => ({
    ...{ id, reference: id, focus: id === 'back' ? 'return' : 'normal', centre: [0, 0] },
    outline: ring(2 * inner[k]!, 2 * (inner[k]! + 4 + 3 * uniform())),
  });
  return {
    features: {
      sphere: { shape: 'sphere', ...SPHERE },
      plane: { shape: 'plane', point: [0, 0, 300] },
    },
    design: designFrom({
      interferometer: { focus: FOCUS, fNumber: 500 / BEAM, pixelsAcrossBeam: 1000, readable: 0.1 },
      substrate: { outline: { circle: { diameter: 170 } }, ...GLASS },
      part: {
        origin: [0, 0, 300],
        datums: {
          S: { sphere: { centre: [0, 0, 100], diameter: 2 * SPHERE.radius } },
          P: { plane: { point: [0, 0, 0], normal: [0, 0, -1] } },
        },
      },
      references: [
        { id: 'back', kind: 'return' },
        { id: 'sphere', kind: 'datum', datum: 'S' },
        { id: 'plane', kind: 'datum', datum: 'P' },
        { id: 'c', kind: 'smr', diameter: 38.1, frame: 'part', at: [130, 60, 500] },
      ],
      patches: [
        ...ids.map(patch),
        ...[
          [66, 10],
          [50, 44],
        ].map((centre, k) => ({
          ...{ id: `c${k}`, reference: 'c', focus: 'line', centre, lineAngle: 90 * k },
          outline: { rectangle: { width: 7, height: 6 } },
          bias: { shape: 'roof', fringes: 1.5 },
        })),
      ],
    }),
  };
}

export const WAVELENGTH = LAMBDA;
