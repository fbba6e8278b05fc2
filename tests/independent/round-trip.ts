/**
 * The way of light from a patch to its ball or retroreflector and back, traced ray by ray, and what the camera then sees. mm, waves.
 * Shares no code with src/: it is given the words of a scenario, and asks neither the order nor the beam, which the pattern makes up for.
 *
 * The pattern turns the beam into a wave of optical path E_out(P) = −(path from P to the focus), by Fermat where glass follows, plus the
 * bias mλB(P). So a ray leaves P along ∇(E_out + mλB), meets the true sphere, or the cube, which inverts it through its apex, comes back to
 * P* after the path L, and is seen there against the beam's own wave with
 *   Wλ = E_out(P) + mλB(P) + L + E_out(P*) + mλB(P*).
 * A bias of N fringes: mB = (N/2)|w|/reach for a roof, (N/2)·w/width for a tilt, w the run along its direction from the patch's centre, or a roof's ridge.
 */
import { crossingOfExit, type Place, toLine } from './fermat.ts';
import { foldOf } from './fold.ts';
import { dot, fromCosines, minus, normed, refract, size, toPlane, type Vector } from './ray.ts';

export type Place2 = readonly [number, number];

export interface PatchSetup {
  readonly wavelength: number;
  readonly centre: Place2;
  /** Where the reference stands by design: what the light is aimed at. */
  readonly target: Place;
  readonly reference: { readonly kind: 'ball'; readonly radius: number } | { readonly kind: 'cube' };
  /** Radians from +x toward +y; undefined for a point focus. */
  readonly lineAngle?: number;
  /** `direction` in the pattern plane; `reach` largest |w| from the ridge for a roof, the whole width along it for a tilt. */
  readonly bias?: {
    readonly shape: 'roof' | 'tilt';
    readonly fringes: number;
    readonly direction: Place2;
    readonly reach: number;
  };
  /** Plane glass on the part's side of the pattern. */
  readonly glass?: { readonly thickness: number; readonly index: number };
  /** Whether a place belongs to the patch. Undefined: all of the pattern does. */
  readonly within?: (x: number, y: number) => boolean;
}

/** W at a place P* as the camera sees it; NaN beyond the patch, where its light left from beyond, and where a ridge sends two rays or none. */
export type CameraWaves = (x: number, y: number) => number;

/** ℓ̂: the line's direction, square to the way from the patch's centre to the target. */
export function lineDirectionOf({ lineAngle, centre, target }: PatchSetup): Vector | undefined {
  if (lineAngle === undefined) return undefined;
  const chief = normed(minus(target, [centre[0], centre[1], 0]));
  const flat: Vector = [Math.cos(lineAngle), Math.sin(lineAngle), 0];
  const along = dot(flat, chief);
  return normed(minus(flat, [chief[0] * along, chief[1] * along, chief[2] * along]));
}

/** What the camera sees with the reference moved off its place. */
export function cameraWaves(setup: PatchSetup, moved: Vector = [0, 0, 0]): CameraWaves {
  const line = lineDirectionOf(setup);
  const at: Place = [setup.target[0] + moved[0], setup.target[1] + moved[1], setup.target[2] + moved[2]];
  const { within = () => true } = setup;
  return (x, y) => {
    if (!within(x, y)) return Number.NaN;
    // The ray that comes back to (x, y): sought from its mirror image, by steps that undo the mirror.
    let [px, py] = mirrored(setup, line, [x - setup.centre[0], y - setup.centre[1]]);
    px += setup.centre[0];
    py += setup.centre[1];
    const side = Math.sign(runOf(setup, px, py));
    for (let step = 0; ; step++) {
      const trip = tripFrom(setup, line, at, [px, py], side);
      const off: Place2 = [trip.back[0] - x, trip.back[1] - y];
      if (Math.hypot(...off) < LANDED) {
        if (setup.bias?.shape === 'roof' && runOf(setup, px, py) * side <= 0) return Number.NaN;
        if (!within(px, py)) return Number.NaN;
        const again = waveToward(setup, line, [x, y]).path + biasPath(setup, x, y);
        return (trip.path + again) / setup.wavelength;
      }
      if (step === MOST_STEPS || !Number.isFinite(off[0])) return Number.NaN;
      const [dx, dy] = mirrored(setup, line, off);
      [px, py] = [px - dx, py - dy];
    }
  };
}

/** mm: W is stationary in the place that a ray lands at, so that this is far more than enough. */
const LANDED = 1e-7;
const MOST_STEPS = 25;

/** How a small step on the pattern comes back: unchanged by a ball, inverted by a cube, that is along the line alone for a line focus. */
function mirrored({ reference }: PatchSetup, line: Vector | undefined, [x, y]: Place2): Place2 {
  if (reference.kind === 'ball') return [x, y];
  if (line === undefined) return [-x, -y];
  const long = Math.hypot(line[0], line[1]);
  const [lx, ly] = [line[0] / long, line[1] / long];
  const along = x * lx + y * ly;
  return [x - 2 * along * lx, y - 2 * along * ly];
}

