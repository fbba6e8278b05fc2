/**
 * A bench with every named cause of error drawn at once: three cubes with three line patches each behind a plate, traced out and home by code
 * of its own. What its patches then read. mm, rad, waves.
 */
import type { Design } from '../../../src/design/design.ts';
import { poseOf } from '../../../src/metrology/estimate/pose-estimate.ts';
import { chainReader, type Off } from '../../independent/bench-chain.ts';
import { lineOf } from '../../independent/designed-phase.ts';
import { deviates } from '../../independent/random.ts';
import { minus, normed, type Vector } from '../../independent/ray.ts';
import { designFrom, linePatch, type Words } from './design-from.ts';

export const FOCUS: Vector = [0, 0, -500];
export const GLASS = { thickness: 6.35, index: 1.457, side: 'after' } as const;
export const WAVELENGTH = 632.8e-6;
const READABLE = 0.05;
export const ORIGIN: Vector = [0, 0, 1000];
const WIDTH = 10;
export const PLACEMENT = 1e-4;
export const BEAM_RADIUS = 500 / 6.4;

const round = (radius: number, angle: number): readonly [number, number] => [
  radius * Math.cos(angle),
  radius * Math.sin(angle),
];
const CUBES = [0.2, 2.3, 4.4].map((angle): Vector => [...round(150, angle), 0]);
const PATCHES = CUBES.flatMap((_, cube) =>
  [0, 0.7, -0.7].map((step, k) => ({
    cube,
    centre: round(45 + 8 * k, 0.2 + 2.1 * cube + step),
    lineAngle: [0.1, 1.6, 0.9][k]! + 0.3 * cube,
  })),
);

/** Stated standard uncertainties, large and small ones mixed, so that many causes count. */
const PLACED = { x: 0.02, y: 0.03, z: 0.05, rx: 3e-5, ry: 4e-5 };
const BLANK = { thickness: 0.05, index: 5e-4, wedge: 1e-4, wavefront: 0.1 };
const REFERENCE_WAVEFRONT = 0.1;
const CENTRING = 0.008;
const NEST = 0.006;
const TYPED = 8e-6;
const PRESSURE = 600;

/** The bench, with more words of the scenario. */
export const wholeBench = (words: Words = {}): Design =>
  designFrom({
    light: {
      wavelength: WAVELENGTH,
      uncertainty: { wavelength: TYPED * WAVELENGTH, pressure: `${PRESSURE} Pa` },
    },
    interferometer: {
      ...{ focus: FOCUS, fNumber: 3.2, pixelsAcrossBeam: 2000, readable: READABLE },
      placed: Object.fromEntries(
        Object.entries(PLACED).map(([degree, u]) => [degree, degree.startsWith('r') ? `${u} rad` : u]),
      ),
      wavefront: REFERENCE_WAVEFRONT,
    },
    substrate: {
      outline: { circle: { diameter: 170 } },
      ...{ index: GLASS.index, thickness: GLASS.thickness, patternFaces: 'interferometer' },
      tolerance: { ...BLANK, wedge: `${BLANK.wedge} rad` },
    },
    process: { placement: PLACEMENT },
    part: { origin: ORIGIN },
    references: CUBES.map((at, k) => ({
      ...{ id: `cube-${k}`, kind: 'smr', diameter: 38.1, at, frame: 'part' },
      ...{ centring: CENTRING, nest: NEST },
    })),
    patches: PATCHES.map(({ cube, centre, lineAngle }, k) =>
      linePatch(`p${k}`, `cube-${cube}`, centre, (lineAngle * 180) / Math.PI, WIDTH),
    ),
    ...words,
  });

export const cross = (a: Vector, b: Vector): Vector => [
  a[1] * b[2] - a[2] * b[1],
  a[2] * b[0] - a[0] * b[2],
  a[0] * b[1] - a[1] * b[0],
];
export const plus = (a: Vector, b: Vector): Vector => [a[0] + b[0], a[1] + b[1], a[2] + b[2]];

export const BENCH = { wavelength: WAVELENGTH, focus: FOCUS, glass: GLASS };
const readersWith = (rays?: number) =>
  PATCHES.map(({ cube, centre, lineAngle }, k) => {
    const patch = {
      ...{ id: `p${k}`, target: plus(ORIGIN, CUBES[cube]!), centre, lineAngle },
      outline: { shape: 'rectangle', centre, width: WIDTH, height: WIDTH, rotation: 0 },
    } as const;
    const read = chainReader(BENCH, patch, rays);
    const sense = normed(cross(lineOf(patch)!, normed(minus(patch.target, [...centre, 0]))));
    const by = (way: number): Vector => [way * sense[0], way * sense[1], way * sense[2]];
    const perMm = (read({ move: by(0.01) }) - read({ move: by(-0.01) })) / 0.02;
    return { read, perMm, cube };
  });

/** One bench as the causes make it. */
interface Drawn {
  /** What is off for all of the light. */
  readonly off: Off & Required<Pick<Off, 'hologram' | 'wedge'>>;
  /** How far each patch reads its cube to be, mm. */
  readonly read: readonly number[];
  readonly random: ReturnType<typeof deviates>;
}

/** `rays` × `rays` of a patch. */
export function drawsOf(design: Design, seed: number, rays?: number): () => Drawn {
  const { sources } = poseOf(design);
  const readers = readersWith(rays);
  const random = deviates(seed);
  const rectangle = (halfWidth: number): number => (2 * random.uniform() - 1) * halfWidth;
  const vector = (draw: () => number): Vector => [draw(), draw(), draw()];
  // What is left of the air over the path and of the laser, as a part of the wavelength: common practice of the budget itself.
  const relative = (term: string): number => sources.find((source) => source.term === term)!.u;
  const growth = relative('glass expansion');
  return () => {
    const hologram = {
      move: [PLACED.x, PLACED.y, PLACED.z].map((u) => u * random.normal()) as unknown as Vector,
      turn: [PLACED.rx * random.normal(), PLACED.ry * random.normal(), 0] as Vector,
    };
    const wedge = [BLANK.wedge * random.normal(), BLANK.wedge * random.normal()] as const;
    const shape = (u: number): ((x: number, y: number) => number) => {
      const [a, b, c] = vector(() => (u * WAVELENGTH * random.normal()) / BEAM_RADIUS ** 2);
      return (x, y) => a * (x * x + y * y) + b * (x * x - y * y) + c * 2 * x * y;
    };
    const off = {
      ...{ hologram, wedge, wave: shape(BLANK.wavefront), reference: shape(REFERENCE_WAVEFRONT) },
      thickness: BLANK.thickness * random.normal(),
      index: BLANK.index * random.normal(),
      growth: growth * random.normal(),
      wavelength: ['laser wavelength', 'wavelength as given', 'air index', 'site pressure'].reduce(
        (sum, term) => sum + relative(term) * random.normal(),
        0,
      ),
    };
    const moves = CUBES.map(() =>
      plus(
        vector(() => rectangle(CENTRING)),
        vector(() => rectangle(NEST)),
      ),
    );
    const read = readers.map(({ read: readBy, perMm, cube }, k) => {
      const shift = [PLACEMENT * random.normal(), PLACEMENT * random.normal()] as const;
      const period = design.patches[k]!.phase.period(...design.patches[k]!.centre);
      const edges = ((2 * PLACEMENT) / period) * random.normal();
      const fringes = readBy({ ...off, shift, move: moves[cube]! }) + READABLE * random.normal() + edges;
      return fringes / perMm;
    });
    return { off, read, random };
  };
}
