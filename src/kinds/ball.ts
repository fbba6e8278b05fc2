/** A tooling ball: a point focus at its centre comes back on itself from its outside. */
import { LEAST_FRESNEL_NUMBER } from '../optics/diffraction-blur.ts';
import { ballFresnelNumber, ballLeastWidth } from '../optics/fresnel-number.ts';
import { CUBE_KEYS, type Kind, without } from './kind.ts';
import { aimedAtPlace } from './point-aim.ts';
import type { Fit, ReferenceOf } from './reference.ts';

export const ballKind: Kind<ReferenceOf<'ball', { readonly diameter: number } & Fit>> = {
  kind: 'ball',
  inScenario: {
    foci: ['point', 'line'],
    place: 'given',
    without: without('only an `smr` has a cube', ...CUBE_KEYS),
    needsDiameter: 'a ball needs its `diameter`',
    tracked: true,
  },
  read: 'senses',
  reflectance: 0.55, // steel
  errors: {
    offset: { term: 'ball form', usual: 'form', own: ({ form }) => form },
    usualRadius: 'ballRadius',
  },
  planning: {
    by: 'patches',
    count: [1, 3], // one shows all three directions
    focus: 'point',
    bias: { shape: 'tilt', fringes: 1, direction: 0 },
    leastWidth: ({ diameter }, _focus, distance, wavelength) =>
      ballLeastWidth(LEAST_FRESNEL_NUMBER.ball, wavelength, distance, diameter / 2),
    longestLine: () => undefined,
    roofShifts: false,
  },
  ...aimedAtPlace,
  returned: ({ at, diameter }) => ({ kind: 'ball', centre: at, radius: diameter / 2 }),
  // A focus does not change the round trip: a line focus has that of a point focus.
  fresnelNumber: ({ diameter }, { wavelength, distance, narrowest }) => ({
    number: ballFresnelNumber(narrowest() / 2, wavelength, distance, diameter / 2),
    direction: undefined,
    least: LEAST_FRESNEL_NUMBER.ball,
  }),
  words: {
    short: 'ball',
    long: 'tooling ball',
    goes: (aim) => `${aim}, the centre of a ball`,
    returned: {
      missed: 'the ball',
      weak: (isLine) => (isLine ? 'a ball needs `focus: point`' : 'reduce the bias, or use a larger ball'),
      blurred: () =>
        'make the patch wider, move the ball closer, use a larger ball, or use a retroreflector with a line focus',
    },
  },
};
