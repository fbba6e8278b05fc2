/** A sphere-mounted retroreflector: a line focus through the apex of its corner cube comes back upside down along the line. */
import { CLEAR_APERTURE_OF_BALL } from '../optics/corner-cube.ts';
import { LEAST_FRESNEL_NUMBER } from '../optics/diffraction-blur.ts';
import { cubeFresnelNumber, cubeLeastWidth } from '../optics/fresnel-number.ts';
import type { Kind } from './kind.ts';
import { aimedAtPlace } from './point-aim.ts';
import type { CubeFigures, Fit, ReferenceOf } from './reference.ts';

/** Of one of the cube's three mirrors. */
const COATED_MIRROR = 0.95;
/** Of the cube's clear diameter: a line as long as this comes back but for what the edges take. */
const LINE_IN_CUBE = 0.7;

export const smrKind: Kind<
  ReferenceOf<'smr', { readonly diameter: number | undefined; readonly cube: CubeFigures } & Fit>
> = {
  kind: 'smr',
  inScenario: { foci: ['point', 'line'], place: 'given', without: {}, tracked: true },
  read: 'senses',
  reflectance: COATED_MIRROR * COATED_MIRROR * COATED_MIRROR,
  errors: {
    offset: { term: 'apex centring', usual: 'apexCentring', own: ({ cube }) => cube.centring },
    usualRadius: 'smrRadius',
  },
  planning: {
    by: 'patches',
    count: [2, 5], // a line shows one direction
    focus: 'line',
    bias: { shape: 'roof', fringes: 1, direction: undefined },
    leastWidth: (_reference, _focus, distance, wavelength) =>
      cubeLeastWidth(LEAST_FRESNEL_NUMBER.cube, wavelength, distance),
    longestLine: ({ diameter }) =>
      diameter === undefined ? undefined : LINE_IN_CUBE * diameter * CLEAR_APERTURE_OF_BALL,
    roofShifts: true,
  },
  ...aimedAtPlace,
  returned: (_reference, { cube }) => ({ kind: 'cube', ...cube() }),
  fresnelNumber(_reference, { wavelength, distance, narrowest, byLine }) {
    const line = byLine();
    const width = line === undefined ? narrowest() : Math.min(line.along, line.across);
    return {
      number: cubeFresnelNumber(width / 2, wavelength, distance),
      direction: line && governing(line),
      least: LEAST_FRESNEL_NUMBER.cube,
    };
  },
  words: {
    short: 'SMR',
    long: 'SMR (sphere-mounted retroreflector)',
    goes: (aim) => `${aim}, the apex of a corner cube`,
    returned: {
      missed: 'the mirrors',
      weak: (isLine) =>
        isLine
          ? 'turn or roll the retroreflector, make the patch shorter along its line, or use a larger retroreflector'
          : 'a retroreflector needs `focus: line`: a point focus falls on its apex',
      blurred: (direction) =>
        `make the patch ${direction === 'along' ? 'longer along its line' : direction === 'across' ? 'wider across its line' : 'larger'}, or move the retroreflector closer`,
    },
    noTilt:
      'a corner cube returns each ray through the opposite point along the line, where a tilt has the opposite sign',
  },
};

/** The direction in which the patch is the narrower; both where it is as wide as long. */
function governing({ along, across }: { readonly along: number; readonly across: number }) {
  if (Math.abs(along - across) < SAME_WIDTH * along) return 'both';
  return along < across ? 'along' : 'across';
}

/** Fresnel numbers that agree to one in a hundred are one. */
const SAME_WIDTH = 0.005;
