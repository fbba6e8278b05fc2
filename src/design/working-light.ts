/**
 * The light and the glass that a design works with: the wavelength in the air around the part (mm), that air's index,
 * and the glass's index against it.
 */
import type { Finding } from '../finding/finding.ts';
import { airIndex } from '../optics/air.ts';
import { glassIndex, glassNamed } from '../optics/glass.ts';
import { NM_PER_MM } from '../quantity/conversion.ts';
import { trimmed } from '../quantity/format.ts';
import type { Scenario } from '../scenario/scenario.ts';
import type { DesignedGlass, DesignedLight } from './design.ts';

/** λ in air is λ in vacuum over the air's index (Ciddor 1996 where the scenario describes the air). */
export function workingLight(scenario: Scenario): DesignedLight {
  const { light } = scenario;
  if (light.given === 'air') return { wavelength: light.wavelength, airIndex: undefined };
  const index = airIndex(light.vacuumWavelength, light.air);
  return { wavelength: light.vacuumWavelength / index, airIndex: index };
}

/** The slab; a finding instead where the glass's formula does not reach the wavelength. */
export function workingGlass(scenario: Scenario, wavelength: number): DesignedGlass | Finding {
  const { thickness, material, patternFaces } = scenario.substrate;
  const side = patternFaces === 'part' ? 'before' : 'after';
  if (thickness === 0) return { name: 'none', index: 1, thickness, side };
  if ('index' in material)
    return { name: `index ${trimmed(material.index, 6)}`, index: material.index, thickness, side };
  const [least, most] = glassNamed(material.glass).range;
  if (wavelength < least || wavelength > most) {
    const [asked, from, to] = [wavelength, least, most].map((length) => trimmed(length * NM_PER_MM, 1));
    return {
      severity: 'error',
      rule: 'glass-range',
      where: 'substrate.glass',
      message: `the formula for ${material.glass} is valid from ${from} nm to ${to} nm, not at ${asked} nm`,
      hint: 'give the refractive index as `index:`',
      path: ['substrate', 'glass'],
    };
  }
  return { name: material.glass, index: glassIndex(material.glass, wavelength), thickness, side };
}
