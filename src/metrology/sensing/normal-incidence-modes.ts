/**
 * What light tells that meets a feature of the part at normal incidence and comes back on itself shows every motion of it
 * that changes the distance along the normal, W(P) = 2 d̂·δ(X)/λ with d̂ the light's direction at the point X that it meets and
 * δ(X) = T + θ × (X − O) (O the feature's own point). mm, radians; substrate frame.
 *
 * The mean of W is invisible. The rest is read as a sum of independent pictures: the singular vectors of W's map from the six
 * numbers of a motion, a mode each. A reading of r fringes, peak to valley, tells a mode to r over its fringes per mm.
 */
import { singularValues } from '../../algebra/singular-values.ts';
import type { Design, DesignedPatch } from '../../design/design.ts';
import { leavingRay } from '../../design/normal-incidence.ts';
import { boundaryPoints, joined, latticePoints } from '../../geometry/sampling.ts';
import { cross, length, scale, subtract, type Vec3 } from '../../geometry/vector.ts';
import { runToSurface } from '../../optics/datum-surface.ts';
import { along } from '../../optics/ray.ts';
import { EYE_SETTING } from './sensitivity.ts';

interface NormalIncidenceMode {
  /** The mode's amplitude is force·T + moment·θ, mm: T the move of the feature's own point, θ its turn. */
  readonly force: Vec3;
  readonly moment: Vec3;
  readonly fringesPerMm: number;
  /** Standard uncertainty of one reading as an amplitude, mm. */
  readonly resolution: number;
  /** d̂·δ of a unit amplitude at each sample less its mean, mm per mm. */
  readonly picture: Float64Array;
}

interface NormalIncidenceModes {
  readonly xs: Float64Array;
  readonly ys: Float64Array;
  readonly modes: readonly NormalIncidenceMode[];
}

/** Points inside and on the edge: the pictures are as smooth as a tilt, and their extremes lie on the edge. */
const INSIDE = 60;
const ON_EDGE = 60;
/** No feature is smaller than this for judging turns, mm. */
const LEAST_SIZE = 1;

const known = new WeakMap<DesignedPatch, NormalIncidenceModes>();

/** The modes of a patch on a datum feature, the best seen first; none of any other patch. */
export function normalIncidenceModes(design: Design, patch: DesignedPatch): NormalIncidenceModes {
  const found = known.get(patch) ?? workedOut(design, patch);
  known.set(patch, found);
  return found;
}

function workedOut(design: Design, patch: DesignedPatch): NormalIncidenceModes {
  const { normalIncidence, outline } = patch;
  if (normalIncidence === undefined) return { xs: new Float64Array(0), ys: new Float64Array(0), modes: [] };
  const { surface } = normalIncidence;
  const { xs, ys } = joined(latticePoints(outline, INSIDE), boundaryPoints(outline, ON_EDGE));
  const met = Array.from(xs, (x, i) => {
    const ray = leavingRay(normalIncidence.wave, design.glass, x, ys[i]!)!;
    const from = subtract(along(ray, runToSurface(surface, ray)!), surface.point);
    return { direction: ray.direction, from };
  });
  const size = Math.max(LEAST_SIZE, ...met.map(({ from }) => length(from)));
  // d̂·(θ × r) = θ·(r × d̂); turns count as mm at the feature's size.
  const rows = met.map(({ direction, from }) => [...direction, ...scale(cross(from, direction), 1 / size)]);
  const means = [0, 1, 2, 3, 4, 5].map((k) => rows.reduce((sum, row) => sum + row[k]!, 0) / rows.length);
  const matrix = Float64Array.from(rows.flatMap((row) => row.map((entry, k) => entry - means[k]!)));
  const { wavelength } = design.light;
  const { readable } = design.scenario.interferometer;
  const modes = singularValues(matrix, 6).directions.map((v): NormalIncidenceMode => {
    const picture = Float64Array.from(xs, (_, i) => dot6(matrix, i, v));
    const fringesPerMm = (2 * (Math.max(...picture) - Math.min(...picture))) / wavelength;
    return {
      force: [v[0]!, v[1]!, v[2]!],
      moment: scale([v[3]!, v[4]!, v[5]!], size),
      fringesPerMm,
      resolution: readable / fringesPerMm,
      picture,
    };
  });
  // What fringes tell no better than setting by eye does, they do not tell.
  return { xs, ys, modes: modes.filter(({ resolution }) => resolution < EYE_SETTING.poor) };
}

function dot6(matrix: Float64Array, row: number, v: Float64Array): number {
  let sum = 0;
  for (let k = 0; k < 6; k++) sum += matrix[row * 6 + k]! * v[k]!;
  return sum;
}

/**
 * A change of the leaving wave (mm of path) read as a mode's amplitude, mm: the motion that it would meet at normal incidence,
 * ΔE = −d̂·δ, by least squares over the patch.
 */
export function apparentMode(
  { xs, ys }: NormalIncidenceModes,
  { picture }: NormalIncidenceMode,
  change: (x: number, y: number) => number,
): number {
  const values = Float64Array.from(xs, (x, i) => change(x, ys[i]!));
  const mean = values.reduce((sum, value) => sum + value, 0) / values.length;
  let [seen, whole] = [0, 0];
  picture.forEach((part, i) => {
    seen -= part * (values[i]! - mean);
    whole += part * part;
  });
  return seen / whole;
}
