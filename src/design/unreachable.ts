/**
 * References that no light reaches: in the substrate, or behind it. Where one value of the scenario, read otherwise, would free all of
 * them, that is named first and they are marked as following from it. mm; light travels along +z.
 */
import type { Finding } from '../finding/finding.ts';
import { kindOf } from '../kinds/kinds.ts';
import { trimmed } from '../quantity/format.ts';
import type { Reference, Scenario } from '../scenario/scenario.ts';
import type { DesignedGlass } from './design.ts';
import { facesOf } from './incident-beam.ts';

/** A target must lie this far beyond the pattern and its glass, mm, for a ray to reach it. */
const LEAST_BEYOND = 1e-3;
/** A number of mm given in metres, or in inches. */
const THINNER = [1e-3, 1 / 25.4];

export function unreachableReferences(scenario: Scenario, glass: DesignedGlass): readonly Finding[] {
  const found = scenario.references.flatMap((reference, i) => {
    if (kindOf(reference).inScenario.place !== 'given') return [];
    const fault = faultOf(reference, i, glass);
    return fault === undefined ? [] : [{ reference, fault }];
  });
  const faults = found.map(({ fault }) => fault);
  const cause =
    found.length < 2
      ? undefined
      : causeOf(
          scenario,
          glass,
          found.map(({ reference }) => reference),
        );
  if (cause === undefined) return faults;
  const follows = { rule: cause.rule, where: cause.where };
  return [cause, ...faults.map((fault) => ({ ...fault, follows }))];
}

function faultOf({ id, at }: Reference, index: number, glass: DesignedGlass): Finding | undefined {
  const z = at[2];
  const [first, last] = facesOf(glass);
  if (z >= last + LEAST_BEYOND) return undefined;
  const common = { severity: 'error', where: id, path: ['references', index] } as const;
  const place = `reference ${id} is at z = ${trimmed(z, 6)} mm`;
  if (last > first && z >= first)
    return {
      ...common,
      rule: 'focus-in-glass',
      message: `${place}, inside the substrate (z = ${trimmed(first, 6)} mm to ${trimmed(last, 6)} mm) or on its surface`,
      hint: 'give the reference a z beyond the substrate, or check `thickness` and its unit',
    };
  return {
    ...common,
    rule: 'target-behind',
    message: `${place}, not beyond the substrate's last face at z = ${trimmed(last, 6)} mm`,
    hint: 'light travels along +z: give the reference a larger z, or check `part.origin` and `part.rotation`',
  };
}

function causeOf(
  { part, substrate }: Scenario,
  glass: DesignedGlass,
  references: readonly Reference[],
): Finding | undefined {
  const note = (path: readonly string[], is: string, instead: string): Finding => ({
    severity: 'note',
    rule: 'one-cause',
    where: path.join('.'),
    message:
      `one value may explain why light reaches none of ${references.length} references: \`${path.join('.')}\` is ${is}; ` +
      `with ${instead} it would reach them all`,
    hint: 'check this value first: its sign, its unit and its frame',
    path,
  });
  const freed = (z: (reference: Reference) => number, thickness: number): boolean => {
    const [, last] = facesOf({ ...glass, thickness });
    return references.every((reference) => z(reference) >= last + LEAST_BEYOND);
  };
  const thinner = THINNER.find((factor) => freed(({ at }) => at[2], factor * glass.thickness));
  if (thinner !== undefined && glass.side === 'after') {
    const thickness = `${trimmed(thinner * substrate.thickness, 4)} mm`;
    return note(['substrate', 'thickness'], `${trimmed(substrate.thickness, 4)} mm`, thickness);
  }
  if (references.some(({ given }) => given === 'substrate')) return undefined;
  const z = part.frame.origin[2];
  const at = `at z = ${trimmed(z, 4)} mm`;
  if (freed((reference) => reference.at[2] - 2 * z, glass.thickness))
    return note(['part', 'origin'], at, `z = ${trimmed(-z, 4)} mm`);
  const lowest = Math.min(...references.map((reference) => reference.at[2]));
  const [, last] = facesOf(glass);
  const beyond = Math.ceil(z + last - lowest) + 1;
  return note(['part', 'origin'], at, `z = ${trimmed(beyond, 4)} mm or more`);
}
