/** What stands around the references of a scenario, as their kinds ask for it. */

import type { Setup } from '../kinds/kind.ts';
import { kindOf } from '../kinds/kinds.ts';
import type { Eikonal } from '../optics/eikonal.ts';
import type { Reference, Scenario } from '../scenario/scenario.ts';
import type { Design, DesignedBeam, DesignedGlass } from './design.ts';
import { surfaceOf } from './normal-incidence.ts';

export function setupOf(
  { interferometer, part, test }: Scenario,
  beam: DesignedBeam,
  glass: DesignedGlass,
): Setup {
  const given = interferometer.beam;
  return {
    beam: { eikonal: beam.eikonal, focus: given.kind === 'collimated' ? undefined : given.focus },
    glass,
    surfaceOf: (datum) => {
      const feature = part.datums.find(({ id }) => id === datum);
      if (feature === undefined) throw new Error(`the scenario has no datum ${datum}`);
      return surfaceOf(feature, part, test);
    },
  };
}

/** The wave E_out that a pattern sends out for a reference, whichever patch it is. mm. */
export const leavingWave = (reference: Reference, { scenario, beam, glass }: Design): Eikonal =>
  kindOf(reference).leaving(reference, setupOf(scenario, beam, glass));
