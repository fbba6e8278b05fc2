/**
 * A datum feature of the part: light meets it at normal incidence all round, comes back on itself, and shows how the part stands.
 * mm; the feature as a surface in the substrate frame.
 */
import { distance, negate, type Vec3 } from '../geometry/vector.ts';
import { conicalWave, ringFocusWave } from '../optics/air-wave.ts';
import { type DatumSurface, radiusAt } from '../optics/datum-surface.ts';
import { LEAST_FRESNEL_NUMBER } from '../optics/diffraction-blur.ts';
import type { Eikonal } from '../optics/eikonal.ts';
import { mirrorFresnelNumber } from '../optics/fresnel-number.ts';
import { layeredWave } from '../optics/layered-wave.ts';
import { normalWave } from '../optics/normal-wave.ts';
import { NormalsOf } from '../optics/null-wave.ts';
import { planeWave } from '../optics/plane-wave.ts';
import { CUBE_KEYS, FIT_KEYS, type Kind, type Setup, without } from './kind.ts';
import { chiefRayTo, thicknessAfter, waveToward } from './point-aim.ts';
import type { ReferenceOf } from './reference.ts';

type DatumFeature = ReferenceOf<'datum', { readonly diameter: undefined; readonly datum: string }>;

/** A surface of the part that is read as a whole, by motions of the part about `at`. */
export const featureOf = (
  id: string,
  datum: string,
  at: Vec3,
): DatumFeature & { readonly touches: readonly never[] } => ({
  ...{ id, datum, at, diameter: undefined, touches: [] },
  ...({ kind: 'datum', given: 'feature', movesWith: 'part' } as const),
});

export const datumFeatureKind: Kind<DatumFeature> = {
  kind: 'datum',
  inScenario: {
    foci: ['normal'],
    place: 'feature',
    without: without(
      'its position comes from the datum',
      ...(['at', 'frame', 'touches', 'diameter', ...CUBE_KEYS, ...FIT_KEYS] as const),
    ),
    tracked: true,
  },
  read: 'modes',
  planning: {
    by: 'nobody',
    instead:
      'state where the light meets the feature, e.g. `centre: [0, 0]` and `outline: {ring: {inner: 120, outer: 126}}`',
    why: '`plan` places no patch of a datum feature: the scenario does not state the extent of the feature',
    ratherFor: (id) =>
      `leave \`patches\` out and add the patch where its light meets the feature, e.g. \`{id: ${id}-1, reference: ${id}, focus: normal, centre: [0, 0], outline: {ring: {inner: 120, outer: 126}}}\``,
  },
  aim({ at, datum }, { centre }, setup) {
    const surface = setup.surfaceOf(datum);
    return {
      target: at,
      distance: distance(at, [centre[0], centre[1], 0]),
      chiefRay: chiefRayTo(at, [centre[0], centre[1], 0]),
      lineDirection: undefined,
      senses: [],
      passages: 2,
      leaving: squareOn(surface, setup.glass),
      surface,
    };
  },
  leaving: ({ datum }, setup) => squareOn(setup.surfaceOf(datum), setup.glass),
  returned: (_reference, { surface }) => (surface === undefined ? undefined : { kind: 'surface', surface }),
  fresnelNumber: (_reference, { wavelength, narrowest, feature }) => {
    const met = feature();
    if (met === undefined) return undefined;
    return {
      number: mirrorFresnelNumber(narrowest() / 2, wavelength, met.length, radiusAt(met.surface, met.at)),
      direction: undefined,
      // A mirror's round trip is a ball's.
      least: LEAST_FRESNEL_NUMBER.ball,
    };
  },
  words: {
    short: 'datum',
    long: 'datum feature of the part',
    goes: () => 'at normal incidence onto a surface of the part',
    light: 'Light at normal incidence all around the feature',
    noPlace: 'normal incidence on the feature',
    returned: {
      missed: 'the feature',
      weak: () => 'reduce the bias, or make the patch wider',
      blurred: () => 'increase the ring’s width, or move the hologram closer to the part',
    },
  },
};

/**
 * E_out of the wave whose rays meet the surface at normal incidence:
 *   sphere  toward its centre, or away from it where that lies behind the substrate   plane  against its normal
 *   cone    the conical wave along its inward (outside) or outward (inside) normals   torus  toward its circle, or away from it
 *   sag     its normals, traced
 */
function squareOn(surface: DatumSurface, glass: Setup['glass']): Eikonal {
  const thickness = thicknessAfter(glass);
  switch (surface.shape) {
    case 'plane':
      return planeWave(negate(surface.normal));
    case 'sphere':
      return waveToward(surface.point, glass);
    case 'cone':
      return layeredWave(
        conicalWave(surface.point, surface.axis, surface.halfAngle, surface.side),
        thickness,
        glass.index,
      );
    case 'torus':
      return layeredWave(
        ringFocusWave(surface.point, surface.axis, surface.radius, surface.point[2] >= thickness ? 1 : -1),
        thickness,
        glass.index,
      );
    case 'sag': {
      const frame = { origin: surface.point, rotation: surface.rotation };
      const normals = new NormalsOf({ sag: surface.sag, frame }, { thickness, index: glass.index });
      return normalWave(normals, surface.near);
    }
  }
}
