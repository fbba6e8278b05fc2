/**
 * The wave that comes back from a patch to each pixel of a window, relative to the interferometer's own beam sent straight back:
 * amplitude 1 and phase 2πW by geometry, or the diffracted field. The phase is 0 at the patch's centre: a picture has no piston.
 */
import type { Design, DesignedPatch } from '../../design/design.ts';
import type { Pattern } from '../../design/pattern.ts';
import { covers } from '../../geometry/contains.ts';
import { boundsOf } from '../../geometry/extent.ts';
import { boundaryPoints } from '../../geometry/sampling.ts';
import { add, scale, subtract, type Vec2, type Vec3 } from '../../geometry/vector.ts';
import { diffractedReturn, geometricReturn, SAMPLES_ACROSS } from '../../optics/diffraction-return.ts';
import { pathAt } from '../../optics/eikonal.ts';
import { valueAt } from '../../optics/propagation.ts';
import { apparentMove } from '../sensing/apparent-move.ts';
import { diffractedPatch, patchCoordinates } from '../sensing/diffracted-patch.ts';
import type { BenchState } from './fringe-picture-displacements.ts';
import { type ReturnBranch, runOf } from './fringe-picture-return.ts';
import { columnAt, type PictureWindow, rowAt, xOf, yOf } from './fringe-picture-window.ts';

/** The pixels of a window that belong to a patch. */
export interface PatchPixels {
  readonly window: PictureWindow;
  /** 1 for each that does, row by row. */
  readonly covered: Uint8Array;
  /** First and last that may. */
  readonly rows: readonly [first: number, last: number];
  readonly columns: readonly [first: number, last: number];
}

/** One complex number for each pixel of a window, or of some rows of it. */
export interface ReturnedLight {
  /** Number of the pixel that comes first, row by row. */
  readonly start: number;
  readonly re: Float64Array;
  readonly im: Float64Array;
}

/** By traced rays: the branches of `returnBranches`. Of the rows that the patch may reach, or of some of them. */
export function tracedLight(
  patch: Pattern,
  branches: readonly ReturnBranch[],
  pixels: PatchPixels,
  [top, bottom]: PatchPixels['rows'] = pixels.rows,
): ReturnedLight {
  const piston = pistonOf(patch, branches);
  const { window } = pixels;
  const light = darkness(window, top, bottom);
  const { first, xs } = columnsOf(pixels);
  const [waves, fromX, fromY, returnBias] = [0, 1, 2, 3].map(() => new Float64Array(xs.length)) as Row[];
  const { re, im } = light;
  for (let row = Math.max(top, pixels.rows[0]); row <= Math.min(bottom, pixels.rows[1]); row++) {
    const y = yOf(window, row);
    const start = row * window.columns + first;
    const at = start - light.start;
    biasAlongRow(patch, xs, y, returnBias);
    for (const branch of branches) {
      branch.waves.alongRow(xs, y, waves);
      branch.fromX.alongRow(xs, y, fromX);
      branch.fromY.alongRow(xs, y, fromY);
      dropUnlit(branch, patch, pixels, start, fromX, fromY, waves);
      for (let k = 0; k < xs.length; k++) {
        // NaN where nothing of this branch comes.
        const angle = TURN * (waves[k]! + returnBias[k]! - piston);
        if (!(angle < Infinity)) continue;
        re[at + k]! += Math.cos(angle);
        im[at + k]! += Math.sin(angle);
      }
    }
  }
  return light;
}

/**
 * By diffraction. A moved hologram's beam comes in as the move of the reference that shows the same fringes, to first order.
 * Undefined for what diffraction has no model of: a screen, a cube at a point focus, a ball at a line focus.
 */
export function diffractedLight(
  design: Design,
  patch: DesignedPatch,
  bench: BenchState,
  pixels: PatchPixels,
): ReturnedLight | undefined {
  const displacement = add(bench.displacementOf(patch.reference), apparentDisplacement(design, patch, bench));
  const diffracted = diffractedPatch(design, patch, displacement);
  if (diffracted === undefined) return undefined;
  const { field } = diffractedReturn(diffracted, samplesFor(pixels));
  const { fromPattern } = patchCoordinates(patch);
  const turn = 2 * Math.PI * geometricReturn(diffracted, 0, 0);
  const [c, s] = [Math.cos(turn), Math.sin(turn)];
  const { window, covered } = pixels;
  const light = darkness(window);
  for (let at = 0; at < covered.length; at++) {
    if (covered[at] === 0) continue;
    const [x, y] = [xOf(window, at % window.columns), yOf(window, Math.floor(at / window.columns))];
    const [re, im] = valueAt(field, ...fromPattern(x, y));
    light.re[at] = re * c + im * s;
    light.im[at] = im * c - re * s;
  }
  return light;
}

/** As many samples across the patch as the window has pixels there, within what shows its fringes and what the model's own limit is. */
function samplesFor({ rows, columns }: PatchPixels): number {
  const across = Math.max(rows[1] - rows[0], columns[1] - columns[0]) + 1;
  return across <= FEWEST_SAMPLES ? FEWEST_SAMPLES : SAMPLES_ACROSS;
}

