/** Where the outlines fit a reduced picture best, for one orientation: a coarse grid over shift, scale and turn, then uphill. */
import { type CameraOrientation, ORIENTATIONS } from '../../scenario/camera-orientation.ts';
import type { LitOutline } from './lit-outlines.ts';
import {
  evidenceOf,
  NARROW,
  type ScoredOutline,
  scoredBlocks,
  scoredOutlines,
  scoreOf,
  scoreOfBlocks,
  WIDE,
} from './outline-score.ts';
import { type Aperture, PLACE_UNKNOWNS, type Place } from './place-model.ts';
import type { ReducedPicture } from './reduced-picture.ts';

interface FoundPlace {
  readonly place: Place;
  readonly score: number;
}

export interface OrientedPlace extends FoundPlace {
  readonly orientation: CameraOrientation;
  /** Of each outline. */
  readonly evidence: readonly number[];
}

/** Points looked up for each place of the grid, in all; and a point of the edge has four. */
const LOOKED_UP = 160;
const POINTS_OF_EDGE = [4, 12] as const;
/** Outlines that the grid looks at, spread over all. */
const MOST_IN_GRID = 12;
/** Points of an edge for the last steps uphill. */
const FINE_POINTS = 32;
/** The grid's step, a part of half the beam's diameter: a tenth of a patch that is an eighth of the beam wide. */
const STEP = 0.0125;
/** Places of the grid that are followed uphill, for each orientation. */
const FOLLOWED = 6;
/** An orientation whose grid is worse than the best one's by this factor is not followed. */
const HOPELESS = 0.4;
/** Pixels at the beam's edge: the first and the last step uphill. */
const FINE = [3, 0.7] as const;

/** The best place for each of the eight orientations. */
export function bestPlaces(
  outlines: readonly LitOutline[],
  aperture: Aperture,
  picture: ReducedPicture,
  start: Place,
): readonly OrientedPlace[] {
  const [fewest, most] = POINTS_OF_EDGE;
  const count = Math.min(most, Math.max(fewest, Math.round(LOOKED_UP / (4 * outlines.length))));
  const share = Math.min(1, MOST_IN_GRID / outlines.length);
  const some = outlines.filter((_, k) => Math.floor((k + 1) * share) > Math.floor(k * share));
  const grids = ORIENTATIONS.map((orientation) => {
    const coarse = scoredOutlines(some, aperture, orientation, count, WIDE);
    return { orientation, coarse, places: gridSearch(coarse, picture, start, STEP, FOLLOWED) };
  });
  const best = Math.max(...grids.map(({ places }) => places[0]!.score));
  return grids.map(({ orientation, coarse, places }) => {
    const fine = scoredOutlines(outlines, aperture, orientation, FINE_POINTS, NARROW);
    const withEvidence = ({ place, score }: FoundPlace): OrientedPlace => ({
      ...{ orientation, place, score },
      evidence: fine.map((outline) => evidenceOf(outline, picture, place)),
    });
    if (!(places[0]!.score >= HOPELESS * best)) return withEvidence(places[0]!);
    const along = STEP * start[2]!;
    const climbed = places.map(({ place }) => {
      const near = climb(coarse, picture, place, start, along / 2, along / 4).place;
      return { place: near, score: scoreOf(fine, picture, near) };
    });
    const top = climbed.reduce((one, other) => (other.score > one.score ? other : one));
    return withEvidence(climb(fine, picture, top.place, start, ...FINE));
  });
}

/** The eight orientations at a known place. */
export const placesAt = (
  outlines: readonly LitOutline[],
  aperture: Aperture,
  picture: ReducedPicture,
  place: Place,
): readonly OrientedPlace[] =>
  ORIENTATIONS.map((orientation) => {
    const fine = scoredOutlines(outlines, aperture, orientation, FINE_POINTS, NARROW);
    const evidence = fine.map((outline) => evidenceOf(outline, picture, place));
    return { orientation, place, evidence, score: evidence.reduce((sum, one) => sum + one, 0) };
  });

/** What is searched, from the default frame: parts of half the beam's diameter. */
const SHIFT = 0.1;
const SCALE = 0.12;
const TURN = 0.035;
const DISTORTION = 0.06;

/** A place beyond what is searched by more than this is no place of the pattern. */
const ROOM = 1.3;

/** The best few of a grid, one for each scale and turn, whose step is `step`, a part of half the beam's diameter. */
function gridSearch(
  outlines: readonly ScoredOutline[],
  picture: ReducedPicture,
  start: Place,
  step: number,
  keep: number,
): readonly FoundPlace[] {
  const scale = start[2]!;
  const found: FoundPlace[] = [];
  const place = start.slice();
  for (const turn of spread(TURN, step))
    for (const larger of spread(SCALE, step)) {
      let best: FoundPlace | undefined;
      place[2] = scale * (1 + larger);
      place[3] = scale * turn;
      const blocks = scoredBlocks(outlines, picture, place);
      for (const right of spread(SHIFT, step))
        for (const down of spread(SHIFT, step)) {
          place[0] = start[0]! + right * scale;
          place[1] = start[1]! + down * scale;
          const score = scoreOfBlocks(blocks, picture, place[0]!, place[1]!);
          if (best === undefined || score > best.score) best = { place: place.slice(), score };
        }
      found.push(best!);
    }
  return found.sort((one, other) => other.score - one.score).slice(0, keep);
}

/** Values from −most to most, no farther apart than twice the step: from one of them to anywhere it is a step at most. */
function spread(most: number, step: number): readonly number[] {
  const steps = Math.max(1, Math.ceil(most / step - 1e-9));
  return Array.from({ length: steps }, (_, k) => -most + ((2 * k + 1) * most) / steps);
}

/** One unknown after the other, by a step up or down that halves where no one helps, down to `last` (pixels at the beam's edge). */
function climb(
  outlines: readonly ScoredOutline[],
  picture: ReducedPicture,
  from: Place,
  start: Place,
  first: number,
  last: number,
): FoundPlace {
  const scale = start[2]!;
  const limits = [SHIFT * scale, SHIFT * scale, SCALE * scale, TURN * scale, DISTORTION].map(
    (most) => ROOM * most,
  );
  const isWithin = (place: Place): boolean =>
    limits.every((most, i) => Math.abs(place[i]! - start[i]!) <= most);
  // Decentring is for the edges to tell.
  const units = Float64Array.of(1, 1, 1, 1, 1 / scale);
  let place = from.slice();
  let score = scoreOf(outlines, picture, place);
  for (let step = first; step >= last; ) {
    let better = false;
    for (let i = 0; i < units.length; i++)
      for (const side of [step, -step]) {
        const tried = place.slice();
        tried[i]! += side * units[i]!;
        if (!isWithin(tried)) continue;
        const reached = scoreOf(outlines, picture, tried);
        if (reached <= score) continue;
        [place, score, better] = [tried, reached, true];
        break;
      }
    if (!better) step /= 2;
  }
  return { place, score };
}

export const placeAt = (x: number, y: number, scale: number): Place => {
  const place = new Float64Array(PLACE_UNKNOWNS);
  place.set([x, y, scale]);
  return place;
};
