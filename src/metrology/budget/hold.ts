/**
 * How the part holds a reference: exactly along the normals of the surfaces it touches and not at all along the rest, or in
 * every direction where its place was given as such (it is then mounted there). Substrate frame, unit vectors.
 */
import { singularValues } from '../../algebra/singular-values.ts';
import type { Design } from '../../design/design.ts';
import type { Vec3 } from '../../geometry/vector.ts';
import type { Reference } from '../../scenario/scenario.ts';
import { touchNormals } from '../../scenario/touch.ts';

interface Hold {
  /** Orthonormal directions in which the reference may slide along what it touches. */
  readonly slides: readonly Vec3[];
  /** One a contact normal: where the reference goes if that contact alone gives way by 1 mm, the slides not used. */
  readonly contacts: readonly { readonly datum: string; readonly push: Vec3 }[];
}

/** Normals this nearly dependent (singular values against the largest) hold no direction of their own. */
const DEPENDENT = 1e-6;

export function holdOf(design: Design, reference: Reference): Hold {
  if (reference.given !== 'touches') return { slides: [], contacts: [] };
  const { datums, frame } = design.scenario.part;
  const normals = touchNormals(reference.touches, datums, reference.at, frame);
  const { values, directions } = singularValues(
    Float64Array.from(normals.flatMap(({ normal }) => normal)),
    3,
  );
  const axes = directions.map((direction): Vec3 => [direction[0]!, direction[1]!, direction[2]!]);
  const held = axes.filter((_, k) => values[k]! > DEPENDENT * values[0]!);
  return {
    slides: axes.slice(held.length),
    // Columns of the pseudo-inverse: Σ v (v·n)/σ² over the directions that are held.
    contacts: normals.map(({ datum, normal }) => {
      let push: Vec3 = [0, 0, 0];
      held.forEach((v, k) => {
        const part = (v[0] * normal[0] + v[1] * normal[1] + v[2] * normal[2]) / values[k]! ** 2;
        push = [push[0] + part * v[0], push[1] + part * v[1], push[2] + part * v[2]];
      });
      return { datum, push };
    }),
  };
}
