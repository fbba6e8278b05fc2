/**
 * Whether the lit outlines tell the camera's eight orientations apart, and what to do at the bench where they do not. Lit are the patches
 * that send light back and the footprint of the main pattern, within the beam's circle; seats and screens are taken as dark. Lengths mm.
 *
 * Seen in another orientation a lit place p appears where S p would in the plain picture, S turning or mirroring about the picture's
 * centre. Two pictures look alike where no outline has half of its area (DARK) on dark glass in the other one's place, either way. What
 * may still tell them apart, fringes and gaps inside what is lit, is not counted on.
 */
import type { Design, DesignedPatch } from '../../design/design.ts';
import { covers } from '../../geometry/contains.ts';
import { narrowestWidth } from '../../geometry/extent.ts';
import type { Outline } from '../../geometry/outline.ts';
import { outlineFinder } from '../../geometry/outline-index.ts';
import { interiorGrid, spacingFor } from '../../geometry/sampling.ts';
import type { Vec2 } from '../../geometry/vector.ts';
import { isReadBy } from '../../kinds/kinds.ts';
import {
  type CameraOrientation,
  ORIENTATIONS,
  PLAIN_ORIENTATION,
  takenFor,
} from '../../scenario/camera-orientation.ts';
import { pixelPitch } from '../sensing/camera-pixels.ts';
import { type Sense, sensesOf } from '../sensing/sensitivity.ts';
import { apertureWindow } from './fringe-picture-window.ts';

export interface OrientationCheck {
  /** Of the seven others those whose lit outlines look as those of the plain picture do. */
  readonly alike: readonly CameraOrientation[];
  /** Patches to cover one after the other: the places that go dark tell the alike orientations apart, as far as covering can. */
  readonly cover: readonly DesignedPatch[];
  /** One fringe along a sense of a patch: shows in that patch alone, and across that direction. Undefined where none would help. */
  readonly trial: TrialMove | undefined;
  /** What settles it; `card`: neither, and only a card moved in from a known side does. */
  readonly settledBy: 'outlines' | 'cover' | 'trial' | 'card';
}

interface TrialMove {
  readonly patch: DesignedPatch;
  readonly sense: Sense;
}

/** Half of an outline's area on dark glass is seen at a glance. */
const DARK = 0.5;
/** Points in an outline: the least area that counts is that of one in so many. */
const POINTS = 48;
/** An outline narrower than this shows no form on the camera. */
const PIXELS = 3;
/** Sine of the least angle between two directions of fringes that an eye takes for two: 30°. */
const TURNED = 0.5;

export function orientationOf(design: Design): OrientationCheck {
  const { centre } = apertureWindow(design, 1);
  const { patches, main } = design;
  const lit = [
    ...(main === undefined ? [] : [main.footprint]),
    ...patches.filter(({ reference }) => !isReadBy(reference, 'mark')).map(({ outline }) => outline),
  ];
  const alike = alikeOf(design, centre, lit);
  if (alike.length === 0) return { alike, cover: [], trial: undefined, settledBy: 'outlines' };
  const { cover, left } = coverOf(design, centre, alike);
  const trial = trialOf(design, cover, left);
  const settledBy = left.length === 0 ? 'cover' : trial?.tellsAll ? 'trial' : 'card';
  return { alike, cover, trial: trial?.move, settledBy };
}

function pointsIn({ beam }: Design, outline: Outline): readonly Vec2[] {
  const { xs, ys } = interiorGrid(outline, spacingFor(outline, POINTS));
  const { centre, radius = Number.POSITIVE_INFINITY } = beam;
  return Array.from(xs, (x, k): Vec2 => [x, ys[k]!]).filter(
    ([x, y]) => Math.hypot(x - centre[0], y - centre[1]) <= radius,
  );
}

/** Where a place on the pattern seems to be to one who takes the picture for the plain one. */
function mistakenFor(orientation: CameraOrientation, [x, y]: Vec2, [x0, y0]: Vec2 = [0, 0]): Vec2 {
  const [seemingX, seemingY] = takenFor(orientation, PLAIN_ORIENTATION, [x - x0, y - y0]);
  return [x0 + seemingX, y0 + seemingY];
}

