/** Solids that stand in the light's way: of the part in the part frame, of obstacles in the substrate frame. mm; axes are unit vectors. */
import type { Vec3 } from '../geometry/vector.ts';

export type Solid =
  | {
      readonly kind: 'cylinder';
      /** Centre of the end face that `axis` points away from. */
      readonly point: Vec3;
      readonly axis: Vec3;
      readonly diameter: number;
      readonly length: number;
    }
  | {
      readonly kind: 'cone';
      readonly point: Vec3;
      readonly axis: Vec3;
      /** At `point` and at the far end. */
      readonly diameters: readonly [number, number];
      readonly length: number;
    }
  | { readonly kind: 'box'; readonly corner: Vec3; readonly size: Vec3 }
  | { readonly kind: 'sphere'; readonly centre: Vec3; readonly diameter: number }
  | {
      /** A surface of triangles, as an STL file has it. */
      readonly kind: 'mesh';
      /** As the scenario names it. */
      readonly file: string;
      /** Nine coordinates a triangle. */
      readonly corners: Float64Array;
    };

export { trianglesOfStl } from '../geometry/solids-stl.ts';
