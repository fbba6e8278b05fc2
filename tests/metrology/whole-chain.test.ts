/**
 * A bench with every named cause of error drawn at once, 500 times, and traced out and home by code of its own: the scatter of the part that
 * the program's weights find, against the combined standard uncertainties that it states, for both answers to where the part is. Against
 * the hologram the part that is really there has not moved; against the test wavefront it is compared with a null that goes with the beam
 * as a rigid body. mm, rad, waves.
 */
import { expect, test } from 'vitest';
import { inHologramOf, partPose } from '../../src/metrology/estimate/pose.ts';
import { poseOf } from '../../src/metrology/estimate/pose-estimate.ts';
import { DEGREES } from '../../src/scenario/scenario.ts';
import { chainReader, type Off } from '../independent/bench-chain.ts';
import { lineOf } from '../independent/designed-phase.ts';
import { deviates } from '../independent/random.ts';
import { minus, normed, size, type Vector } from '../independent/ray.ts';
import { designFrom, linePatch } from './support/design-from.ts';

const FOCUS: Vector = [0, 0, -500];
const GLASS = { thickness: 6.35, index: 1.457, side: 'after' } as const;
const WAVELENGTH = 632.8e-6;
const READABLE = 0.05;
const ORIGIN: Vector = [0, 0, 1000];
const WIDTH = 10;
const PLACEMENT = 1e-4;
const BEAM_RADIUS = 500 / 6.4;

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

const design = designFrom({
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
});

const cross = (a: Vector, b: Vector): Vector => [
  a[1] * b[2] - a[2] * b[1],
  a[2] * b[0] - a[0] * b[2],
  a[0] * b[1] - a[1] * b[0],
];
const plus = (a: Vector, b: Vector): Vector => [a[0] + b[0], a[1] + b[1], a[2] + b[2]];

const BENCH = { wavelength: WAVELENGTH, focus: FOCUS, glass: GLASS };
const READERS = PATCHES.map(({ cube, centre, lineAngle }, k) => {
  const patch = {
    ...{ id: `p${k}`, target: plus(ORIGIN, CUBES[cube]!), centre, lineAngle },
    outline: { shape: 'rectangle', centre, width: WIDTH, height: WIDTH, rotation: 0 },
  } as const;
  const read = chainReader(BENCH, patch);
  const sense = normed(cross(lineOf(patch)!, normed(minus(patch.target, [...centre, 0]))));
  const by = (way: number): Vector => [way * sense[0], way * sense[1], way * sense[2]];
  const perMm = (read({ move: by(0.01) }) - read({ move: by(-0.01) })) / 0.02;
  return { read, perMm, cube };
});

/** Where the null goes with the beam and the wedge, about the part's origin: by the tilt of the wave over the zone that halves the beam. */
function nullMoved(
  hologram: NonNullable<Off['hologram']>,
  wedge: readonly [number, number],
): readonly number[] {
  const { move = [0, 0, 0], turn = [0, 0, 0] } = hologram;
  const aside = cross(turn, FOCUS);
  const shift: Vector = [-move[0] - aside[0], -move[1] - aside[1], -move[2] - aside[2]];
  const change = (x: number, y: number): number =>
    size(minus([x, y, 0], plus(FOCUS, shift))) - size(minus([x, y, 0], FOCUS));
  const run = BEAM_RADIUS * Math.SQRT1_2;
  const tilt = [
    (change(run, 0) - change(-run, 0)) / (2 * run) + (GLASS.index - 1) * wedge[0],
    (change(0, run) - change(0, -run)) / (2 * run) + (GLASS.index - 1) * wedge[1],
  ] as const;
  const theta: Vector = [-tilt[1], tilt[0], 0];
  const [x, y, z] = cross(theta, ORIGIN);
  return [x, y, z + shift[2], ...theta];
}

const DRAWS = 500;
/** The scatter of so many draws is itself uncertain by 3 %. */
const WITHIN = 0.1;

test('500 draws of all named causes: the part found scatters as both answers of the budget say, within 10 %', () => {
  const pose = poseOf(design);
  const { gains } = pose.full;
  const random = deviates(7);
  const rectangle = (halfWidth: number): number => (2 * random.uniform() - 1) * halfWidth;
  const vector = (draw: () => number): Vector => [draw(), draw(), draw()];
  const inHologram: number[][] = [];
  const againstWave: number[][] = [];
  // What is left of the air over the path and of the laser, as a part of the wavelength: common practice of the budget itself.
  const relative = (term: string): number => pose.sources.find((source) => source.term === term)!.u;
  const growth = relative('glass expansion');
  for (let draw = 0; draw < DRAWS; draw++) {
    const hologram = {
      move: [PLACED.x, PLACED.y, PLACED.z].map((u) => u * random.normal()) as unknown as Vector,
      turn: [PLACED.rx * random.normal(), PLACED.ry * random.normal(), 0] as Vector,
    };
    const wedge = [BLANK.wedge * random.normal(), BLANK.wedge * random.normal()] as const;
    const shape = (u: number): ((x: number, y: number) => number) => {
      const [a, b, c] = vector(() => (u * WAVELENGTH * random.normal()) / BEAM_RADIUS ** 2);
      return (x, y) => a * (x * x + y * y) + b * (x * x - y * y) + c * 2 * x * y;
    };
    const shared: Off = {
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
    const found = READERS.map(({ read, perMm, cube }, k) => {
      const shift = [PLACEMENT * random.normal(), PLACEMENT * random.normal()] as const;
      const period = design.patches[k]!.phase.period(...design.patches[k]!.centre);
      const edges = ((2 * PLACEMENT) / period) * random.normal();
      const fringes = read({ ...shared, shift, move: moves[cube]! }) + READABLE * random.normal() + edges;
      return fringes / perMm;
    });
    const part = DEGREES.map((_, degree) =>
      found.reduce((sum, value, k) => sum + gains[degree * found.length + k]! * value, 0),
    );
    // A part at its design place stands off a moved null the other way.
    const moved = nullMoved(hologram, wedge);
    inHologram.push(part);
    againstWave.push(part.map((value, degree) => value + moved[degree]!));
  }
  const stated = { ...partPose(design), inHologram: inHologramOf(pose) };
  DEGREES.forEach((degree, k) => {
    const scatter = (rows: readonly number[][]): number =>
      Math.sqrt(rows.reduce((sum, row) => sum + row[k]! ** 2, 0) / DRAWS);
    const apart = (rows: readonly number[][], sigma: number | null): number => scatter(rows) / sigma! - 1;
    expect(Math.abs(apart(inHologram, stated.inHologram[degree])), `${degree}, hologram`).toBeLessThan(
      WITHIN,
    );
    expect(Math.abs(apart(againstWave, stated.budget.combined[degree])), `${degree}, wave`).toBeLessThan(
      WITHIN,
    );
  });
});
