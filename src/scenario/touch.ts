/**
 * Where a ball stands that touches datums, and the directions in which those touches hold it. mm and radians; datums and
 * words in the part frame, results in the substrate frame.
 * A centre has three coordinates: each touch and each word is one condition on it (a vee, or a ball that just fills a
 * bore, two or more; see touch-condition.ts), and three independent ones fix it.
 */
import { portableCos, portableSin } from '../algebra/portable/math.ts';
import { directionToParent, type Frame, placeFromParent, placeToParent } from '../geometry/frame.ts';
import {
  add,
  cross,
  dot,
  length,
  negate,
  scale,
  squareTo,
  subtract,
  unit,
  type Vec3,
} from '../geometry/vector.ts';
import { allCentres, independent, leastMiss, type Region, rankOf, someCentre } from './centre-search.ts';
import type { Datum, Touch } from './datum.ts';
import { distanceFromAsphere } from './datum-sag.ts';
import {
  axisOf,
  azimuthDirection,
  type Demand,
  NO_RADIUS,
  touchDemand,
  veeGeometry,
  wordDemands,
} from './touch-condition.ts';
import { type Fault, faults } from './touch-fault.ts';

export type { Fault } from './touch-fault.ts';

/** A word over and above the three conditions chooses between several centres when it passes this near to one only (mm). */
const CHOICE = 0.01;
/** An azimuth met only on the far side of its axis misses by the radius; nearer than this (mm) the side has no meaning. */
const ON_SIDE = 1e-9;
/** A centre this near to an axis (mm) is on it: the ball touches all round. Ten times what the centre is good to. */
const SEATED = 1e-9;

/** The centre of the ball of a reference, or why it has none. Each condition is met to 1e-10 mm in the part frame. */
export function placeReference(
  touches: readonly Touch[],
  datums: readonly Datum[],
  ballDiameter: number,
  part: Frame,
): { readonly at: Vec3 } | Fault {
  const touched: Datum[] = [];
  for (const [k, touch] of touches.entries()) {
    const datum = datums.find(({ id }) => id === touch.datum);
    if (datum === undefined) return faults.unknown(touch.datum, datums, k);
    const fault = unusable(datum, ballDiameter, k);
    if (fault !== undefined) return fault;
    touched.push(datum);
  }
  if (touched.length === 0) return faults.nothingTouched();
  const centre = centreOf(touches, touched, ballDiameter);
  return 'code' in centre ? centre : { at: placeToParent(part, centre.at) };
}

/** One row for each direction a touch holds: out of the datum's material toward the ball. */
interface TouchNormal {
  readonly datum: string;
  /** Unit vector, substrate frame. */
  readonly normal: Vec3;
}

/**
 * The unit normals at the contacts of a ball whose centre is `at` (substrate frame), in the order of the touches.
 * A vee has two, one a flank. A ball seated all round gives as many as it is held in: three in a cone, two square ones in
 * a bore that it fills, three in a spherical seat that it fills.
 */
export function touchNormals(
  touches: readonly Touch[],
  datums: readonly Datum[],
  at: Vec3,
  part: Frame,
): readonly TouchNormal[] {
  const centre = placeFromParent(part, at);
  return touches.flatMap((touch) => {
    const datum = datums.find(({ id }) => id === touch.datum);
    if (datum === undefined)
      throw new RangeError(`no datum ${touch.datum} among ${datums.map(({ id }) => id).join(', ')}`);
    return normalsAt(datum, centre).map((normal) => ({
      datum: datum.id,
      normal: directionToParent(part, normal),
    }));
  });
}

function centreOf(
  touches: readonly Touch[],
  touched: readonly Datum[],
  ballDiameter: number,
): { at: Vec3 } | Fault {
  const region = regionOf(touched, touches, ballDiameter);
  const { taken, spare } = sorted(touches, touched, ballDiameter / 2, region);
  const conditions = taken.flatMap((demand) => demand.conditions);
  if (conditions.length < 3) {
    const centre = someCentre(conditions, region);
    if (centre === undefined)
      return faults.outOfReach(taken, leastMiss(conditions, region).miss, ballDiameter);
    if (spare.length > 0) return faults.tooMany(spare, [centre], false);
    return faults.free(
      touched,
      independent(conditions.map((condition) => condition.gradient(centre))),
      centre,
    );
  }
  const onPlanes = allCentres(conditions, region);
  if (onPlanes.length === 0)
    return faults.outOfReach(taken, leastMiss(conditions, region).miss, ballDiameter);
  const centres = onPlanes.filter((c) =>
    taken.every((demand) => demand.word !== 'azimuth' || demand.miss(c) <= ON_SIDE),
  );
  if (centres.length === 0) return faults.wrongSide(taken, touched, onPlanes);
  if (spare.length === 0)
    return centres.length === 1 ? { at: centres[0]! } : faults.several(touched, centres);
  const mayChoose = centres.length > 1 && spare.every((demand) => demand.word !== undefined);
  if (!mayChoose) return faults.tooMany(spare, centres, true);
  const chosen = centres.filter((c) => spare.every((demand) => demand.miss(c) <= CHOICE));
  if (chosen.length === 0) return faults.noChoice(spare, touched, centres);
  return chosen.length === 1 ? { at: chosen[0]! } : faults.several(touched, chosen);
}

