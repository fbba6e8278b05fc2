/**
 * A whole bench with causes of error really there, traced: the beam as the hologram sees it from where it stands, glass that is thicker, of
 * another index or a wedge, wavefronts that are bent, a wavelength that is another, patterns shifted; out to a cube that stands
 * elsewhere, and home. What comes out is what an operator counts of a line patch: fringes from edge to edge across its line. mm, radians.
 *
 * The phase is the designed one, fitted by a polynomial that is right to a millionth of a wave, so that hundreds of draws are quick.
 */
import { designedPhase, lineOf, type Surroundings } from './designed-phase.ts';
import { fitted } from './equations.ts';
import type { Place } from './fermat.ts';
import { gridIn, rangeOver } from './outline-points.ts';
import type { ReadPatch } from './patch-reading.ts';
import { dot, minus, normed, size, type Vector } from './ray.ts';

export interface Off {
  /** The hologram against the beam: moved, then turned about the origin of its frame. */
  readonly hologram?: { readonly move?: Vector; readonly turn?: Vector };
  /** Parts of themselves. */
  readonly wavelength?: number;
  readonly growth?: number;
  readonly thickness?: number;
  readonly index?: number;
  /** The angle between the faces along x and y: glass thicker toward + x and y. */
  readonly wedge?: readonly [number, number];
  /** Path that the beam brings along besides, mm. */
  readonly wave?: (x: number, y: number) => number;
  /** Path by which the interferometer's reference wave is off, met once in the fringes, mm. */
  readonly reference?: (x: number, y: number) => number;
  /** Of this patch's pattern and of its cube. */
  readonly shift?: readonly [number, number];
  readonly move?: Vector;
}

export interface Bench extends Surroundings {
  readonly focus: Place;
}

const ORDER = 6;
const GRID = 9;

/** Fringes across one line patch for what is off; undefined `rays`: a grid of 5 × 5. */
export function chainReader(bench: Bench, patch: ReadPatch, rays = 5): (off: Off) => number {
  const [x0, y0] = patch.centre;
  const line = lineOf(patch)!;
  const chief = normed(minus(patch.target, [x0, y0, 0]));
  const across = cross(line, chief);
  const along = ([ex, ey]: Vector, x: number, y: number): number => (x - x0) * ex + (y - y0) * ey;
  const [least, most] = rangeOver(patch.outline, (x, y) => along(across, x, y));
  const phase = polynomial(designedPhase(bench, patch), patch);
  const grid = gridIn(patch.outline, rays);
  return (off) => {
    const { order = 1, target } = patch;
    const [dx, dy, dz] = off.move ?? [0, 0, 0];
    const mirror = cubeAt([target[0] + dx, target[1] + dy, target[2] + dz]);
    const home = grid.map(([x, y]) => roundTrip(bench, { order, phase, off, mirror }, x, y));
    const rows = home.map(({ x, y }) => {
      const [u, v] = [along(across, x, y), along(line, x, y)];
      return [1, u, v, u * u, u * v, v * v];
    });
    const found = fitted(
      rows,
      home.map(({ waves }) => waves),
    );
    return found[1]! * (most - least);
  };
}

/** Of a pattern: waves at order 1, and their slope, 1/mm. */
export interface Phase {
  readonly value: (x: number, y: number) => number;
  readonly slope: (x: number, y: number) => readonly [number, number];
}

/** Fitted over the patch with room for what is shifted. */
function polynomial(exact: (x: number, y: number) => number, { centre, outline }: ReadPatch): Phase {
  const [x0, y0] = centre;
  const [least, most] = rangeOver(outline, (x) => x - x0);
  const reach = 0.8 * (most - least);
  const powers: [number, number][] = [];
  for (let i = 0; i <= ORDER; i++) for (let j = 0; i + j <= ORDER; j++) powers.push([i, j]);
  const steps = Array.from({ length: GRID }, (_, k) => Math.cos((Math.PI * (k + 0.5)) / GRID));
  const points = steps.flatMap((u) => steps.map((v) => [u, v] as const));
  const found = fitted(
    points.map(([u, v]) => powers.map(([i, j]) => u ** i * v ** j)),
    points.map(([u, v]) => exact(x0 + u * reach, y0 + v * reach)),
  );
  const sum = (of: (i: number, j: number) => number): number =>
    powers.reduce((total, [i, j], k) => total + found[k]! * of(i, j), 0);
  const at = (x: number, y: number): readonly [number, number] => [(x - x0) / reach, (y - y0) / reach];
  return {
    value: (x, y) => {
      const [u, v] = at(x, y);
      return sum((i, j) => u ** i * v ** j);
    },
    slope: (x, y) => {
      const [u, v] = at(x, y);
      return [
        sum((i, j) => (i === 0 ? 0 : i * u ** (i - 1) * v ** j)) / reach,
        sum((i, j) => (j === 0 ? 0 : j * u ** i * v ** (j - 1))) / reach,
      ];
    },
  };
}

/** What sends the light back: where it goes on from there, which way, and how far it has come. */
export interface Mirrored {
  readonly from: Vector;
  readonly direction: Vector;
  readonly way: number;
}

