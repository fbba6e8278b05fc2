/** A sphere-mounted retroreflector: a line focus through the apex of its corner cube comes back upside down along the line. */
import { CLEAR_APERTURE_OF_BALL } from '../optics/corner-cube.ts';
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
  reflectance: COATED_MIRROR ** 3,
  errors: {
    offset: { term: 'apex centring', usual: 'apexCentring', own: ({ cube }) => cube.centring },
    usualRadius: 'smrRadius',
  },
  planning: {
    by: 'patches',
    count: [2, 5], // a line shows one direction
    focus: 'line',
    bias: { shape: 'roof', fringes: 1, direction: undefined },
    leastWidth: (_reference, _focus, distance, wavelength, least) =>
      cubeLeastWidth(least, wavelength, distance),
    longestLine: ({ diameter }) =>
      diameter === undefined ? undefined : LINE_IN_CUBE * diameter * CLEAR_APERTURE_OF_BALL,
    roofShifts: true,
  },
  ...aimedAtPlace,
  returned: (_reference, { cube }) => ({ kind: 'cube', ...cube() }),
  // A cube inverts whatever meets it: along a line focus it is the patch's length that counts.
  fresnelNumber: (_reference, { wavelength, distance, narrowest, alongLine }) =>
    cubeFresnelNumber((alongLine() ?? narrowest()) / 2, wavelength, distance),
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
      blurred: 'make the patch longer along its line, or move the retroreflector closer',
    },
    noTilt:
      'a corner cube returns each ray through the opposite point along the line, where a tilt has the opposite sign',
  },
};
