/**
 * The interferometer itself, for a return ring: its light goes straight back at the pattern, Φ = −2E_in/(mλ), and shows how the
 * hologram lies to the interferometer. mm.
 */
import { distance, type Vec3 } from '../geometry/vector.ts';
import { reversedWave } from '../optics/reversed-wave.ts';
import { CUBE_KEYS, FIT_KEYS, type Kind, without } from './kind.ts';
import { chiefRayTo } from './point-aim.ts';
import type { ReferenceOf } from './reference.ts';

export const returnRingKind: Kind<ReferenceOf<'return', { readonly diameter: undefined }>> = {
  kind: 'return',
  inScenario: {
    foci: ['return'],
    place: 'none',
    without: without(
      'the light returns to the interferometer',
      ...(['at', 'frame', 'touches', 'diameter', ...CUBE_KEYS, ...FIT_KEYS, 'datum'] as const),
    ),
    tracked: true,
  },
  read: 'alignment',
  planning: {
    by: 'ring',
    instead:
      'give a value, or leave the patch out and write `patches: auto` at its reference for a whole ring',
  },
  aim(_reference, { centre }, { beam }) {
    const from: Vec3 = [centre[0], centre[1], 0];
    const target = beam.focus ?? from;
    return {
      target,
      distance: beam.focus === undefined ? Number.POSITIVE_INFINITY : distance(beam.focus, from),
      chiefRay: chiefRayTo(target, from),
      lineDirection: undefined,
      senses: [],
      passages: 1,
      leaving: reversedWave(beam.eikonal),
    };
  },
  leaving: (_reference, { beam }) => reversedWave(beam.eikonal),
  returned: () => undefined,
  fresnelNumber: () => undefined,
  words: {
    short: 'return',
    long: 'return to the interferometer',
    goes: () => 'straight back on itself',
    light: 'Light returned to the interferometer',
    noPlace: 'its light returns to the interferometer',
  },
};
