/**
 * Scenario → Design. What cannot be designed at all (a focus in the glass, a reference behind it, a glass past its formula)
 * comes back as findings, all of them; what can be designed but breaks a rule is the rules' matter.
 */
import type { Finding } from '../finding/finding.ts';
import { areaOf, boundsOf } from '../geometry/extent.ts';
import { kindOf } from '../kinds/kinds.ts';
import { trimmed } from '../quantity/format.ts';
import type { Patch, Reference, Scenario } from '../scenario/scenario.ts';
import type { Design, DesignedGlass, DesignedPatch } from './design.ts';
import { designPatch } from './design-patch.ts';
import { incidentBeam } from './incident-beam.ts';
import { meetsFeature } from './normal-incidence.ts';
import { setupOf } from './setup.ts';
import { workingGlass, workingLight } from './working-light.ts';

type DesignResult = { readonly design: Design } | { readonly findings: readonly Finding[] };

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
  const byId = new Map(scenario.references.map((reference) => [reference.id, reference]));
  const pairs = scenario.patches.map((patch, i) => {
    const reference = byId.get(patch.reference);
    if (reference === undefined) throw new Error(`patch ${patch.id} names no reference of this scenario`);
    const faults = [mismatched(patch, reference, i), sliver(patch, i)];
    findings.push(...faults.filter((fault) => fault !== undefined));
    return { patch, reference };
  });
  if ('severity' in beam || findings.length > 0) return { findings };
  const setup = setupOf(scenario, beam, glass);
  const patches = pairs.map(({ patch, reference }) => designPatch(patch, reference, setup, light.wavelength));
  patches.forEach((patch, i) => {
    if (patch.normalIncidence !== undefined && !meetsFeature(patch, glass))
      findings.push(missesFeature(patch, i));
  });
  if (findings.length > 0) return { findings };
  return { design: { scenario, light, glass, beam, references: scenario.references, patches } };
}

/** A focus that its kind of reference has no use for. */
function mismatched(patch: Patch, { id, kind }: Reference, index: number): Finding | undefined {
  const { foci } = kindOf({ kind }).inScenario;
  if (foci.includes(patch.focus)) return undefined;
  return {
    severity: 'error',
    rule: 'conflicting-keys',
    where: patch.id,
    message: `patch ${patch.id} has \`focus: ${patch.focus}\`, but its reference ${id} is of kind ${kind}`,
    hint: `write ${foci.map((focus) => `\`focus: ${focus}\``).join(' or ')}`,
    path: ['patches', index, 'focus'],
  };
}

/** Its own diameter squared over its area: 2 for a square, the ratio of the sides for a long rectangle. */
const MOST_SLENDER = 1000;

/** A patch of next to no area for its length: no sampling of the plane finds the inside of it. */
function sliver({ id, outline }: Patch, index: number): Finding | undefined {
  const { minX, minY, maxX, maxY } = boundsOf(outline);
  const [across, up] = [maxX - minX, maxY - minY];
  if (areaOf(outline) * MOST_SLENDER >= across * across + up * up) return undefined;
  return {
    severity: 'error',
    rule: 'bad-outline',
    where: id,
    message: `patch ${id} is too narrow: its area is less than 1/${MOST_SLENDER} of its diameter squared`,
    hint: 'make it wider, or shorter',
    path: ['patches', index, 'outline'],
  };
}

function missesFeature(patch: DesignedPatch, index: number): Finding {
  return {
    severity: 'error',
    rule: 'target-behind',
    where: patch.id,
    message: `the light of patch ${patch.id} does not meet datum ${patch.reference.datum} at normal incidence over its whole outline, in front of the substrate`,
    hint: 'check the feature’s position, axis or normal and `side`, and the patch’s size',
    path: ['patches', index, 'id'],
  };
}

function unreachable(reference: Reference, index: number, glass: DesignedGlass): Finding | undefined {
  if (kindOf(reference).inScenario.place !== 'given') return undefined;
  const least = glass.side === 'after' ? glass.thickness : 0;
  const z = reference.at[2];
  if (z >= least + LEAST_BEYOND) return undefined;
  return {
    severity: 'error',
    rule: 'target-behind',
    where: reference.id,
    message: `reference ${reference.id} is at z = ${trimmed(z, 6)} mm, not beyond the substrate's last face at z = ${trimmed(least, 6)} mm`,
    hint: 'light travels along +z: give the reference a larger z, or check `part.origin` and `part.rotation`',
    path: ['references', index],
  };
}