/** E_out(P), and the lateral optical cosines of its ray. */
function waveToward(
  { target, glass }: PatchSetup,
  line: Vector | undefined,
  [x, y]: Place2,
): { readonly path: number; readonly px: number; readonly py: number } {
  const at: Place = [x, y, 0];
  const inAir = (q: Place): number => (line === undefined ? size(minus(target, q)) : toLine(q, target, line));
  if (glass !== undefined) {
    const { path, through } = crossingOfExit(at, glass.thickness, glass.index, inAir);
    const direction = normed(minus(through, at));
    return { path: -path, px: glass.index * direction[0], py: glass.index * direction[1] };
  }
  const d = minus(target, at);
  const along = line === undefined ? 0 : dot(d, line);
  const foot = line === undefined ? d : minus(d, [line[0] * along, line[1] * along, line[2] * along]);
  const [px, py] = normed(foot);
  return { path: -size(foot), px, py };
}

const runOf = (setup: PatchSetup, x: number, y: number): number => {
  const { bias } = setup;
  if (bias === undefined) return 0;
  const centre = bias.shape === 'roof' ? ridgeOf(setup) : setup.centre;
  return (x - centre[0]) * bias.direction[0] + (y - centre[1]) * bias.direction[1];
};

/** A roof has its ridge where a cube sends the light straight back. Asked for at every ray. */
function ridgeOf(setup: PatchSetup): Place2 {
  const { centre, lineAngle, target, glass, reference } = setup;
  const line = lineDirectionOf(setup);
  if (reference.kind !== 'cube' || line === undefined || lineAngle === undefined) return centre;
  const found = ridges.get(setup) ?? foldOf(centre, lineAngle, line, target, glass);
  ridges.set(setup, found);
  return found;
}

const ridges = new WeakMap<PatchSetup, Place2>();

/** mλB, mm. */
function biasPath(setup: PatchSetup, x: number, y: number): number {
  const { bias, wavelength } = setup;
  if (bias === undefined) return 0;
  const run = runOf(setup, x, y);
  return (wavelength * (bias.fringes / 2) * (bias.shape === 'roof' ? Math.abs(run) : run)) / bias.reach;
}

/** From P out and back: where the ray lands, and E_out(P) + mλB(P) + L. `side` of a roof's ridge on which it is bent. */
function tripFrom(
  setup: PatchSetup,
  line: Vector | undefined,
  reference: Place,
  [x, y]: Place2,
  side: number,
): { readonly back: Place2; readonly path: number } {
  const { bias, wavelength, glass } = setup;
  const wave = waveToward(setup, line, [x, y]);
  const bend =
    bias === undefined
      ? 0
      : ((wavelength * bias.fringes) / (2 * bias.reach)) * (bias.shape === 'roof' ? side : 1);
  const px = wave.px + bend * (bias?.direction[0] ?? 0);
  const py = wave.py + bend * (bias?.direction[1] ?? 0);
  const start = wave.path + biasPath(setup, x, y);
  const face = glass?.thickness ?? 0;
  const within = fromCosines(px, py, glass?.index ?? 1);
  const out = toPlane([x, y, 0], within, face);
  const met = meet(setup, reference, out.at, refract(within, glass?.index ?? 1, 1));
  const home = toPlane(met.from, met.direction, face);
  const inside = refract(met.direction, 1, glass?.index ?? 1);
  const last = toPlane(home.at, inside, 0);
  const inGlass = (glass?.index ?? 1) * (out.way + last.way);
  return { back: [last.at[0], last.at[1]], path: start + inGlass + met.path + home.way };
}

/** From a point and a direction in air to a point of the ray that comes back, its direction, and the path between the two. */
function meet(
  { reference }: PatchSetup,
  at: Place,
  from: Vector,
  direction: Vector,
): { readonly from: Vector; readonly direction: Vector; readonly path: number } {
  const to = minus(at, from);
  const nearest = dot(to, direction);
  if (reference.kind === 'cube') {
    // As far to the plane through the apex square to the ray as from it: no path between a point and its image.
    const image: Vector = [2 * at[0] - from[0], 2 * at[1] - from[1], 2 * at[2] - from[2]];
    return { from: image, direction: [-direction[0], -direction[1], -direction[2]], path: 0 };
  }
  const run = nearest - Math.sqrt(reference.radius ** 2 - (dot(to, to) - nearest ** 2));
  const hit: Vector = [
    from[0] + run * direction[0],
    from[1] + run * direction[1],
    from[2] + run * direction[2],
  ];
  const normal = normed(minus(hit, at));
  const into = dot(direction, normal);
  const back: Vector = [
    direction[0] - 2 * into * normal[0],
    direction[1] - 2 * into * normal[1],
    direction[2] - 2 * into * normal[2],
  ];
  return { from: hit, direction: back, path: run };
}
