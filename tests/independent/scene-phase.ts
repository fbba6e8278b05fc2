/**
 * The phase of a patch, waves at order 1, from the words of its scenario and the definition alone:
 *   Φ(P) = [E_out(P) − E_in(P)]/(mλ) − the same at the patch's centre + B(P)
 * A ring whose centre no light leaves counts from its outer edge in +x.
 * E_in and E_out are optical paths found by brute force (fermat.ts, foot.ts), E_out the way to the focus, or to the surface, counted
 * negative. B is the bias as the scenario words it: N fringes on the camera, the pattern crossed twice (by a return ring once).
 */
import { type Place, pathThroughEntry, pathThroughExit, toLine } from './fermat.ts';
import { foldOf } from './fold.ts';
import { wayToSurface } from './foot.ts';
import {
  inner,
  lineDirectionOf,
  type PatchWords,
  type Point,
  patchWords,
  radians,
  referenceWords,
  type Scene,
  targetOf,
  unit,
} from './scene.ts';
import { edgePoints } from './scene-outline.ts';

export type Field = (x: number, y: number) => number;

/** Φ of the patch with its bias. */
export function scenePhase(scene: Scene, id: string): Field {
  const smooth = sceneSmoothPhase(scene, id);
  const bias = sceneBias(scene, patchWords(scene, id));
  return (x, y) => smooth(x, y) + bias(x, y);
}

/** Φ without the bias. */
export function sceneSmoothPhase(scene: Scene, id: string): Field {
  const patch = patchWords(scene, id);
  const [incident, leaving] = [incidentPath(scene), leavingPath(scene, patch)];
  const perPath = 1 / ((patch.order ?? 1) * scene.light.wavelength);
  const raw: Field = (x, y) => (leaving([x, y, 0]) - incident([x, y, 0])) * perPath;
  const atZero = raw(...zeroPlaceOf(patch, raw));
  return (x, y) => raw(x, y) - atZero;
}

function zeroPlaceOf({ centre, outline }: PatchWords, raw: Field): Point {
  if (outline.ring === undefined || !Number.isNaN(raw(...centre))) return centre;
  return [centre[0] + outline.ring.outer / 2, centre[1]];
}

/** mm from a place to the datum that the patch's light meets square on. */
export const wayToDatum = (scene: Scene, id: string): ((from: Place) => number) =>
  wayInAir(scene, patchWords(scene, id));

/** E_in at a point of the pattern, mm. */
export function incidentPath({ interferometer, substrate }: Scene): (at: Place) => number {
  const { focus, direction = [0, 0, 1] } = interferometer;
  if (focus === undefined) {
    const along = unit(direction);
    return (at) => inner(at, along);
  }
  const sign = focus[2] < 0 ? 1 : -1;
  const { thickness = 0, index = 1, patternFaces } = substrate;
  if (thickness === 0 || patternFaces === 'interferometer')
    return (at) => sign * Math.hypot(at[0] - focus[0], at[1] - focus[1], at[2] - focus[2]);
  return (at) => pathThroughEntry(focus, sign, at, thickness, index);
}

/** E_out at a point of the pattern, mm. */
function leavingPath(scene: Scene, patch: PatchWords): (at: Place) => number {
  if (patch.focus === 'return') {
    const incident = incidentPath(scene);
    return (at) => -incident(at);
  }
  const inAir = wayInAir(scene, patch);
  const { thickness = 0, index = 1, patternFaces } = scene.substrate;
  if (thickness === 0 || patternFaces !== 'interferometer') return (at) => -inAir(at);
  return (at) => -pathThroughExit(at, thickness, index, inAir);
}

/** mm from a place to the focus, the line or the surface. */
function wayInAir(scene: Scene, patch: PatchWords): (from: Place) => number {
  if (patch.focus === 'normal') {
    const { datum = '' } = referenceWords(scene, patch);
    return wayToSurface(scene, scene.part?.datums?.[datum] ?? {});
  }
  const target = targetOf(scene, patch);
  if (patch.focus === 'point')
    return (from) => Math.hypot(from[0] - target[0], from[1] - target[1], from[2] - target[2]);
  const line = lineDirectionOf(scene, patch);
  return (from) => toLine(from, target, line);
}

/** B in waves at order 1, from the fringes asked for. */
export function sceneBias(scene: Scene, patch: PatchWords): Field {
  const { bias, order = 1 } = patch;
  if (bias === undefined) return () => 0;
  const centre = bias.shape === 'roof' ? ridgeOf(scene, patch) : patch.centre;
  const along = biasDirection(scene, patch);
  const run = (x: number, y: number): number => (x - centre[0]) * along[0] + (y - centre[1]) * along[1];
  const runs = edgePoints(patch).map(([x, y]) => run(x, y));
  const [least, most] = [Math.min(...runs), Math.max(...runs)];
  const passages = patch.focus === 'return' ? 1 : 2;
  const waves = bias.fringes / (passages * order);
  if (bias.shape === 'tilt') return (x, y) => (waves * run(x, y)) / (most - least);
  const reach = Math.max(-least, most);
  return (x, y) => (waves * Math.abs(run(x, y))) / reach;
}

/** A point of a roof's ridge: of a line on a cube where the light comes straight back. */
function ridgeOf(scene: Scene, patch: PatchWords): Point {
  const { thickness = 0, index = 1, patternFaces } = scene.substrate;
  if (
    patch.focus !== 'line' ||
    patternFaces !== 'interferometer' ||
    referenceWords(scene, patch).kind !== 'smr'
  )
    return patch.centre;
  const [line, apex] = [lineDirectionOf(scene, patch), targetOf(scene, patch)];
  return foldOf(patch.centre, radians(patch.lineAngle ?? 0), line, apex, { thickness, index });
}

/** As asked; else along the line as it lies in the pattern, else +x. */
function biasDirection(scene: Scene, patch: PatchWords): Point {
  const { direction } = patch.bias ?? {};
  if (direction !== undefined) return [Math.cos(radians(direction)), Math.sin(radians(direction))];
  if (patch.focus !== 'line') return [1, 0];
  const [x, y] = lineDirectionOf(scene, patch);
  return [x, y];
}

/** ∇Φ by differences of fourth order, waves/mm. */
export function slopeOf(phase: Field, x: number, y: number, step = 2e-3): Point {
  const along = (f: (h: number) => number): number =>
    (8 * (f(step) - f(-step)) - (f(2 * step) - f(-2 * step))) / (12 * step);
  return [along((h) => phase(x + h, y)), along((h) => phase(x, y + h))];
}
