/**
 * Readings given as they are seen, fringes and an hour on the clock in the camera's picture toward which the path of the return falls, to
 * counts along the patch's senses, as the rest of steering takes them. Fringes, hours; substrate frame.
 *
 * The path falls by the count over the patch's width along the direction seen. A displacement along a sense ê makes it fall along ê as ê
 * lies in the pattern plane: of a point focus the two senses' falls, which need not lie square to one another there, add up to what is seen. On a ring a fall
 * along the way seen is counted along x and along y by what of it runs there; so is one over the footprint of the null.
 */
import type { Design } from '../../design/design.ts';
import { runAlong } from '../../design/design-patch.ts';
import { errorFinding, type Finding } from '../../finding/finding.ts';
import type { Vec2, Vec3 } from '../../geometry/vector.ts';
import type { BenchReading, NullValue } from '../../scenario/bench-reading.ts';
import { type CameraOrientation, fromPicture } from '../../scenario/camera-orientation.ts';
import { isRing } from '../rings/ring-trace.ts';
import { rulerOf } from '../sensing/ring-count.ts';
import { sensesOf } from '../sensing/sensitivity.ts';
import { fringesAtPlace } from '../sensing/traced-readings.ts';
import { tiltsOfFall } from './fall.ts';

type SeenNull = Extract<BenchReading, { kind: 'null' }>;
type SeenFringes = Extract<BenchReading, { kind: 'fringes' }>;

/** Cosine of the most by which an eye misses the one direction in which a line focus can show tilt: 60°. */
const NEAR = 0.5;

/** Paths of the findings are the readings file's; with one, `readings` is not whole. */
export function alongSenses(
  design: Design,
  seen: readonly BenchReading[],
  orientation: CameraOrientation,
): { readonly readings: readonly BenchReading[]; readonly findings: readonly Finding[] } {
  const findings: Finding[] = [];
  const readings = seen.flatMap((reading, entry): BenchReading[] => {
    if (reading.kind === 'null') return [nullAlongAxes(design, reading, orientation)];
    if (reading.kind !== 'fringes') return [reading];
    const turned =
      reading.toward === undefined ? reading : turnedToSenses(design, reading, reading.toward, orientation);
    if (turned !== undefined && turned.counted === undefined) return [turned];
    if (turned !== undefined) {
      const beyond = withoutBias(design, turned);
      if (typeof beyond !== 'string') return [beyond];
      const at = `readings[${entry}].counted`;
      const finding = errorFinding(
        'bad-value',
        at,
        beyond,
        'count beyond what the aligned patch shows, without `counted`',
      );
      findings.push({ ...finding, path: ['readings', entry, 'counted'] });
      return [];
    }
    const message = `patch ${reading.patch} shows no tilt toward ${reading.toward} o’clock: its line focus senses one direction`;
    const hint = 'check the hour, and how the camera is turned';
    const finding = errorFinding('bad-value', `readings[${entry}].toward`, message, hint);
    findings.push({ ...finding, path: ['readings', entry, 'toward'] });
    return [];
  });
  return { readings, findings };
}

function turnedToSenses(
  design: Design,
  reading: SeenFringes,
  hour: number,
  orientation: CameraOrientation,
): SeenFringes | undefined {
  const patch = design.patches.find(({ id }) => id === reading.patch);
  if (patch === undefined) throw new RangeError(`no patch ${reading.patch} in this design`);
  const { toward: _, ...rest } = reading;
  const [count, ...others] = reading.fringes;
  const way = wayOf(hour, orientation);
  const tilts = sensesOf(design, patch).filter(({ kind }) => kind === 'tilt');
  if (count === undefined) return { ...rest, fringes: reading.fringes };
  if (isRing(patch)) {
    const [a, b] = alongAxes(patch, count, way);
    return { ...rest, fringes: [a, b, ...others.slice(1)] };
  }
  // Beside a bias along the line, what is seen is not the tilt alone.
  if (patch.lineDirection !== undefined && reading.counted === undefined) {
    const cosine = cosineOf(way, tilts[0]!.direction);
    if (count !== 0 && Math.abs(cosine) < NEAR) return undefined;
    return { ...rest, fringes: [count === 0 ? 0 : Math.sign(cosine) * count, ...others] };
  }
  const { min, max } = runAlong(patch, way);
  const perMm = count / (max - min);
  const along = tiltsOfFall(patch, tilts, [perMm * way[0], perMm * way[1]]);
  return { ...rest, fringes: [...along, ...others.slice(1)] };
}

/** On the pattern, of an hour in the picture. */
function wayOf(hour: number, orientation: CameraOrientation): Vec2 {
  const angle = (hour * Math.PI) / 6;
  return fromPicture(orientation, [Math.sin(angle), Math.cos(angle)]);
}

/** A fall by so many fringes along a way, from edge to edge, as it is counted along x and along y. */
function alongAxes(on: Parameters<typeof runAlong>[0], count: number, way: Vec2): Vec2 {
  const { min, max } = runAlong(on, way);
  const { widths } = rulerOf(on.outline);
  return [(count * way[0] * widths[0]) / (max - min), (count * way[1] * widths[1]) / (max - min)];
}

/** The null's tilt over its footprint. */
function nullAlongAxes(design: Design, reading: SeenNull, orientation: CameraOrientation): SeenNull {
  const { toward, ...rest } = reading;
  if (toward === undefined) return reading;
  const { footprint, centre } = design.main!;
  const values = reading.values.flatMap((given): readonly NullValue[] => {
    if (given.term !== 'tilt') return [given];
    const [x, y] = alongAxes({ outline: footprint, centre }, given.value, wayOf(toward, orientation));
    return [
      { term: 'tilt', part: 0, value: x },
      { term: 'tilt', part: 1, value: y },
    ];
  });
  return { ...rest, values };
}

/** Less what the aligned patch shows; why not, in words, where that is not one count. */
function withoutBias(design: Design, { counted: _, ...reading }: SeenFringes): SeenFringes | string {
  const patch = design.patches.find(({ id }) => id === reading.patch)!;
  // By design a ring shows none.
  if (isRing(patch)) return reading;
  if (patch.bias?.shape === 'roof')
    return `patch ${patch.id} has a roof, whose two halves show different fringes: there is no total`;
  const atPlace = fringesAtPlace(design, patch);
  if (atPlace === undefined) return `what patch ${patch.id} shows at the design place cannot be traced`;
  return {
    ...reading,
    fringes: reading.fringes.map((count, k) => (count === undefined ? undefined : count - atPlace[k]!)),
  };
}

/** Of a unit vector of the pattern plane with a sense as it lies in that plane. */
const cosineOf = (way: Vec2, [x, y]: Vec3): number => (way[0] * x + way[1] * y) / Math.hypot(x, y);
