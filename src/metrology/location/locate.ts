/**
 * Where the hologram stands in a camera's frame: the lit outlines are searched for near the place of the default frame in each of the eight
 * orientations, then their edges are fitted. Nothing is guessed: a frame that shows nothing like the pattern has a fault and no map.
 */
import type { Design } from '../../design/design.ts';
import { boundsOf } from '../../geometry/extent.ts';
import type { CameraFrame } from '../../scenario/camera-frame.ts';
import type { CameraOrientation } from '../../scenario/camera-orientation.ts';
import type { CameraPlace } from '../../scenario/camera-place.ts';
import { type EdgeCrossing, type EdgeReach, edgeCrossings } from './edge-crossings.ts';
import type { FrameMap } from './frame-map.ts';
import { apertureOf, type LitOutline, litOutlinesOf } from './lit-outlines.ts';
import { orientationSeen, type SeenOrientation } from './orientation-seen.ts';
import { errorsAt, misfitOf, placeUncertainty } from './place-check.ts';
import { fitPlace } from './place-fit.ts';
import { type Aperture, mapOfPlace, type Place } from './place-model.ts';
import { bestPlaces, type OrientedPlace, placeAt, placesAt } from './place-search.ts';
import { litPictures, type ReducedPicture, reducedPicture } from './reduced-picture.ts';
import { mostLightIsElsewhere } from './stray-light-seen.ts';

/** What is known of the camera before a frame is looked at. */
export interface GivenPlace {
  readonly orientation?: CameraOrientation | undefined;
  /** No search then, and no distortion. */
  readonly place?: CameraPlace | undefined;
}

/** Why a frame has no map. */
export type LocationFault =
  | 'sizes-differ' // frames of different sizes
  | 'blank' // no light, or the same all over
  | 'not-found' // nothing in it is like the lit outlines
  | 'too-few-lit'; // what is lit does not fix the place

interface Located {
  /** Undefined where there is a fault. */
  readonly map: FrameMap | undefined;
  /** The outlines in the picture tell which way the camera is turned. */
  readonly toldApart: boolean;
  /** Orientations that show the same outlines as the one taken, by the design or as far as patches are lit; it is not among them. */
  readonly alike: readonly CameraOrientation[];
  /** What the outlines plainly show where another orientation was given. */
  readonly contradicted?: CameraOrientation;
  readonly faults: readonly LocationFault[];
}

/** Edges are looked for ever nearer to where they are thought to be. Pixels. */
const PROFILES: readonly EdgeReach[] = [
  { inward: 14, outward: 9, transition: 4, most: 6, deepest: 0.45 },
  { inward: 14, outward: 8, transition: 2, most: 3, deepest: 0.6 },
  { inward: 14, outward: 7, transition: 1, most: 2, deepest: 0.75 },
  { inward: 14, outward: 7, transition: 1, most: 1.5, deepest: 0.75 },
];
/** Standard uncertainty of a place that was given: read from a screen by eye; pixels. Common practice, no source. */
const GIVEN_UNCERTAINTY = 0.5;
/** A place less sure than this, as a part of half the beam's diameter, is no use to any fit. */
const MOST_UNCERTAINTY = 0.01;
/** Fewer crossings than this fix no place. */
const LEAST_CROSSINGS = 24;
/** And fewer of one outline do not show it. */
const LEAST_OF_OUTLINE = 12;
/** Pixels: edges of the pattern agree better than edges of something else, which lie anywhere within what is looked at. */
const MOST_RESIDUAL = 0.7;
/** Pixels: light beside the pattern and fringes show all its edges farther out or in by less; outlines of another size are what is seen beyond that. */
const MOST_INSET = 0.6;
/** Of as many edges that are found, so many may be somewhere else: dust and fringes. */
const MOST_MISSED = 0.25;
/** Variance of a frame's means below which it is the same all over: two grey levels of 255. */
const BLANK = (2 / 255) ** 2;
/** And of what noise alone makes of it. */
const NOISE_ALONE = 2;

/** Of several frames, in phase steps, their swing or else the first that shows the pattern counts; they are taken without moving the camera. */
export function locateHologram(
  design: Design,
  frames: CameraFrame | readonly CameraFrame[],
  given: GivenPlace = {},
): Located {
  const all = isOne(frames) ? [frames] : frames;
  const [first] = all;
  if (first === undefined) return faulty('blank');
  if (all.some(({ width, height }) => width !== first.width || height !== first.height))
    return faulty('sizes-differ');
  let located = faulty('blank');
  for (const lit of litPictures(all)) {
    const next = locatedIn(design, lit, given);
    if (next.faults.length === 0) return next;
    if (located.faults[0] === 'blank') located = next;
  }
  return located;
}

