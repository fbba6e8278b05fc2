/** A target screen: a patch marks a spot or a line on it for the eye, and no light comes back. */
import { CUBE_KEYS, FIT_KEYS, type Kind, without } from './kind.ts';
import { aimedAtPlace } from './point-aim.ts';
import type { ReferenceOf } from './reference.ts';

export const screenKind: Kind<ReferenceOf<'screen', { readonly diameter: number | undefined }>> = {
  kind: 'screen',
  inScenario: {
    foci: ['point', 'line'],
    place: 'given',
    without: {
      ...without('only an `smr` has a cube', ...CUBE_KEYS),
      ...without('a screen is only a target', ...FIT_KEYS),
    },
    tracked: false,
  },
  read: 'mark',
  planning: {
    by: 'patches',
    count: [1, 1],
    focus: 'point',
    bias: undefined,
    leastWidth: () => 0,
    longestLine: () => undefined,
    roofShifts: false,
  },
  ...aimedAtPlace,
  returned: () => undefined,
  fresnelNumber: () => undefined,
  words: {
    short: 'screen',
    long: 'target screen',
    goes: (aim) => `${aim} on a screen`,
    noCount: (patch) => `the light of patch ${patch} ends on a screen and makes no fringes`,
  },
};
