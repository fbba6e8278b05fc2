/**
 * The hologram out of line with the interferometer's beam: what that does to the projected references, what it does to the
 * test wavefront, and the difference of the two, which is all that matters to the part. mm and radians.
 *
 * A beam whose focus is off by f changes E_in by −∇E_in·f laterally and by −f_z cos θ along z. To first order a lateral
 * offset tilts every wave alike: test wavefront and references turn about the beam's centre on the pattern as one body. That
 * turn is the common part; a part that follows it shows a null again and stands where the references say. Where the scenario names no
 * surface under test, its null is taken to follow the beam as a rigid body: by that turn, and along z with the focus.
 *
 * A return ring reads the hologram's place against the beam, and so does a plate's own reflection in a collimated beam. Without either
 * it is known as well as it was `placed`: a turn of the hologram displaces the focus of a beam, as it sees it, by |F_z| times the turn.
 */
import type { Design } from '../../design/design.ts';
import { boundsOf } from '../../geometry/extent.ts';
import { rotateBack } from '../../geometry/frame.ts';
import { boundaryPoints } from '../../geometry/sampling.ts';
import { cross, type Vec2, type Vec3 } from '../../geometry/vector.ts';
import { isReadBy } from '../../kinds/kinds.ts';
import { gradientAt } from '../../optics/eikonal.ts';
import type { WaveChange } from '../sensing/apparent-move.ts';
import type { ErrorModel, ErrorSource } from './error-source.ts';
import type { Practice } from './practice.ts';
import type { Reading } from './readings.ts';
import { type WaveError, waveError } from './wave-error.ts';

/** One way in which the hologram may be out of line, for one unit of it. */
interface Misalignment extends WaveError {
  readonly name: 'x' | 'y' | 'z';
  /** Standard uncertainty left by the return ring's reading: mm of the focus, or radians of a collimated beam. */
  readonly u: number;
}

interface BeamChange {
  readonly name: Misalignment['name'];
  /** Of E_in at a place of the pattern, mm for one unit. */
  readonly change: WaveChange;
}

/** What a beam out of line changes of the wave on the pattern: one with a focus is displaced, its slope with it; a collimated one tilts. */
function beamChanges({ beam, scenario }: Design): readonly BeamChange[] {
  if (scenario.interferometer.beam.kind === 'collimated')
    return [
      { name: 'x', change: (x) => x },
      { name: 'y', change: (_x, y) => y },
    ];
  const slopeAt = (x: number, y: number): Vec2 => gradientAt(beam.eikonal, x, y);
  return [
    { name: 'x', change: (x, y) => -slopeAt(x, y)[0] },
    { name: 'y', change: (x, y) => -slopeAt(x, y)[1] },
    {
      name: 'z',
      change: (x, y) => {
        const [gx, gy] = slopeAt(x, y);
        return -Math.sqrt(1 - gx * gx - gy * gy);
      },
    },
  ];
}

/** The zone whose tilt stands for that of the test wavefront: it halves the lit area. */
const TEST_ZONE = Math.SQRT1_2;

export function misalignments(
  design: Design,
  readings: readonly Reading[],
  practice: Practice,
  across: number = alignedOver(design),
): readonly Misalignment[] {
  const { centre, cameraDiameter } = design.beam;
  const reading = practice.alignmentReading ?? design.scenario.interferometer.readable;
  const { wavelength } = design.light;
  const radius = cameraDiameter / 2;
  const [alongX, alongY, alongZ] = beamChanges(design);

  const lateral = [alongX!, alongY!].map(({ change }, axis): Misalignment => {
    const tilts = tiltOf(design, change);
    // The return ring shows the tilt twice: N = 2 · tilt · width/λ.
    const tilt = Math.hypot(...tilts);
    return {
      name: axis === 0 ? 'x' : 'y',
      u: (reading * wavelength) / (2 * tilt * across),
      ...waveError(design, readings, change, beamTurn(design, tilts)),
    };
  });
  if (alongZ === undefined) return lateral;

  const cosine = (x: number, y: number): number => -alongZ.change(x, y);
  const bend =
    bendOver(design, cosine) ?? Math.abs(cosine(centre[0] + radius, centre[1]) - cosine(...centre));
  const axial: Misalignment = {
    name: 'z',
    // Power on the return ring: N = 2 f_z (1 − cos θ)/λ at the edge.
    u: (reading * wavelength) / (2 * bend),
    ...waveError(design, readings, alongZ.change, [
      ...rotateBack(design.scenario.part.frame.rotation, [0, 0, 1]),
      ...[0, 0, 0],
    ]),
  };
  return [...lateral, axial];
}

