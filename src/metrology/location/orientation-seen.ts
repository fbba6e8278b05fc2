/** Which of the eight orientations the lit outlines of a frame show, and which of them they cannot tell apart. */
import type { Design } from '../../design/design.ts';
import {
  type CameraOrientation,
  isSameOrientation,
  ORIENTATIONS,
  PLAIN_ORIENTATION,
  takenFor,
} from '../../scenario/camera-orientation.ts';
import { orientationOf } from '../camera/orientation-check.ts';
import type { OrientedPlace } from './place-search.ts';

export interface SeenOrientation {
  /** The one whose place is fitted. */
  readonly found: OrientedPlace;
  /** The one that the map has: what was given, or what was found. */
  readonly taken: CameraOrientation;
  readonly toldApart: boolean;
  readonly alike: readonly CameraOrientation[];
  readonly contradicted?: CameraOrientation;
}

/** An outline is seen where its evidence is more than this: the variances inside and around differ two and a half times or more. */
const SEEN = 1;
/**
 * By so much of a seen outline's evidence one orientation is better than another: one outline that is lit in one and has nothing lit in its
 * place in the other makes a whole one, noise and dust a small part of one.
 */
const ONE_OUTLINE = 0.5;

/** Undefined where no outline is seen in any of them. */
export function orientationSeen(
  design: Design,
  places: readonly OrientedPlace[],
  given: CameraOrientation | undefined,
): SeenOrientation | undefined {
  const best = places.reduce((one, other) => (other.score > one.score ? other : one));
  const seen = best.evidence.filter((evidence) => evidence > SEEN).sort((one, other) => one - other);
  if (seen.length === 0) return undefined;
  const clear = ONE_OUTLINE * seen[Math.floor(seen.length / 2)]!;
  const byDesign = alikeTo(design, best.orientation);
  const open = places.filter(
    ({ orientation, score }) =>
      isSameOrientation(orientation, best.orientation) ||
      byDesign.some((other) => isSameOrientation(other, orientation)) ||
      score > best.score - clear,
  );
  const isOpen = (orientation: CameraOrientation | undefined): boolean =>
    orientation !== undefined && open.some((one) => isSameOrientation(one.orientation, orientation));
  const wanted = isOpen(given)
    ? given!
    : isOpen(PLAIN_ORIENTATION) && given === undefined
      ? PLAIN_ORIENTATION
      : undefined;
  const found =
    open.find(({ orientation }) => wanted !== undefined && isSameOrientation(orientation, wanted)) ?? best;
  const contradicted = given !== undefined && !isOpen(given) ? best.orientation : undefined;
  const taken = given ?? found.orientation;
  return {
    found,
    taken,
    toldApart: open.length === 1,
    alike: open
      .map(({ orientation }) => orientation)
      .filter((other) => !isSameOrientation(other, found.orientation)),
    ...(contradicted === undefined ? {} : { contradicted }),
  };
}

/** Those that show the outlines as `orientation` does: by the symmetries of the layout, which the plain picture's alike ones are. */
function alikeTo(design: Design, orientation: CameraOrientation): readonly CameraOrientation[] {
  const symmetries = orientationOf(design).alike.map((other) => takenFor(other, PLAIN_ORIENTATION, ASKEW));
  return ORIENTATIONS.filter((other) => {
    const [x, y] = takenFor(other, orientation, ASKEW);
    return symmetries.some((at) => Math.abs(at[0] - x) + Math.abs(at[1] - y) < 1e-9);
  });
}

/** A direction that each of the eight symmetries of a square takes to another one. */
const ASKEW = [1, 2] as const;
