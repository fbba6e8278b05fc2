/** Where a move or a turn goes, in words for the bench: by the clock as the camera shows it, and along or about axes. */
import { directionToParent } from '../../geometry/frame.ts';
import type { Vec3 } from '../../geometry/vector.ts';
import { UM_PER_MM, URAD_PER_RAD } from '../../quantity/conversion.ts';
import type { CameraOrientation } from '../../scenario/camera-orientation.ts';
import type { Scenario } from '../../scenario/scenario.ts';
import { clockDirection, turnsClockwise } from './clock.ts';
import { axisWords, places, significant } from './figures.ts';

/** A lateral component smaller than this says little about where a move goes. */
const MOSTLY_AXIAL = 0.2;

/** Of a reference's move: `toward 3 o’clock, along (1, 0, 0)`; a unit vector in the substrate frame. */
export function lateralWords(along: Vec3, orientation: CameraOrientation): string {
  const [x, y, z] = along;
  const direction = places(along);
  const inPlane = Math.hypot(x, y);
  if (inPlane < MOSTLY_AXIAL) return `${z > 0 ? 'away from' : 'toward'} the hologram, along ${direction}`;
  return `toward ${clockDirection([x, y], orientation)}, along ${direction}`;
}

interface BodyMove {
  readonly of: 'hologram' | 'part';
  readonly kind: 'turn' | 'shift';
  /** Along which it goes or about which it turns: of the hologram in the substrate frame, of the part in its own. Of any length. */
  readonly along: Vec3;
}

/** `moving the part toward 3 o’clock, along x of the part frame`; `turning the hologram with its edge at …`. */
export function bodyMoveWords(
  { part }: Pick<Scenario, 'part'>,
  { of, kind, along }: BodyMove,
  orientation: CameraOrientation,
): string {
  const own = of === 'hologram' ? 'substrate' : 'part';
  const axis = axisWords(along);
  const [x, y, z] = of === 'hologram' ? along : directionToParent(part.frame, along);
  const isAxial = Math.hypot(x, y) < MOSTLY_AXIAL * Math.hypot(x, y, z);
  if (kind === 'turn' && isAxial) {
    const way = turnsClockwise([1, 0], [0, Math.sign(z)], orientation) ? 'clockwise' : 'counterclockwise';
    return `turning the ${of} ${way} in the picture, about ${axis} of the ${own} frame`;
  }
  if (kind === 'turn') {
    const from = of === 'hologram' ? 'the interferometer' : 'the hologram';
    // The edge at (−θy, θx) goes to +z.
    return `turning the ${of} with its edge at ${clockDirection([-y, x], orientation)} away from ${from}, about ${axis} of the ${own} frame`;
  }
  if (isAxial)
    return `moving the ${of} ${z > 0 ? 'away from' : 'toward'} the ${of === 'part' ? 'hologram' : 'interferometer'}, along ${axis} of the ${own} frame`;
  return `moving the ${of} toward ${clockDirection([x, y], orientation)}, along ${axis} of the ${own} frame`;
}

/** `2.24 µrad` of radians, or `1.12 µm` of mm. */
export const amountWords = (kind: BodyMove['kind'], size: number): string =>
  kind === 'turn' ? `${significant(size * URAD_PER_RAD)} µrad` : `${significant(size * UM_PER_MM)} µm`;