/** Fringes of a patch far off have four samples each. */
const FEWEST_SAMPLES = 64;

function darkness({ columns, rows }: PictureWindow, top = 0, bottom = rows - 1): ReturnedLight {
  const count = columns * Math.max(0, bottom - top + 1);
  return { start: top * columns, re: new Float64Array(count), im: new Float64Array(count) };
}

export function patchPixels({ outline }: Pick<Pattern, 'outline'>, window: PictureWindow): PatchPixels {
  const { minX, maxX, minY, maxY } = boundsOf(outline);
  const pixels: PatchPixels = {
    window,
    covered: new Uint8Array(window.columns * window.rows),
    rows: [
      Math.max(0, Math.ceil(rowAt(window, maxY))),
      Math.min(window.rows - 1, Math.floor(rowAt(window, minY))),
    ],
    columns: [
      Math.max(0, Math.ceil(columnAt(window, minX))),
      Math.min(window.columns - 1, Math.floor(columnAt(window, maxX))),
    ],
  };
  const { first, xs } = columnsOf(pixels);
  for (let row = pixels.rows[0]; row <= pixels.rows[1]; row++) {
    const y = yOf(window, row);
    xs.forEach((x, k) => {
      if (covers(outline, [x, y])) pixels.covered[row * window.columns + first + k] = 1;
    });
  }
  return pixels;
}

type Row = Float64Array;
const TURN = 2 * Math.PI;

/** The first column that the patch may reach, and the x of it and of those after it. */
function columnsOf({ window, columns: [first, last] }: PatchPixels): { first: number; xs: Row } {
  const count = Math.max(0, last - first + 1);
  return { first, xs: Float64Array.from({ length: count }, (_, k) => xOf(window, first + k)) };
}

/**
 * Makes `waves` NaN at pixels that are not the patch's (the row's first is number `start`), and where the ray of a branch would have left
 * from beyond the ridge, from outside the patch, or was lost.
 */
function dropUnlit(
  { side, returns }: ReturnBranch,
  { bias }: Pattern,
  { window, covered }: PatchPixels,
  start: number,
  fromX: Row,
  fromY: Row,
  waves: Row,
): void {
  // columnAt and rowAt written out: this runs for each pixel of each picture.
  const { centre, pitch, columns, rows } = window;
  const [left, top] = [(columns - 1) / 2, (rows - 1) / 2];
  const ridge = side === 0 ? undefined : bias;
  for (let k = 0; k < waves.length; k++) {
    if (covered[start + k] === 1) {
      const x = fromX[k]!;
      const y = fromY[k]!;
      const column = Math.round((x - centre[0]) / pitch + left);
      const row = Math.round(top - (y - centre[1]) / pitch);
      if (
        column >= 0 &&
        column < columns &&
        row >= 0 &&
        row < rows &&
        covered[row * columns + column] === 1 &&
        (ridge === undefined || side * runOf(ridge, x, y) >= 0) &&
        returns?.(x, y) !== false
      )
        continue;
    }
    waves[k] = Number.NaN;
  }
}

/** m·B of the second crossing, which the branches leave out; waves. */
function biasAlongRow({ bias, order }: Pattern, xs: Row, y: number, out: Row): void {
  if (bias === undefined) return;
  const slope = (order * bias.amplitude) / bias.reach;
  const roof = bias.shape === 'roof';
  for (let k = 0; k < xs.length; k++) {
    const run = runOf(bias, xs[k]!, y);
    out[k] = slope * (roof ? Math.abs(run) : run);
  }
}

/**
 * The mean over the branches at the centre, or, where that is in the hole of a ring, on its edge: their phases differ there
 * only by what the roof lets the rays wander.
 */
function pistonOf(pattern: Pattern, branches: readonly ReturnBranch[]): number {
  const { outline, centre } = pattern;
  const inHole =
    'senses' in pattern && (pattern as DesignedPatch).senses.length === 0 && !covers(outline, centre);
  if (branches.length === 0) return 0;
  const places: readonly Vec2[] = inHole ? edgeOf(outline) : [centre];
  const sum = branches.reduce(
    (total, { waves }) => total + places.reduce((sum, place) => sum + waves.at(...place), 0),
    0,
  );
  return sum / (branches.length * places.length);
}

const EDGE_POINTS = 48;
function edgeOf(outline: DesignedPatch['outline']): readonly Vec2[] {
  const { xs, ys } = boundaryPoints(outline, EDGE_POINTS);
  return Array.from(xs, (x, k) => [x, ys[k]!]);
}

/** The beam's change as a displacement of the reference, along the directions that the patch senses. */
function apparentDisplacement(design: Design, patch: DesignedPatch, bench: BenchState): Vec3 {
  if (bench.incident === design.beam.eikonal) return [0, 0, 0];
  const change = (x: number, y: number): number =>
    pathAt(bench.incident, x, y) - pathAt(design.beam.eikonal, x, y);
  // The fringes of a move of the reference by δ are those of a target moved by −δ: the wave goes where it went, the cube does not.
  return patch.senses
    .map((sense, k) => scale(sense, apparentMove(design, patch, k, change)))
    .reduce((sum, move) => subtract(sum, move), [0, 0, 0] as Vec3);
}
