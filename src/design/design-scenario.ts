/**
 * Scenario → Design. What cannot be designed at all (a focus in the glass, a reference behind it, a glass past its formula)
 * comes back as findings, all of them; what can be designed but breaks a rule is the rules' matter.
 */
import type { Finding } from '../finding/finding.ts';
import { trimmed } from '../quantity/format.ts';
import type { Reference, Scenario } from '../scenario/scenario.ts';
import type { Design, DesignedGlass } from './design.ts';
import { designPatch } from './design-patch.ts';
import { incidentBeam } from './incident-beam.ts';
import { workingGlass, workingLight } from './working-light.ts';

export type DesignResult = { readonly design: Design } | { readonly findings: readonly Finding[] };

/** A target must lie this far beyond the pattern and its glass, mm, for a ray to reach it. */
const LEAST_BEYOND = 1e-3;

export function designScenario(scenario: Scenario): DesignResult {
  const light = workingLight(scenario);
  const findings: Finding[] = [];
  const glass = workingGlass(scenario, light.wavelength);
  if ('severity' in glass) return { findings: [glass] };
  const beam = incidentBeam(scenario, glass);
  if ('severity' in beam) findings.push(beam);
  scenario.references.forEach((reference, i) => {
    const fault = unreachable(reference, i, glass);
    if (fault !== undefined) findings.push(fault);
  });
  if ('severity' in beam || findings.length > 0) return { findings };
  const byId = new Map(scenario.references.map((reference) => [reference.id, reference]));
  const patches = scenario.patches.map((patch) => {
    const reference = byId.get(patch.reference);
    if (reference === undefined) throw new Error(`patch ${patch.id} names no reference of this scenario`);
    return designPatch(patch, reference, beam, glass, light.wavelength);
  });
  return { design: { scenario, light, glass, beam, references: scenario.references, patches } };
}

function unreachable(reference: Reference, index: number, glass: DesignedGlass): Finding | undefined {
  const least = glass.side === 'after' ? glass.thickness : 0;
  const z = reference.at[2];
  if (z >= least + LEAST_BEYOND) return undefined;
  return {
    severity: 'error',
    rule: 'target-behind',
    where: reference.id,
    message: `reference ${reference.id} stands at z = ${trimmed(z, 6)} mm, not beyond the substrate's last face at z = ${trimmed(least, 6)} mm`,
    hint: 'light runs along +z: give it a place with a larger z, or check `part.origin` and `part.rotation`',
    path: ['references', index],
  };
}