/** Touches first, then words, each taken if it says something that those before it do not, up to three conditions. */
function sorted(touches: readonly Touch[], touched: readonly Datum[], r: number, region: Region) {
  const demands = [
    ...touched.map((datum, k) => touchDemand(datum, r, k)),
    ...touched.flatMap((datum, k) => wordDemands(datum, touches[k]!, k)),
  ];
  const [taken, spare]: [Demand[], Demand[]] = [[], []];
  for (const demand of demands) {
    const together = [...taken, demand].flatMap((each) => each.conditions);
    const isNew = together.length <= 3 && rankOf(together, region) === together.length;
    (isNew ? taken : spare).push(demand);
  }
  return { taken, spare };
}

function unusable(datum: Datum, ballDiameter: number, touch: number): Fault | undefined {
  if (!(ballDiameter > 0)) return faults.noBall(ballDiameter, touch);
  if ('axis' in datum) {
    if (!(length(datum.axis) > 0)) return faults.noDirection(datum, 'axis', touch);
  }
  if (datum.kind === 'plane' && !(length(datum.normal) > 0))
    return faults.noDirection(datum, 'normal', touch);
  if (datum.kind === 'vee' && !(length(cross(datum.normal, datum.axis)) > 0))
    return faults.noDirection(datum, 'normal perpendicular to its axis', touch);
  if ((datum.kind === 'cone' || datum.kind === 'vee') && !(datum.angle > 0 && datum.angle < Math.PI))
    return faults.noAngle(datum, datum.angle, touch);
  if ((datum.kind === 'cylinder' || datum.kind === 'sphere') && datum.side === 'inside')
    if (ballDiameter - datum.diameter > 2 * NO_RADIUS)
      return faults.tooLarge(datum, datum.diameter, ballDiameter, touch);
  // A ball as large as the groove would run on the circle itself, and touch all round the tube at once.
  if (datum.kind === 'torus' && datum.side === 'inside' && ballDiameter - datum.tube > -2 * NO_RADIUS)
    return faults.tooLarge(datum, datum.tube, ballDiameter, touch);
  return undefined;
}

/** About the middle of the datums' own points, as large as those points, radii and words reach. */
function regionOf(touched: readonly Datum[], touches: readonly Touch[], ballDiameter: number): Region {
  const places = touched.map((datum) => axisOf(datum).point);
  const middle = scale(places.reduce(add), 1 / places.length);
  const reaches = touched.map((datum, k) => {
    const { height = 0, x = middle[0], y = middle[1], z = middle[2] } = touches[k]!;
    const radius = 'diameter' in datum ? datum.diameter / 2 : 0;
    return (
      length(subtract(places[k]!, middle)) + radius + Math.abs(height) + length(subtract([x, y, z], middle))
    );
  });
  return { middle, size: Math.max(...reaches) + ballDiameter };
}

function normalsAt(datum: Datum, centre: Vec3): readonly Vec3[] {
  const { point, axis } = axisOf(datum);
  const away = subtract(centre, point);
  const radial = squareTo(away, axis);
  const outward = (v: Vec3, side: 'outside' | 'inside'): Vec3 =>
    side === 'outside' ? unit(v) : negate(unit(v));
  const [zero, quarter] = [azimuthDirection(axis, 0), azimuthDirection(axis, Math.PI / 2)];
  switch (datum.kind) {
    case 'plane':
      return [axis];
    case 'asphere':
      return [distanceFromAsphere(datum)(centre)?.normal ?? axis];
    case 'vee':
      return veeGeometry(datum).flanks;
    case 'point':
      return [unit(away)];
    case 'torus':
      return [outward(subtract(away, scale(unit(radial), datum.diameter / 2)), datum.side)];
    case 'sphere':
      return length(away) > SEATED ? [outward(away, datum.side)] : [zero, quarter, axis];
    case 'cylinder':
      return length(radial) > SEATED ? [outward(radial, datum.side)] : [zero, quarter];
    case 'cone': {
      const [cos, sin] = [portableCos(datum.angle / 2), portableSin(datum.angle / 2)];
      const inward = (direction: Vec3): Vec3 => subtract(scale(axis, sin), scale(direction, cos));
      if (datum.side === 'inside') {
        if (length(radial) > SEATED) return [inward(unit(radial))];
        return [0, 1, 2].map((third) => inward(azimuthDirection(axis, (third * 2 * Math.PI) / 3)));
      }
      const onFlank = dot(away, axis) * cos + length(radial) * sin >= 0;
      return [onFlank ? negate(inward(unit(radial))) : unit(away)];
    }
  }
}
