/**
 * The share of a patch's light that comes back to the camera, and what becomes of the rest: by rays over the whole patch, at the
 * design place, traced to the real ball or the real cube (mouth, edges, apex, as it stands) and back to the patch.
 *
 * A ball returns a point focus whole but for what a bias puts over the edge. A line focus on a ball spreads along the line like a
 * flat mirror's light off a sphere: of a patch of half-length a only about aR/(2s) of it comes back. A point focus on a cube meets
 * its apex and is lost there.
 */
import type { Design, DesignedPatch } from '../../design/design.ts';
import { covers } from '../../geometry/contains.ts';
import { latticePoints } from '../../geometry/sampling.ts';
import { kindOf } from '../../kinds/kinds.ts';
import { FATES, type Fate, type TracedReference, traceFates } from '../../optics/round-trip.ts';
import { tracedPatch } from './null-fringes.ts';
import { cubeOf } from './retroreflector.ts';

export interface ReturnedLight {
  /** 0 to 1. */
  readonly share: number;
  /** Shares of the patch by what becomes of its light; with `share` they make 1. */
  readonly losses: Readonly<Record<Exclude<Fate, 'returned'>, number>>;
}

/** Rays over a patch by which shares are told: to some six parts in a thousand. */
const RAYS_TO_REPORT = 256;

/** Undefined for what sends nothing back. */
export function returnedLight(
  design: Design,
  patch: DesignedPatch,
  rays: number = RAYS_TO_REPORT,
  reference: TracedReference | undefined = realReference(design, patch),
): ReturnedLight | undefined {
  if (reference === undefined) return undefined;
  const { xs, ys } = latticePoints(patch.outline, rays);
  const contains = (x: number, y: number): boolean => covers(patch.outline, [x, y]);
  const counts = FATES.map(() => 0);
  for (const fate of traceFates({ ...tracedPatch(design, patch), contains }, reference, xs, ys))
    counts[fate] = counts[fate]! + 1;
  const shares = counts.map((count) => count / xs.length);
  const [share, ...lost] = shares as [number, ...number[]];
  const losses = Object.fromEntries(FATES.slice(1).map((name, k) => [name, lost[k]!]));
  return { share, losses: losses as ReturnedLight['losses'] };
}

/** The patch's reference with all that it loses, a cube as it stands in its nest; undefined for what sends nothing back. */
export const realReference = (
  design: Design,
  { reference, normalIncidence }: DesignedPatch,
): TracedReference | undefined =>
  kindOf(reference).returned(reference, {
    cube: () => cubeOf(design, reference),
    surface: normalIncidence?.surface,
  });