const isOne = (frames: CameraFrame | readonly CameraFrame[]): frames is CameraFrame => 'holds' in frames;

const faulty = (fault: LocationFault): Located => ({
  map: undefined,
  toldApart: false,
  alike: [],
  faults: [fault],
});

function locatedIn(design: Design, lit: CameraFrame, given: GivenPlace): Located {
  const picture = reducedPicture(lit);
  const aperture = apertureOf(design);
  const outlines = litOutlinesOf(design);
  if (given.place !== undefined) return atGivenPlace(design, picture, aperture, outlines, given);
  if (!(picture.spread > BLANK + NOISE_ALONE * (picture.noise / picture.block) ** 2)) return faulty('blank');
  const start = placeAt((lit.width - 1) / 2, (lit.height - 1) / 2, Math.min(lit.width, lit.height) / 2);
  const places = bestPlaces(outlines, aperture, picture, start);
  const seen = orientationSeen(design, places, given.orientation);
  if (seen === undefined) return faulty('not-found');
  return refined(lit, picture, aperture, outlines, seen);
}

function refined(
  lit: CameraFrame,
  picture: ReducedPicture,
  aperture: Aperture,
  outlines: readonly LitOutline[],
  { found, taken, ...said }: SeenOrientation,
): Located {
  const { orientation } = found;
  let place: Place = found.place;
  for (const profile of PROFILES) {
    const seen = edgeCrossings(lit, outlines, aperture, orientation, place, picture.noise, profile);
    const { crossings } = seen;
    if (crossings.length < LEAST_CROSSINGS) return faulty('not-found');
    const fit = fitPlace(crossings, place);
    place = fit.place;
    if (profile !== PROFILES.at(-1)) continue;
    const isLike = fit.residual < MOST_RESIDUAL && Math.abs(fit.inset) < MOST_INSET;
    if (!isLike || seen.missed > MOST_MISSED * crossings.length) return faulty('not-found');
    if (!fixesPlace(crossings, fit.kept, outlines, aperture)) return faulty('too-few-lit');
    if (mostLightIsElsewhere(picture, mapOfPlace(orientation, aperture, place, 0), aperture, outlines))
      return faulty('not-found');
    const misfit = misfitOf(crossings, fit);
    const uncertainty = placeUncertainty(fit, misfit, outlines, aperture, orientation);
    if (!(uncertainty < MOST_UNCERTAINTY * Math.hypot(place[2]!, place[3]!))) return faulty('too-few-lit');
    // Scale, shift and distortion are the picture's, whichever way the pattern stands in it.
    const map = mapOfPlace(taken, aperture, place, uncertainty, (at) => errorsAt(fit, misfit, at));
    return { map, ...said, faults: [] };
  }
  return faulty('not-found');
}

/** One patch alone may be any of them: two are seen, or one that is as large as the beam. */
function fixesPlace(
  crossings: readonly EdgeCrossing[],
  kept: readonly boolean[],
  outlines: readonly LitOutline[],
  aperture: Aperture,
): boolean {
  const counts = outlines.map(
    (_, k) => crossings.filter(({ outline }, i) => outline === k && kept[i]).length,
  );
  const seen = outlines.filter((_, k) => counts[k]! >= LEAST_OF_OUTLINE);
  const isLarge = ({ outline }: LitOutline): boolean => {
    const { minX, maxX, minY, maxY } = boundsOf(outline);
    return Math.min(maxX - minX, maxY - minY) >= aperture.radius;
  };
  return seen.length >= 2 || seen.some(isLarge);
}

function atGivenPlace(
  design: Design,
  picture: ReducedPicture,
  aperture: Aperture,
  outlines: readonly LitOutline[],
  given: GivenPlace,
): Located {
  const { centre, pixelsPerMm } = given.place!;
  const place = placeAt(centre[0], centre[1], pixelsPerMm * aperture.radius);
  const places: readonly OrientedPlace[] = placesAt(outlines, aperture, picture, place);
  const seen = orientationSeen(design, places, given.orientation);
  if (seen === undefined && given.orientation === undefined) return faulty('not-found');
  const { toldApart, alike, contradicted } = seen ?? { toldApart: false, alike: [] };
  const map = mapOfPlace(seen?.taken ?? given.orientation!, aperture, place, GIVEN_UNCERTAINTY);
  return { map, toldApart, alike, ...(contradicted === undefined ? {} : { contradicted }), faults: [] };
}
