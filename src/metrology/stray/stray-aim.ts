/**
 * Where a zone's orders go as a whole: enough to tell, without tracing, that an order passes clear of a reference. Lateral direction
 * cosines; the zone's are those of its middle, with a bound on how far those of its corners are from them.
 */
import type { Design } from '../../design/design.ts';
import type { Vec2 } from '../../geometry/vector.ts';
import {
  AROUND,
  CENTRE,
  LATTICE,
  nodeOf,
  SPREAD,
  type Target,
  targetAngle,
  type Zone,
} from './stray-cells.ts';

interface Aim {
  readonly incident: Vec2;
  readonly pattern: Vec2;
  /** Most that the corners' cosines differ from the middle's: of the beam, and for each order of the pattern. */
  readonly incidentSpread: number;
  readonly patternSpread: number;
  /** By target: the cosines that would hit its middle, and how far from them no ray of the zone can be that meets it. */
  readonly toward: Float64Array;
}

export function aimOf(design: Design, zone: Zone, targets: readonly Target[]): Aim {
  const middle = nodeOf(design, zone, CENTRE, CENTRE);
  let [incidentSpread, patternSpread, reach] = [0, 0, 0];
  for (const [right, up] of AROUND) {
    const corner = nodeOf(design, zone, right * LATTICE, up * LATTICE);
    incidentSpread = Math.max(incidentSpread, apart(corner.incident, middle.incident));
    patternSpread = Math.max(patternSpread, apart(corner.pattern, middle.pattern));
    reach = Math.max(reach, apart(corner.at, middle.at));
  }
  const toward = new Float64Array(3 * targets.length);
  targets.forEach((target, t) => {
    const { at } = target.reference;
    const [dx, dy, dz] = [at[0] - middle.at[0], at[1] - middle.at[1], at[2]];
    const way = Math.sqrt(dx * dx + dy * dy + dz * dz);
    // Seen from another point of the zone the target lies elsewhere by no more than reach over the nearest distance.
    const parallax = reach / Math.max(way - reach, Number.MIN_VALUE);
    toward.set([dx / way, dy / way, targetAngle(design, target) + SPREAD * parallax], 3 * t);
  });
  return { incident: middle.incident, pattern: middle.pattern, incidentSpread, patternSpread, toward };
}

/** Whether no ray of the order, all over the zone, can meet the target of this index. */
export function passesClear(aim: Aim, order: number, target: number): boolean {
  const dx = aim.incident[0] + order * aim.pattern[0] - aim.toward[3 * target]!;
  const dy = aim.incident[1] + order * aim.pattern[1] - aim.toward[3 * target + 1]!;
  const spread = aim.incidentSpread + Math.abs(order) * aim.patternSpread;
  return Math.sqrt(dx * dx + dy * dy) - SPREAD * spread > aim.toward[3 * target + 2]!;
}

const apart = (a: Vec2, b: Vec2): number => Math.sqrt((a[0] - b[0]) ** 2 + (a[1] - b[1]) ** 2);
