/**
 * The part found from readings that the program had no hand in: rays traced out and home to references that a rigid part, displaced by
 * its exact rotation, carries along; orders of either sign, lines and a point, a frame that is turned and stands aside.
 */
import { describe, expect, it } from 'vitest';
import { steer } from '../../src/metrology/steering/steering.ts';
import { displacementOf } from '../../src/metrology/steering/steering-part.ts';
import { type ReadPatch, reader } from '../independent/patch-reading.ts';
import { minus, type Vector } from '../independent/ray.ts';
import '../machine/patience.ts';
import { designFrom } from './support/design-from.ts';

const AROUND = { wavelength: 632.8e-6, focus: [0, 0, -500] as Vector };
const DEG = Math.PI / 180;
const ORIGIN: Vector = [20, -15, 700];
/** About z only: the part's x and y in the substrate frame. */
const TURNED = 25;

const plus = (a: Vector, b: Vector): Vector => [a[0] + b[0], a[1] + b[1], a[2] + b[2]];
/** The turn by |θ| about θ: O. Rodrigues's formula. */
function turned(v: Vector, theta: Vector): Vector {
  const angle = Math.hypot(...theta);
  if (angle === 0) return v;
  const [x, y, z] = theta.map((part) => part / angle) as unknown as Vector;
  const [c, s] = [Math.cos(angle), Math.sin(angle)];
  const along = (x * v[0] + y * v[1] + z * v[2]) * (1 - c);
  return [
    v[0] * c + (y * v[2] - z * v[1]) * s + x * along,
    v[1] * c + (z * v[0] - x * v[2]) * s + y * along,
    v[2] * c + (x * v[1] - y * v[0]) * s + z * along,
  ];
}
const toSubstrate = (v: Vector): Vector => turned(v, [0, 0, TURNED * DEG]);

/** Places in the part frame. */
const PLACES: Readonly<Record<string, Vector>> = {
  north: [10, 180, -20],
  west: [-160, -70, 30],
  east: [150, -90, 0],
  near: [-30, 40, -540],
};
const target = (of: string): Vector => plus(ORIGIN, toSubstrate(PLACES[of]!));

const line = (of: string, n: number, centre: readonly [number, number], degrees: number) => ({
  ...{ id: `${of}-${n}`, of, centre, order: n === 1 ? -1 : 1, target: target(of), lineAngle: degrees * DEG },
  outline: { shape: 'rectangle', centre, width: 8, height: 8, rotation: 0 } as const,
});
const PATCHES: readonly (ReadPatch & { readonly of: string })[] = [
  line('north', 0, [5, 60], 80),
  line('north', 1, [30, 45], 10),
  line('north', 2, [-5, -50], 15),
  line('west', 0, [-60, 5], 110),
  line('west', 1, [-45, -30], 20),
  line('east', 0, [55, -20], 60),
  line('east', 1, [35, -40], 150),
  {
    ...{ id: 'near', of: 'near', centre: [-10, 25], order: -1, target: target('near'), radius: 6.35 },
    outline: { shape: 'circle', centre: [-10, 25], radius: 4 },
  },
];
const design = designFrom({
  part: { origin: ORIGIN, rotation: [0, 0, TURNED] },
  references: Object.entries(PLACES).map(([id, at]) => ({
    ...{ id, kind: id === 'near' ? 'ball' : 'smr', diameter: id === 'near' ? 12.7 : 38.1 },
    ...{ frame: 'part', at },
  })),
  patches: PATCHES.map(({ id, of, centre, order, lineAngle }) => ({
    ...{ id, reference: of, centre, order },
    ...(lineAngle === undefined
      ? { focus: 'point', outline: { circle: { diameter: 8 } } }
      : { focus: 'line', outline: { rectangle: { width: 8, height: 8 } }, lineAngle: lineAngle / DEG }),
  })),
});

describe('a part found from fringes that rays show', () => {
  it.each<[string, Vector, Vector]>([
    ['moved along x', [0.03, 0, 0], [0, 0, 0]],
    ['moved along y', [0, 0.03, 0], [0, 0, 0]],
    ['moved along z', [0, 0, 0.1], [0, 0, 0]],
    ['turned about x', [0, 0, 0], [1e-4, 0, 0]],
    ['turned about y', [0, 0, 0], [0, 1e-4, 0]],
    ['turned about z', [0, 0, 0], [0, 0, 1e-4]],
    ['all of it', [-0.02, 0.03, -0.05], [-1e-4, 5e-5, 1.5e-4]],
  ])('%s', (_, translation, rotation) => {
    const readings = PATCHES.map((patch) => {
      const at = PLACES[patch.of]!;
      const move = toSubstrate(plus(translation, minus(turned(at, rotation), at)));
      const read = reader(AROUND, patch);
      const atRest = read({});
      // The bench counts a fall of the path along + as positive.
      const fringes = read({ move }).map((value, k) => atRest[k]! - value);
      return {
        ...({ kind: 'fringes', patch: patch.id, fringes } as const),
        signKnown: true,
        uncertainty: undefined,
      };
    });
    const { part } = steer(design, readings);
    const found = displacementOf(part.candidates[0]!.solution.unknowns, part.pose.size);
    for (const k of [0, 1, 2]) {
      // The fits look at different rays, which tells at second order of a ball's miss: a tenth of a micrometre.
      expect(Math.abs(found.translation[k]! - translation[k]!)).toBeLessThan(2e-4);
      expect(Math.abs(found.rotation[k]! - rotation[k]!)).toBeLessThan(1e-6);
    }
    expect(part.candidates).toHaveLength(1);
  });
});