function alikeOf(design: Design, centre: Vec2, lit: readonly Outline[]): readonly CameraOrientation[] {
  const find = outlineFinder(lit);
  const least = PIXELS * pixelPitch(design);
  // Most designs are told apart by their first few outlines: the others are not looked into.
  const known = new Map<Outline, readonly Vec2[]>();
  const pointsOf = (outline: Outline): readonly Vec2[] => {
    const points = known.get(outline) ?? pointsIn(design, outline);
    known.set(outline, points);
    return points;
  };
  const isTold = (orientation: CameraOrientation): boolean =>
    lit.some((outline) => {
      if (narrowestWidth(outline) < least) return false;
      const points = pointsOf(outline);
      const dark = points.filter((point) => find(mistakenFor(orientation, point, centre)) === undefined);
      return points.length > 0 && dark.length >= DARK * points.length;
    });
  const [, ...others] = ORIENTATIONS;
  const told = new Set(others.filter(isTold));
  return others.filter((other) => !told.has(other) && !told.has(inverse(other)));
}

/** The orientation that undoes this one against the plain picture: a mirroring undoes itself. */
const inverse = (orientation: CameraOrientation): CameraOrientation =>
  ORIENTATIONS.find(
    ({ turned, mirrored }) =>
      mirrored === orientation.mirrored &&
      (mirrored ? turned === orientation.turned : (turned + orientation.turned) % 360 === 0),
  )!;

/** The patch that tells most apart first, then what tells most of the rest. */
function coverOf(
  design: Design,
  centre: Vec2,
  alike: readonly CameraOrientation[],
): { readonly cover: readonly DesignedPatch[]; readonly left: readonly CameraOrientation[] } {
  const cover: DesignedPatch[] = [];
  let left = alike;
  const able = design.patches.filter(({ reference }) => !isReadBy(reference, 'mark'));
  const stays = able.map((patch) => {
    const points = pointsIn(design, patch.outline);
    return new Set(
      alike.filter((other) => {
        const off = points.filter((point) => !covers(patch.outline, mistakenFor(other, point, centre)));
        return off.length < DARK * points.length;
      }),
    );
  });
  while (left.length > 0) {
    const counts = stays.map((fixed) => left.filter((other) => fixed.has(other)).length);
    const best = counts.indexOf(Math.min(...counts));
    if (best < 0 || counts[best] === left.length) break;
    cover.push(able[best]!);
    left = left.filter((other) => stays[best]!.has(other));
  }
  return { cover, left };
}

/** The tilt that tells most of what is left apart: by the direction of its fringes, and by their sign where the patch has a bias. */
function trialOf(
  design: Design,
  cover: readonly DesignedPatch[],
  left: readonly CameraOrientation[],
): { readonly move: TrialMove; readonly tellsAll: boolean } | undefined {
  // Where covering has settled it, the covered patch's own fringes say the same again.
  const among = left.length === 0 ? cover : design.patches;
  let best: { readonly move: TrialMove; readonly told: number } | undefined;
  for (const patch of among) {
    for (const sense of sensesOf(design, patch)) {
      if (sense.kind !== 'tilt') continue;
      const told = left.filter((other) => isSeenTurned(other, sense, patch.bias !== undefined)).length;
      if (best === undefined || told > best.told) best = { move: { patch, sense }, told };
    }
  }
  if (best === undefined || (left.length > 0 && best.told === 0)) return undefined;
  return { move: best.move, tellsAll: best.told === left.length };
}

function isSeenTurned(other: CameraOrientation, { direction }: Sense, isBiased: boolean): boolean {
  const along: Vec2 = [direction[0], direction[1]];
  const [x, y] = mistakenFor(other, along);
  const square = along[0] ** 2 + along[1] ** 2;
  if (Math.abs(along[0] * y - along[1] * x) >= TURNED * square) return true;
  return isBiased && along[0] * x + along[1] * y < 0;
}
