/**
 * A scenario in plain numbers (mm, degrees, as a scenario has them), and what follows from its words by geometry alone: where a
 * target lies, along which direction a line runs, which points an outline has. The words go to the program as they stand (JSON is
 * YAML); what a test expects of the program is worked out from them here, by code that shares nothing with src/.
 */
import type { Place } from './fermat.ts';

export type Point = readonly [number, number];

/** About the patch's centre, as in a scenario; round dimensions are diameters, angles degrees. */
export interface OutlineWords {
  readonly circle?: { readonly diameter: number };
  readonly rectangle?: { readonly width: number; readonly height: number; readonly rotation?: number };
  readonly ring?: { readonly inner: number; readonly outer: number };
  readonly sector?: {
    readonly inner: number;
    readonly outer: number;
    readonly from: number;
    readonly to: number;
  };
  readonly polygon?: { readonly points: readonly Point[] };
}

export interface DatumWords {
  readonly plane?: { readonly point: Place; readonly normal: Place };
  readonly sphere?: { readonly centre: Place; readonly diameter: number; readonly side?: Side };
  readonly cone?: {
    readonly apex: Place;
    readonly axis: Place;
    readonly angle: number;
    readonly side?: Side;
  };
  readonly torus?: {
    readonly centre: Place;
    readonly axis: Place;
    readonly diameter: number;
    readonly tube: number;
    readonly side?: Side;
  };
}
export type Side = 'outside' | 'inside';

export interface PatchWords {
  readonly id: string;
  readonly reference: string;
  readonly focus: 'point' | 'line' | 'return' | 'normal';
  readonly centre: Point;
  readonly outline: OutlineWords;
  readonly lineAngle?: number;
  readonly order?: number;
  readonly bias?: {
    readonly shape: 'roof' | 'tilt';
    readonly fringes: number;
    readonly direction?: number;
  };
}

export interface ReferenceWords {
  readonly id: string;
  readonly kind: 'ball' | 'smr' | 'screen' | 'return' | 'datum';
  readonly diameter?: number;
  readonly at?: Place;
  readonly frame?: 'substrate' | 'part';
  readonly datum?: string;
  readonly [other: string]: unknown;
}

export interface Scene {
  readonly title?: string;
  readonly light: { readonly wavelength: number };
  readonly interferometer: {
    readonly focus?: Place;
    readonly collimated?: true;
    readonly direction?: Place;
    readonly [other: string]: unknown;
  };
  readonly substrate: {
    readonly outline: OutlineWords;
    readonly thickness?: number;
    readonly index?: number;
    readonly patternFaces?: 'part' | 'interferometer';
    readonly [other: string]: unknown;
  };
  readonly part?: {
    readonly origin?: Place;
    readonly rotation?: Place;
    readonly datums?: Readonly<Record<string, DatumWords>>;
  };
  readonly references: readonly ReferenceWords[];
  readonly patches: readonly PatchWords[];
  readonly [other: string]: unknown;
}

export const radians = (degrees: number): number => (degrees * Math.PI) / 180;
export const plus = (a: Place, b: Place, factor = 1): Place => [
  a[0] + factor * b[0],
  a[1] + factor * b[1],
  a[2] + factor * b[2],
];
export const inner = (a: Place, b: Place): number => a[0] * b[0] + a[1] * b[1] + a[2] * b[2];
export const outer = (a: Place, b: Place): Place => [
  a[1] * b[2] - a[2] * b[1],
  a[2] * b[0] - a[0] * b[2],
  a[0] * b[1] - a[1] * b[0],
];
export const unit = (a: Place): Place => {
  const size = Math.hypot(...a);
  return [a[0] / size, a[1] / size, a[2] / size];
};

export function patchWords({ patches }: Scene, id: string): PatchWords {
  const found = patches.find((patch) => patch.id === id);
  if (found === undefined) throw new Error(`no patch ${id} in this scene`);
  return found;
}

export function referenceWords({ references }: Scene, { reference }: PatchWords): ReferenceWords {
  const found = references.find(({ id }) => id === reference);
  if (found === undefined) throw new Error(`no reference ${reference} in this scene`);
  return found;
}

/** A direction of the part's frame in the substrate's: intrinsic turns about x, then the new y, then the new z. */
export function fromPart({ part }: Scene, [x, y, z]: Place): Place {
  const [a, b, c] = (part?.rotation ?? [0, 0, 0]).map(radians) as unknown as Place;
  const afterZ: Place = [x * Math.cos(c) - y * Math.sin(c), x * Math.sin(c) + y * Math.cos(c), z];
  const afterY: Place = [
    afterZ[0] * Math.cos(b) + afterZ[2] * Math.sin(b),
    afterZ[1],
    -afterZ[0] * Math.sin(b) + afterZ[2] * Math.cos(b),
  ];
  return [
    afterY[0],
    afterY[1] * Math.cos(a) - afterY[2] * Math.sin(a),
    afterY[1] * Math.sin(a) + afterY[2] * Math.cos(a),
  ];
}

export const placeFromPart = (scene: Scene, place: Place): Place =>
  plus(fromPart(scene, place), scene.part?.origin ?? [0, 0, 0]);

/** Ball centre, cube apex or spot, in the substrate frame. */
export function targetOf(scene: Scene, patch: PatchWords): Place {
  const { at, frame, id } = referenceWords(scene, patch);
  if (at === undefined) throw new Error(`reference ${id} has no place of its own`);
  return frame === 'part' ? placeFromPart(scene, at) : at;
}

/** û from the patch's centre to its target. */
export const chiefRayOf = (scene: Scene, patch: PatchWords): Place =>
  unit(plus(targetOf(scene, patch), [patch.centre[0], patch.centre[1], 0], -1));

/** ℓ̂: the direction `lineAngle` of the pattern plane, made square to the chief ray. */
export function lineDirectionOf(scene: Scene, patch: PatchWords): Place {
  const angle = radians(patch.lineAngle ?? Number.NaN);
  const inPlane: Place = [Math.cos(angle), Math.sin(angle), 0];
  const chief = chiefRayOf(scene, patch);
  return unit(plus(inPlane, chief, -inner(inPlane, chief)));
}
