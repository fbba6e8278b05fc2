/**
 * What keeps tracked points from giving a rigid motion, and slips of the export that a rigid motion cannot repair: too few
 * points, points on one line, a mirror image, another unit, angles from the zenith. Lengths mm.
 */
import { singularValues } from '../../algebra/singular-values.ts';
import type { Finding } from '../../finding/finding.ts';
import { subtract, type Vec3 } from '../../geometry/vector.ts';
import type { RegistrationPoint } from './registration-points.ts';
import { meanOf, rigidStart, spreadOf } from './registration-start.ts';

/** Points that leave their common line by less than this share of their spread, rms, do not hold the turn about it. */
const ON_A_LINE = 1e-3;
/** A scale is one of the known mix-ups within this share of it: nobody's part has moved by so much. */
const LIKE_SCALE = 0.02;
/** Another reading of the data must fit this much better to be what was meant. */
const MUCH_BETTER = 0.1;
/** Below this share of the points' spread a misfit is measurement, not a mix-up. */
const A_MISFIT = 1e-3;

const SCALES: readonly { readonly factor: number; readonly words: string }[] = [
  { factor: 25.4, words: 'millimetres were taken for inches and multiplied by 25.4' },
  { factor: 1 / 25.4, words: 'the values are in inches where millimetres are expected' },
  { factor: 1 / 1000, words: 'the values are in metres where millimetres are expected' },
  { factor: 1000, words: 'the values are in micrometres where millimetres are expected' },
  { factor: 1 / 10, words: 'the values are in centimetres where millimetres are expected' },
  { factor: 1 / 304.8, words: 'the values are in feet where millimetres are expected' },
];

/** Why these points give no motion; undefined where they do. `side` is what they are called: `the hologram’s points`. */
export function refusal(
  points: readonly Pick<RegistrationPoint, 'name' | 'design' | 'measured'>[],
  side: string,
): Finding | undefined {
  const names = points.map(({ name }) => name).join(', ');
  const degenerate = (message: string, hint: string): Finding => {
    return { severity: 'error', rule: 'degenerate-points', where: names, message, hint };
  };
  if (points.length < 3) {
    const open = points.length === 2 ? ': the rotation about the line through them stays undetermined' : '';
    const message = `${side} are only ${points.length} (${names}), too few to fix a rigid motion${open}`;
    return degenerate(message, 'measure three or more, not all on one line');
  }
  for (const [what, places] of [
    ['by design', points.map(({ design }) => design)],
    ['as measured', points.map(({ measured }) => measured)],
  ] as const) {
    const [along, across] = spreads(places);
    if (!(along > 0)) return degenerate(`${side}, ${names}, all coincide ${what}`, 'check the table');
    if (across < ON_A_LINE * along) {
      const message =
        `${side}, ${names}, lie on one line ${what}, within ${across.toPrecision(2)} mm over ${along.toPrecision(3)} mm: ` +
        'the rotation about it stays undetermined';
      return degenerate(message, 'measure one more point well off that line');
    }
  }
  return undefined;
}

/** A slip that explains a bad fit of these points; undefined where they fit, or where nothing known explains it. */
export function mixUp(points: readonly RegistrationPoint[], side: string): Finding | undefined {
  const design = points.map((point) => point.design);
  const measured = points.map((point) => point.measured);
  const where = points.map(({ name }) => name).join(', ');
  const [spread, found] = [spreadOf(design), spreadOf(measured)];
  const scale = SCALES.find(({ factor }) => Math.abs(found / spread / factor - 1) < LIKE_SCALE);
  if (scale !== undefined) {
    return {
      severity: 'error',
      rule: 'mixed-units',
      where,
      message: `${side} are ${(found / spread).toPrecision(4)} times as far apart as by design: probably ${scale.words}`,
      hint: 'convert the table to the unit that its columns name',
      value: found / spread,
      limit: 1,
    };
  }
  const { rms } = rigidStart(design, measured);
  if (rms < A_MISFIT * spread) return undefined;
  const better = OTHERWISE.find(({ read }) => rigidStart(design, measured.map(read)).rms < MUCH_BETTER * rms);
  if (better === undefined) return undefined;
  return {
    severity: 'error',
    rule: 'mirrored-points',
    where,
    message: `${side} fit only to ${rms.toPrecision(3)} mm, but much better ${better.words}`,
    hint: better.hint,
    value: rms,
    unit: 'mm',
  };
}

const OTHERWISE: readonly {
  readonly read: (place: Vec3) => Vec3;
  readonly words: string;
  readonly hint: string;
}[] = [
  {
    read: ([x, y, z]) => [-x, y, z],
    words: 'as a mirror image: two axes are swapped, or one is reversed (a left-handed frame)',
    hint: 'export x, y, z of a right-handed frame; azimuth runs from +x toward +y, elevation up',
  },
  {
    // What was taken for the elevation ε was the angle from the zenith: 90° − ε.
    read: ([x, y, z]) => {
      const level = Math.hypot(x, y);
      return level === 0 ? [0, 0, z] : [(x / level) * z, (y / level) * z, level];
    },
    words: 'with the elevations taken as zenith angles',
    hint: 'give elevations from the horizontal plane: 90° minus the zenith angle',
  },
];

/** Spread along the points' own main direction and across it (the second one), rms. */
function spreads(places: readonly Vec3[]): readonly [number, number] {
  const middle = meanOf(places);
  const { values } = singularValues(Float64Array.from(places.flatMap((p) => subtract(p, middle))), 3);
  const root = Math.sqrt(places.length);
  return [values[0]! / root, values[1]! / root];
}
