/**
 * Rule retro-turned: a retroreflector faces each of its patches within its acceptance, and no edge of its cube lies along a
 * patch's line. A cube whose orientation the scenario does not give is taken to face the mean of its patches, at the best roll.
 */
import type { Design, DesignedPatch } from '../design/design.ts';
import { dot } from '../geometry/vector.ts';
import { ACCEPTANCE, angleToNearestEdge, cubeOf } from '../metrology/sensing/retroreflector.ts';
import type { CornerCube } from '../optics/corner-cube.ts';
import { trimmed } from '../quantity/format.ts';
import type { Found } from './rule.ts';
import { rule } from './rule.ts';

/**
 * Least angle between a line and an edge, radians: at 5° an edge that loses 0.2 mm takes 2.3 mm of the line, a quarter of a
 * 10 mm patch; nearer, and most of the line is gone.
 */
export const LEAST_EDGE_ANGLE = (5 * Math.PI) / 180;
/** Radians of rounding that a patch at the very limit is allowed. */
const ROUNDING = 1e-9;

export const retroTurned = rule(
  {
    code: 'retro-turned',
    severity: 'error',
    scope: 'design',
    meaning:
      'A retroreflector faces away from its patch by more than its acceptance, or an edge of its cube lies along the line focus.',
    limit: '`acceptance` of the reference; 5° between line and edge',
    remedy: 'Turn the retroreflector toward the patch, or rotate the line.',
    planning: { by: 'moving' },
  },
  (design) => {
    const cubes = new Map(
      [...new Set(design.patches.map(({ reference }) => reference))]
        .filter(({ cube }) => cube !== undefined)
        .map((reference) => [reference, cubeOf(design, reference)]),
    );
    return design.patches.flatMap((patch, i) => {
      const cube = cubes.get(patch.reference);
      return cube === undefined ? [] : judge(design, patch, cube, i);
    });
  },
);

function judge(design: Design, patch: DesignedPatch, cube: CornerCube, index: number): Found[] {
  const { id, reference } = patch;
  const common = {
    where: id,
    unit: 'deg',
    path: ['patches', index, 'id'],
  } as const;
  const findings: Found[] = [];
  const tilt = Math.acos(Math.min(1, Math.max(-1, -dot(cube.axis, patch.chiefRay))));
  const given = reference.cube;
  const acceptance = given?.acceptance ?? ACCEPTANCE;
  if (tilt > acceptance + ROUNDING) {
    const patches = design.patches.filter((other) => other.reference.id === reference.id).length;
    const stands =
      given?.axis === undefined && patches > 1 ? `, facing the mean of its ${patches} patches,` : '';
    findings.push({
      ...common,
      message:
        `retroreflector ${reference.id}${stands} faces ${degrees(tilt)}° away from patch ${id}; ` +
        `it accepts light within ${degrees(acceptance)}°`,
      hint: 'turn the retroreflector toward the patch, or move its patches closer together',
      value: inDegrees(tilt),
      limit: inDegrees(acceptance),
    });
  }
  const edge = angleToNearestEdge(cube, patch);
  if (edge < LEAST_EDGE_ANGLE - ROUNDING) {
    findings.push({
      ...common,
      message:
        `an edge of the cube in ${reference.id} lies ${degrees(edge)}° from the line of patch ${id}, ` +
        `where the light is lost; the minimum is ${degrees(LEAST_EDGE_ANGLE)}°`,
      hint:
        given?.roll === undefined
          ? 'no roll suits every line on this retroreflector: rotate this line'
          : 'roll the retroreflector about its axis, or rotate the line',
      value: inDegrees(edge),
      limit: inDegrees(LEAST_EDGE_ANGLE),
    });
  }
  return findings;
}

const inDegrees = (angle: number): number => (angle * 180) / Math.PI;
const degrees = (angle: number): string => trimmed(inDegrees(angle), 2);