/** A perfect cube: back parallel, as from the image through its apex. */
const cubeAt =
  (apex: Vector) =>
  (at: Vector, direction: Vector): Mirrored => ({
    from: minus([2 * apex[0], 2 * apex[1], 2 * apex[2]], at),
    direction: [-direction[0], -direction[1], -direction[2]],
    way: 0,
  });

interface Trip {
  readonly order: number;
  readonly phase: Phase;
  readonly off: Off;
  readonly mirror: (at: Vector, direction: Vector) => Mirrored;
}

/** Out from (x, y) of the pattern and home to it: where the light arrives, and the waves by which its path differs from the beam's there. */
export function roundTrip(
  bench: Bench,
  { order, phase, off, mirror }: Trip,
  x: number,
  y: number,
): { readonly x: number; readonly y: number; readonly waves: number } {
  const { growth = 0, shift = [0, 0], wave = () => 0, reference = () => 0 } = off;
  const wavelength = bench.wavelength * (1 + (off.wavelength ?? 0));
  const inPattern = (px: number, py: number): readonly [number, number] => [
    (px - shift[0]) / (1 + growth),
    (py - shift[1]) / (1 + growth),
  ];
  const beam = beamOf(bench, off);
  const crossed = (px: number, py: number): number =>
    beam(px, py) + wave(px, py) + order * wavelength * phase.value(...inPattern(px, py));
  const h = 1e-3;
  const slope = (of: (step: number) => number): number => (of(h) - of(-h)) / (2 * h);
  const [gx, gy] = phase.slope(...inPattern(x, y));
  const path = (order * wavelength) / (1 + growth);
  const px = slope((step) => beam(x + step, y) + wave(x + step, y)) + path * gx;
  const py = slope((step) => beam(x, y + step) + wave(x, y + step)) + path * gy;

  const after = bench.glass?.side === 'after' ? bench.glass : { thickness: 0, index: 1 };
  const index = after.index + (after.thickness > 0 ? (off.index ?? 0) : 0);
  const [wx, wy] = after.thickness > 0 ? (off.wedge ?? [0, 0]) : [0, 0];
  const thickness = after.thickness + (after.thickness > 0 ? (off.thickness ?? 0) : 0);
  // The outer face: z = thickness + wedge·(x, y).
  const normal = normed([-wx, -wy, 1]);
  const onFace: Vector = [0, 0, thickness];
  const front: Vector = [x, y, 0];
  const inside: Vector = [px / index, py / index, Math.sqrt(1 - (px * px + py * py) / (index * index))];
  const exit = reach(front, inside, onFace, normal);
  const outside = bent(inside, normal, index, 1);
  const { from, direction: home, way: there } = mirror(exit.at, outside);
  const entry = reach(from, home, onFace, normal);
  const back = bent(home, normal, 1, index);
  const last = reach(entry.at, back, [0, 0, 0], [0, 0, 1]);
  const way = index * exit.way + there + entry.way + index * last.way;
  const [bx, by] = last.at;
  return { x: bx, y: by, waves: (crossed(x, y) + way + crossed(bx, by) - reference(bx, by)) / wavelength };
}

/** The path from the beam's focus, or to it, in the frame of the hologram as it stands. Glass before the pattern as designed. */
function beamOf(bench: Bench, { hologram = {} }: Off): (x: number, y: number) => number {
  const { move = [0, 0, 0], turn = [0, 0, 0] } = hologram;
  if (bench.glass?.side === 'before') throw new Error('air before the pattern only');
  const focus = turnedBack(minus(bench.focus, move), turn);
  const sign = bench.focus[2] < 0 ? 1 : -1;
  return (x, y) => sign * size(minus([x, y, 0], focus));
}

/** By the rotation vector `turn`, backward (Rodrigues). */
function turnedBack(v: Vector, turn: Vector): Vector {
  const angle = size(turn);
  if (angle === 0) return v;
  const axis = normed(turn);
  const [c, s] = [Math.cos(angle), -Math.sin(angle)];
  const aside = cross(axis, v);
  const part = dot(axis, v) * (1 - c);
  return [0, 1, 2].map((k) => v[k]! * c + aside[k]! * s + axis[k]! * part) as unknown as Vector;
}

function reach(from: Vector, direction: Vector, on: Vector, normal: Vector): { at: Vector; way: number } {
  const way = dot(minus(on, from), normal) / dot(direction, normal);
  return { at: [0, 1, 2].map((k) => from[k]! + way * direction[k]!) as unknown as Vector, way };
}

/** Snell's law at a face of any inclination: the tangential part is scaled, the rest follows from the unit length. */
function bent(direction: Vector, normal: Vector, from: number, to: number): Vector {
  const through = dot(direction, normal);
  const tangent = [0, 1, 2].map((k) => ((direction[k]! - through * normal[k]!) * from) / to);
  const rest = Math.sqrt(1 - tangent.reduce((sum, part) => sum + part * part, 0)) * Math.sign(through);
  return tangent.map((part, k) => part + rest * normal[k]!) as unknown as Vector;
}

const cross = (a: Vector, b: Vector): Vector => [
  a[1] * b[2] - a[2] * b[1],
  a[2] * b[0] - a[0] * b[2],
  a[0] * b[1] - a[1] * b[0],
];
