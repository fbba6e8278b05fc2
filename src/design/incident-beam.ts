/**
 * The interferometer's beam at the pattern: its eikonal through whatever glass comes before, and the circle it lights.
 *
 * A marginal ray leaves the focus at tan θ = 1/(2·fNumber), so without glass the lit radius is |F_z|/(2·fNumber);
 * in the slab it runs at sin θ/√(n² − sin² θ) instead.
 */
import type { Finding } from '../finding/finding.ts';
import { boundsOf } from '../geometry/extent.ts';
import type { Vec2 } from '../geometry/vector.ts';
import { planeWave } from '../optics/plane-wave.ts';
import { sphericalWave } from '../optics/spherical-wave.ts';
import { trimmed } from '../quantity/format.ts';
import type { Scenario } from '../scenario/scenario.ts';
import type { DesignedBeam, DesignedGlass } from './design.ts';

/** The beam's focus must clear the glass by this much, mm, for its cone to have a direction at every point of it. */
const LEAST_CLEAR_OF_GLASS = 1e-3;

export function incidentBeam(scenario: Scenario, glass: DesignedGlass): DesignedBeam | Finding {
  const { beam, beamDiameter } = scenario.interferometer;
  if (beam.kind === 'collimated') {
    const radius = beamDiameter === undefined ? undefined : beamDiameter / 2;
    return lit(scenario, planeWave(beam.direction), [0, 0], radius);
  }
  const [x, y, z] = beam.focus;
  const thickness = glass.side === 'before' ? glass.thickness : 0;
  const height = -z - thickness;
  // The substrate, on either side of its pattern: a diverging beam comes from before it, a converging one ends beyond it.
  const [first, last] = facesOf(glass);
  if (z < 0 ? first - z < LEAST_CLEAR_OF_GLASS : z - last < LEAST_CLEAR_OF_GLASS) {
    return {
      severity: 'error',
      rule: 'focus-in-glass',
      where: 'interferometer.focus',
      message: `the beam's focus at z = ${trimmed(z, 6)} mm is inside the substrate (z = ${trimmed(first, 6)} mm to ${trimmed(last, 6)} mm) or on its surface`,
      hint: 'give z < 0 for a diverging beam and z > 0 for a converging one, clear of the glass; check `thickness` and its unit',
      path: ['interferometer', 'focus'],
    };
  }
  const wave = sphericalWave([x, y], height, 1, thickness, glass.index);
  return lit(
    scenario,
    wave,
    [x, y],
    marginalRadius(scenario.interferometer.fNumber, height, thickness, glass.index),
  );
}

/** Where the substrate begins and ends along z, mm; its pattern is at 0. */
export const facesOf = ({ side, thickness }: DesignedGlass): readonly [number, number] =>
  side === 'before' ? [-thickness, 0] : [0, thickness];

/** Lateral distance of the marginal ray from the axis at the pattern, mm. */
function marginalRadius(
  fNumber: number | undefined,
  height: number,
  thickness: number,
  index: number,
): number | undefined {
  if (fNumber === undefined) return undefined;
  const tangent = 1 / (2 * fNumber);
  const sine = tangent / Math.sqrt(1 + tangent * tangent);
  return Math.abs(height * tangent + (thickness * sine) / Math.sqrt(index * index - sine * sine));
}

function lit(
  scenario: Scenario,
  eikonal: DesignedBeam['eikonal'],
  centre: Vec2,
  radius: number | undefined,
): DesignedBeam {
  if (radius !== undefined) return { eikonal, centre, radius, cameraDiameter: 2 * radius };
  const { minX, maxX, minY, maxY } = boundsOf(scenario.substrate.outline);
  return { eikonal, centre, radius, cameraDiameter: Math.max(maxX - minX, maxY - minY) };
}
