/** What stands on the bench of a null case: its design, its sheet, points of its aperture, the path of the light that arrives. mm. */
import { pathThroughEntry } from '../../independent/fermat.ts';
import type { Vector } from '../../independent/ray.ts';
import type { Sheet } from '../../independent/surface-sheets.ts';
import { designFrom, type Words } from '../../metrology/support/design-from.ts';
import { GLASS, type NullCase } from './null-cases.ts';

/** Intrinsic turns about x, then the new y, then the new z, degrees. */
function placed(origin: Vector, [a, b, c]: Vector, at: Vector): (own: Vector) => Vector {
  const [ca, sa, cb, sb, cc, sc] = [a, b, c].flatMap((angle) => [
    Math.cos((angle * Math.PI) / 180),
    Math.sin((angle * Math.PI) / 180),
  ]) as [number, number, number, number, number, number];
  return (own) => {
    const v = [own[0] + at[0], own[1] + at[1], own[2] + at[2]] as const;
    const [x, y, z] = [v[0] * cc - v[1] * sc, v[0] * sc + v[1] * cc, v[2]];
    const [u, w] = [x * cb + z * sb, z * cb - x * sb];
    return [origin[0] + u, origin[1] + y * ca - w * sa, origin[2] + y * sa + w * ca];
  };
}

/** Points of the aperture, its edge among them, from its words. */
export function pointsOf(aperture: Words): readonly (readonly [number, number])[] {
  const [[shape, words]] = Object.entries(aperture) as [[string, Record<string, unknown>]];
  const [cx, cy] = (words.centre ?? [0, 0]) as [number, number];
  const turn = 2.399963;
  return Array.from({ length: 40 }, (_, k) => {
    const part = (k + 1) / 40;
    if (shape === 'rectangle') {
      const { width, height, rotation } = words as { width: number; height: number; rotation: number };
      const [u, v] = [width * (part - 0.5), height * (((k * 0.618) % 1) - 0.5)];
      const [c, s] = [Math.cos((rotation * Math.PI) / 180), Math.sin((rotation * Math.PI) / 180)];
      return [cx + u * c - v * s, cy + u * s + v * c] as const;
    }
    const {
      inner = 0,
      outer,
      diameter = outer,
    } = words as { inner?: number; outer?: number; diameter?: number };
    const radius = Math.sqrt((inner / 2) ** 2 + part * ((diameter! / 2) ** 2 - (inner / 2) ** 2));
    return [cx + radius * Math.cos(k * turn), cy + radius * Math.sin(k * turn)] as const;
  });
}

export const designOf = ({ datum, aperture, origin, rotation, glass, order, focus }: NullCase) =>
  designFrom({
    interferometer: focus === undefined ? { collimated: true } : { focus },
    substrate: {
      outline: { circle: { diameter: 400 } },
      ...(glass === 'none' ? { thickness: 0 } : { ...GLASS, patternFaces: glass }),
    },
    part: { origin, ...(rotation === undefined ? {} : { rotation }), datums: { M: datum } },
    test: { surface: 'M', aperture, order },
  });

export const arriving = ({ focus, glass }: NullCase, x: number, y: number): number => {
  if (focus === undefined) return 0;
  const sign = focus[2] < 0 ? 1 : -1;
  return glass === 'part'
    ? pathThroughEntry(focus, sign, [x, y, 0], GLASS.thickness, GLASS.index)
    : sign * Math.hypot(x - focus[0], y - focus[1], focus[2]);
};

export const sheetOf = ({ height, origin, rotation = [0, 0, 0], vertex = [0, 0, 0] }: NullCase): Sheet => ({
  height,
  toSubstrate: placed(origin, rotation, vertex),
});

/** After the pattern. */
export const glassAfter = ({ glass }: NullCase) => (glass === 'interferometer' ? GLASS : undefined);
