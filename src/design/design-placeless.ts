/**
 * Patches whose light goes to no point: a return ring, which sends it straight back (Φ = −2E_in/(mλ)), and an annular datum, whose
 * light meets a feature of the part square on and so comes back on itself. Substrate frame, mm.
 */
import { distance, scale, subtract, type Vec3 } from '../geometry/vector.ts';
import { ReversedWave } from '../optics/reversed-wave.ts';
import type { Patch, Reference, Scenario } from '../scenario/scenario.ts';
import type { DesignedBeam, DesignedGlass, DesignedPatch } from './design.ts';
import { biasOf } from './design-patch.ts';
import { PatternPhase } from './pattern-phase.ts';
import { squareWave, surfaceOf } from './square-on.ts';

/** A bias is met once on the way back from the pattern itself. */
export function designReturn(
  patch: Patch,
  reference: Reference,
  beam: DesignedBeam,
  scenario: Scenario,
  wavelength: number,
): DesignedPatch {
  const from: Vec3 = [patch.centre[0], patch.centre[1], 0];
  const { beam: given } = scenario.interferometer;
  const [target, away] =
    given.kind === 'collimated'
      ? [from, Number.POSITIVE_INFINITY]
      : [given.focus, distance(given.focus, from)];
  const bias = biasOf(patch, undefined, 1);
  const leaving = new ReversedWave(beam.eikonal);
  return {
    ...shared(patch, reference, target),
    distance: away,
    bias,
    phase: new PatternPhase(beam.eikonal, leaving, patch.order, wavelength, patch.centre, bias),
  };
}

export function designSquareOn(
  patch: Patch,
  reference: Reference,
  beam: DesignedBeam,
  glass: DesignedGlass,
  scenario: Scenario,
  wavelength: number,
): DesignedPatch {
  const datum = scenario.part.datums.find(({ id }) => id === reference.datum);
  if (datum === undefined) throw new Error(`reference ${reference.id} names no datum of this scenario`);
  const surface = surfaceOf(datum, scenario.part);
  const wave = squareWave(surface, glass);
  const bias = biasOf(patch, undefined);
  return {
    ...shared(patch, reference, reference.at),
    distance: distance(reference.at, [patch.centre[0], patch.centre[1], 0]),
    bias,
    phase: new PatternPhase(beam.eikonal, wave, patch.order, wavelength, patch.centre, bias),
    square: { surface, wave },
  };
}

function shared(patch: Patch, reference: Reference, target: Vec3) {
  const from: Vec3 = [patch.centre[0], patch.centre[1], 0];
  const away = distance(target, from);
  return {
    id: patch.id,
    asked: patch,
    reference,
    centre: patch.centre,
    outline: patch.outline,
    order: patch.order,
    target,
    chiefRay: away > 0 ? scale(subtract(target, from), 1 / away) : ([0, 0, 1] as const),
    lineDirection: undefined,
    senses: [],
  };
}
