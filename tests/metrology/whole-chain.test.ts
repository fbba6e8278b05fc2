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
import type { Off } from '../independent/bench-chain.ts';
import { minus, size, type Vector } from '../independent/ray.ts';
import {
  BEAM_RADIUS,
  cross,
  drawsOf,
  FOCUS,
  GLASS,
  ORIGIN,
  plus,
  wholeBench,
} from './support/whole-bench.ts';

const design = wholeBench();

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
  const draw = drawsOf(design, 7);
  const inHologram: number[][] = [];
  const againstWave: number[][] = [];
  for (let k = 0; k < DRAWS; k++) {
    const {
      off: { hologram, wedge },
      read,
    } = draw();
    const part = DEGREES.map((_, degree) =>
      read.reduce((sum, value, k) => sum + gains[degree * read.length + k]! * value, 0),
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
