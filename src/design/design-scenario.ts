/**
 * Scenario → Design. What cannot be designed at all (a focus in the glass, a reference behind it, a glass past its formula)
 * comes back as findings, all of them; what can be designed but breaks a rule is the rules' matter.
 */
import type { Finding } from '../finding/finding.ts';
import { contains } from '../geometry/contains.ts';
import { areaOf, boundsOf } from '../geometry/extent.ts';
import type { Vec2 } from '../geometry/vector.ts';
import { kindOf } from '../kinds/kinds.ts';
import { trimmed } from '../quantity/format.ts';
import type { Patch, Reference, Scenario } from '../scenario/scenario.ts';
import type { Design, DesignedPatch } from './design.ts';
import { designPatch } from './design-patch.ts';
import { incidentBeam } from './incident-beam.ts';
import { designMain } from './main-pattern.ts';
import { axisOnPattern, meetsFeature } from './normal-incidence.ts';
import { setupOf } from './setup.ts';
import { unreachableReferences } from './unreachable.ts';
import { workingGlass, workingLight } from './working-light.ts';

type DesignResult = { readonly design: Design } | { readonly findings: readonly Finding[] };

export function designScenario(scenario: Scenario): DesignResult {
  const light = workingLight(scenario);
  const findings: Finding[] = [];
  const glass = workingGlass(scenario, light.wavelength);
  if ('severity' in glass) return { findings: [glass] };
  const beam = incidentBeam(scenario, glass);
  const unreached = unreachableReferences(scenario, glass);
  findings.push(...unreached);
  if ('severity' in beam) {
    // Too thick a glass swallows the focus along with the references.
    const follows = unreached.find(({ where }) => where === 'substrate.thickness');
    findings.push(follows ? { ...beam, follows: { rule: follows.rule, where: follows.where } } : beam);
  }
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
    if (patch.normalIncidence === undefined) return;
    const axis = axisOnPattern(patch.normalIncidence.surface, glass);
    if (axis !== undefined && contains(patch.outline, axis)) findings.push(overAxis(patch, i, axis));
    else if (!meetsFeature(patch, glass)) findings.push(missesFeature(patch, i));
  });
  const main = designMain(scenario, beam, glass, light.wavelength);
  if (main !== undefined && 'severity' in main) return { findings: [...findings, main] };
  if (findings.length > 0) return { findings };
  const design = { scenario, light, glass, beam, references: scenario.references, patches };
  return { design: main === undefined ? design : { ...design, main } };
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

/** Its phase has a kink there, from which no polynomial and so no table of coefficients can be made. */
function overAxis({ id, reference }: DesignedPatch, index: number, at: Vec2): Finding {
  const place = `(${at.map((value) => trimmed(value, 3)).join(', ')}) mm`;
  return {
    severity: 'error',
    rule: 'bad-outline',
    where: id,
    message:
      `the axis of datum ${reference.datum} passes through patch ${id} at ${place}: the phase has a kink there, ` +
      'which no table of coefficients can describe',
    hint: `leave the axis out, e.g. by a ring around ${place}`,
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
