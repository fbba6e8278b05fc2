/**
 * What a sentence says is seen of a move, against the independent picture in place and the one with the reference moved so: every claim
 * must be what the picture does, and what is plain to see must be claimed.
 */
import { expect } from 'vitest';
import {
  arrowheads,
  bow,
  closeness,
  fringeVector,
  hoursApart,
  hoursOf,
  turned,
  type Way,
  wayOf,
} from '../../independent/fringes-seen.ts';
import type { Vector } from '../../independent/ray.ts';
import { fringesAround, meanOf, movedBy, type Seen, seenOf } from './operator-picture.ts';
import type { PatchOnBench } from './operator-setup.ts';
import type { SaidEffect } from './operator-words.ts';

/** Clock directions are said to the half hour: a quarter of an hour of rounding, and a little for what curves over the patch. */
const CLOCK = 0.25 + 0.1;
/** Of a fringe: a trial move that shows how a picture begins to change. */
const TRIAL = 0.2;
/** Sine or cosine of the angle between the fringes that are there and what comes: beyond this a change is plain to see. */
const PLAIN = 0.5;

export function checkEffect(
  bench: PatchOnBench,
  said: SaidEffect,
  direction: Vector,
  mmPerFringe: number,
  isPower: boolean,
): void {
  const seen = {
    before: seenOf(bench),
    trial: movedBy(bench, direction, TRIAL * mmPerFringe),
    whole: movedBy(bench, direction, mmPerFringe),
  };
  const shape = bench.setup.bias?.shape;
  if (shape === undefined) checkPlain(bench, said, seen.before, seen.whole, isPower);
  else if (isPower) checkBow(bench, said, seen.before, seen.trial);
  else if (shape === 'tilt') checkTurn(bench, said, seen.before, seen.trial);
  else checkHalves(bench, said, seen.before, seen.trial);
}

/** A patch of one grey: straight fringes for a tilt, rings for power, and no sign told. */
function checkPlain(
  bench: PatchOnBench,
  said: SaidEffect,
  before: Seen,
  whole: Seen,
  isPower: boolean,
): void {
  if (isPower) {
    expect(said).toEqual({ rings: true });
    // Darker or brighter to all sides, by half to twice as much as in the mean.
    const edge = fringesAround(bench, before, whole);
    const mean = meanOf(edge);
    for (const part of edge) expect(Math.abs(Math.log2(part / mean))).toBeLessThan(1);
    return;
  }
  expect(Object.keys(said)).toEqual(['straight']);
  const { from, to } = said.straight!;
  const hours = hoursOf(fringeVector(whole.picture, [0, 0], bench.reach / 20));
  expect(hoursApart(from, to)).toBe(6);
  expect(Math.min(hoursApart(hours, from), hoursApart(hours, to))).toBeLessThan(CLOCK);
}

function checkBow(bench: PatchOnBench, said: SaidEffect, before: Seen, trial: Seen): void {
  const run = bench.reach / 2;
  if (bench.setup.bias!.shape === 'tilt') {
    expect(Object.keys(said)).toEqual(['bow']);
    const across = unitOf(fringeVector(before.picture, [0, 0], run / 10));
    expect(hoursApart(hoursOf(bow(trial.picture, [0, 0], across, run)), said.bow!)).toBeLessThan(CLOCK);
    return;
  }
  expect(Object.keys(said)).toEqual(['bowFromRidge']);
  for (const side of [1, -1]) {
    const [at, outward] = half(bench, side);
    expect(dotOf(bow(trial.picture, at, outward, run), outward) > 0 ? 'outward' : 'inward').toBe(
      said.bowFromRidge,
    );
  }
}

/** Fringes of a tilt, which turn, close up and open out. */
function checkTurn(bench: PatchOnBench, said: SaidEffect, before: Seen, trial: Seen): void {
  const [was, is] = [before, trial].map(({ picture }) => fringeVector(picture, [0, 0], bench.reach / 20)) as [
    Way,
    Way,
  ];
  const { sine, cosine } = angleOf(was, [is[0] - was[0], is[1] - was[1]]);
  if (said.turn !== undefined || Math.abs(sine) > PLAIN)
    expect(said.turn).toBe(turned(was, is) > 0 ? 'clockwise' : 'counterclockwise');
  if (said.density !== undefined || Math.abs(cosine) > PLAIN)
    expect(said.density).toBe(closeness(is) > closeness(was) ? 'closer' : 'wider');
  expect(Object.keys(said).filter((key) => key !== 'turn' && key !== 'density')).toEqual([]);
}

/** The two halves of a roof, which fold into arrowheads, or close up one against the other. */
function checkHalves(bench: PatchOnBench, said: SaidEffect, before: Seen, trial: Seen): void {
  const step = bench.reach / 20;
  const halves = [1, -1].map((side) => {
    const [at, outward] = half(bench, side);
    const [was, is] = [before, trial].map(({ picture }) => fringeVector(picture, at, step)) as [Way, Way];
    return { was, is, outward, change: closeness(is) - closeness(was) };
  });
  const [{ was, is, outward }] = halves as [(typeof halves)[number]];
  const { sine, cosine } = angleOf(outward, [is[0] - was[0], is[1] - was[1]]);
  if (said.arrowheads !== undefined || Math.abs(sine) > PLAIN) {
    const point = hoursOf(arrowheads(trial.picture, outward, bench.reach / 2));
    expect(hoursApart(point, said.arrowheads ?? Number.NaN)).toBeLessThan(CLOCK);
  }
  if (said.closingHalf !== undefined || Math.abs(cosine) > PLAIN) {
    const closing = halves.find((one) => one.change > 0)!;
    expect(hoursApart(hoursOf(closing.outward), said.closingHalf ?? Number.NaN)).toBeLessThan(CLOCK);
    expect(halves.filter(({ change }) => change < 0)).toHaveLength(1);
  }
  expect(Object.keys(said).filter((key) => key !== 'arrowheads' && key !== 'closingHalf')).toEqual([]);
}

/** The middle of one half of a patch with a roof, in the picture, and the unit vector outward from the ridge. */
export function half({ setup, reach }: PatchOnBench, side: number): readonly [at: Way, outward: Way] {
  const across = unitOf(wayOf(setup.bias!.direction));
  const outward: Way = [side * across[0], side * across[1]];
  return [[(outward[0] * reach) / 2, (outward[1] * reach) / 2], outward];
}

const dotOf = (a: Way, b: Way): number => a[0] * b[0] + a[1] * b[1];

const unitOf = ([right, up]: Way): Way => {
  const length = Math.hypot(right, up);
  return [right / length, up / length];
};

function angleOf(a: Way, b: Way): { readonly sine: number; readonly cosine: number } {
  const lengths = Math.hypot(...a) * Math.hypot(...b);
  return { sine: (a[0] * b[1] - a[1] * b[0]) / lengths, cosine: dotOf(a, b) / lengths };
}

/** The fringes of a roof in place: alike in both halves and along the ridge. Their count from the ridge to the farthest edge. */
export function checkRoofInPlace(bench: PatchOnBench, inPlace: Seen): number {
  const { direction, reach } = bench.setup.bias!;
  const closenesses = [1, -1].map((side) => {
    const [at, outward] = half(bench, side);
    const vector = fringeVector(inPlace.picture, at, bench.reach / 20);
    expect(Math.abs(angleOf(vector, outward).sine)).toBeLessThan(0.02);
    return closeness(vector);
  }) as [number, number];
  expect(closenesses[0] / closenesses[1]).toBeCloseTo(1, 1);
  return (meanOf(closenesses) * reach) / Math.hypot(...direction);
}