/** Tilt of a change of a wave about the beam's centre, taken over the zone that stands for the test wavefront. */
function tiltOf({ beam: { centre, cameraDiameter } }: Design, change: WaveChange): readonly [number, number] {
  const [cx, cy] = centre;
  const run = (TEST_ZONE * cameraDiameter) / 2;
  return [
    (change(cx + run, cy) - change(cx - run, cy)) / (2 * run),
    (change(cx, cy + run) - change(cx, cy - run)) / (2 * run),
  ];
}

/** The motion of a part that turns with a test wavefront so tilted, about the beam's centre on the pattern: part frame, mm and rad. */
export function beamTurn(
  { beam: { centre }, scenario: { part } }: Design,
  [tiltX, tiltY]: readonly [number, number],
): readonly number[] {
  const { origin, rotation } = part.frame;
  const turn: Vec3 = [-tiltY, tiltX, 0];
  const move = cross(turn, [origin[0] - centre[0], origin[1] - centre[1], origin[2]]);
  return [...rotateBack(rotation, move), ...rotateBack(rotation, turn)];
}

/** Whether anything reads the hologram's place against the beam: a return ring, or a plate's reflection of collimated light. */
export const isAligned = (design: Design): boolean =>
  returnRings(design).length > 0 || nullsOnReflection(design);

/** Whether the beam meets the plate at normal incidence everywhere, so that its own reflection can be nulled. */
export function nullsOnReflection({ scenario: { interferometer } }: Design): boolean {
  const { beam } = interferometer;
  return beam.kind === 'collimated' && Math.hypot(beam.direction[0], beam.direction[1]) < NORMAL;
}

/** Radians: a fringe of tilt over half a metre. */
const NORMAL = 1e-6;

/** Standard uncertainties of the beam as the hologram sees it, by where the hologram was placed: of its focus, mm, or of its tilt, rad. */
function placedBeam(
  { scenario: { interferometer } }: Design,
  practice: Practice,
): Readonly<Record<'x' | 'y' | 'z', number>> {
  const { beam } = interferometer;
  const { x, y, z, rx, ry } = { ...practice.placed, ...interferometer.placed };
  if (beam.kind === 'collimated') return { x: ry, y: rx, z: 0 };
  return { x: Math.hypot(x, beam.focus[2] * ry), y: Math.hypot(y, beam.focus[2] * rx), z };
}

/** The width over which the alignment is read, mm: the widest return ring's, or that of the beam where there is none. */
function alignedOver(design: Design): number {
  const widths = returnRings(design).map(({ outline }) => {
    const { minX, maxX, minY, maxY } = boundsOf(outline);
    return Math.min(maxX - minX, maxY - minY);
  });
  return widths.length === 0 ? design.beam.cameraDiameter : Math.max(...widths);
}

/** How much cos θ changes over the return ring that bends most; undefined where there is none. */
function bendOver(design: Design, cosine: (x: number, y: number) => number): number | undefined {
  const bends = returnRings(design).map(({ outline }) => {
    const { xs, ys } = boundaryPoints(outline, EDGE_POINTS);
    const cosines = Array.from(xs, (x, i) => cosine(x, ys[i]!));
    return Math.max(...cosines) - Math.min(...cosines);
  });
  return bends.length === 0 ? undefined : Math.max(...bends);
}

const returnRings = (design: Design) =>
  design.patches.filter(({ reference }) => isReadBy(reference, 'alignment'));
const EDGE_POINTS = 24;

/** The differences as errors of a budget: what is read and how the hologram was placed, each counting by its weight. */
export const hologramAlignment: ErrorModel = (design, readings, practice) => {
  const placed = placedBeam(design, practice);
  const read = isAligned(design);
  return misalignments(design, readings, practice).map(({ name, u, ...error }): ErrorSource => {
    return {
      term: 'hologram alignment',
      name: `beam ${name}`,
      u: read ? both(u, placed[name]) : placed[name],
      distribution: 'normal',
      ...error,
    };
  });
};

/** Standard uncertainty of the weighted mean of two findings. */
const both = (one: number, other: number): number =>
  one === 0 || other === 0 ? 0 : 1 / Math.hypot(1 / one, 1 / other);
