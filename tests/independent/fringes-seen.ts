/**
 * What an eye reads in a picture of fringes cos 2πW: how close they stand, which way they run and turn, bow and point. Places in the
 * picture are right and up, mm on the pattern from the patch's centre; from the interferometer right is −x. A picture does not tell W
 * from −W, and no figure here does. Shares no code with src/.
 */
import type { CameraWaves, Place2 } from './round-trip.ts';

/** Right and up. */
export type Way = readonly [number, number];
/** W at a place of the picture, waves. */
export type Picture = (right: number, up: number) => number;

export const asSeen = (waves: CameraWaves, [x, y]: Place2): Picture => {
  return (right, up) => waves(x - right, y + up);
};

/** A direction of the pattern plane as the picture shows it. */
export const wayOf = ([x, y]: readonly number[]): Way => [-x!, y!];

/** Fringes per mm to the right and up; the fringes lie square to it. */
export function fringeVector(picture: Picture, [right, up]: Way, step: number): Way {
  return [
    (picture(right + step, up) - picture(right - step, up)) / (2 * step),
    (picture(right, up + step) - picture(right, up - step)) / (2 * step),
  ];
}

export const closeness = (vector: Way): number => Math.hypot(...vector);

/** Degrees by which fringes have turned, clockwise positive, between −90 and 90. */
export function turned(before: Way, after: Way): number {
  const angle = (Math.atan2(before[1], before[0]) - Math.atan2(after[1], after[0])) * (180 / Math.PI);
  return angle - 180 * Math.round(angle / 180);
}

/** Hours on a clock's face: 12 up, 3 to the right. */
export const hoursOf = ([right, up]: Way): number => ((Math.atan2(right, up) * 6) / Math.PI + 12) % 12;

/** Hours between two directions, at most 6. */
export function hoursApart(a: number, b: number): number {
  const apart = Math.abs(a - b) % 12;
  return Math.min(apart, 12 - apart);
}

/**
 * Where the arrowheads of a patch in two halves point: along the ridge, to the side on which one fringe's two arms draw together.
 * `across` is the unit vector from one half to the other; each arm is followed from its half's middle, `out` from the ridge, to a
 * little farther along the ridge.
 */
export function arrowheads(picture: Picture, across: Way, out: number): Way {
  const ridge: Way = [across[1], -across[0]];
  const inward = [1, -1].reduce((sum, side) => {
    const [right, up] = fringeVector(picture, [side * out * across[0], side * out * across[1]], out / 50);
    // Along an arm the phase stays: moving along the ridge by one moves it out by −(along)/(outward).
    const outward = side * (right * across[0] + up * across[1]);
    return sum + (right * ridge[0] + up * ridge[1]) / outward;
  }, 0);
  return inward > 0 ? ridge : [-ridge[0], -ridge[1]];
}

/**
 * To where the fringe through `from` bows: from the middle of the chord between its points `reach` to either side to its own middle.
 * Its length is the sag, mm. `across` is the unit vector square to the fringe.
 */
export function bow(picture: Picture, from: Way, across: Way, reach: number): Way {
  const level = picture(...from);
  const along: Way = [across[1], -across[0]];
  const offAt = (run: number): number => {
    let off = 0;
    for (let step = 0; step < 20; step++) {
      const at: Way = [
        from[0] + run * along[0] + off * across[0],
        from[1] + run * along[1] + off * across[1],
      ];
      const [right, up] = fringeVector(picture, at, reach / 50);
      off -= (picture(...at) - level) / (right * across[0] + up * across[1]);
    }
    return off;
  };
  const sag = -(offAt(reach) + offAt(-reach)) / 2;
  return [sag * across[0], sag * across[1]];
}
