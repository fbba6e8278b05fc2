/**
 * The part's datums in one view. A datum without a stated extent is endless: it is shown by a mark of `reach` mm of the bench to both
 * sides of its own point. mm of the bench, [right, up].
 */
import { directionToParent, type Frame, placeToParent, rotateBack } from '../../geometry/frame.ts';
import { boundaryPoints } from '../../geometry/sampling.ts';
import { add, add2, cross, scale, unit, type Vec2, type Vec3 } from '../../geometry/vector.ts';
import type { Datum } from '../../scenario/datum.ts';
import { flatAxes } from '../../scenario/datum-extent.ts';
import { sagFrame, sagOf } from '../../scenario/datum-sag.ts';
import { isEndOn, type Projection } from './projection.ts';

interface DatumMark {
  readonly id: string;
  /** Where its name belongs. */
  readonly at: Vec2;
  readonly lines: readonly (readonly Vec2[])[];
  readonly circles: readonly { readonly centre: Vec2; readonly radius: number }[];
  /** Out of the material, from the surface. */
  readonly normals: readonly { readonly from: Vec2; readonly direction: Vec2 }[];
}

type Marked = Omit<DatumMark, 'id'>;

export const datumMark = (datum: Datum, part: Frame, view: Projection, reach: number): DatumMark => ({
  id: datum.id,
  ...marked(datum, part, view, reach),
});

function marked(datum: Datum, part: Frame, view: Projection, reach: number): Marked {
  const place = (point: Vec3): Vec2 => view.flat(placeToParent(part, point));
  const turned = (direction: Vec3): Vec3 => directionToParent(part, direction);
  const bare: Omit<Marked, 'at'> = { lines: [], circles: [], normals: [] };
  switch (datum.kind) {
    case 'plane': {
      const at = place(datum.point);
      const normal = turned(datum.normal);
      const direction = view.flat(normal);
      if (datum.extent !== undefined) {
        const [right, up] = flatAxes(datum);
        const { xs, ys } = boundaryPoints(datum.extent, EDGE_POINTS);
        const edge = Array.from(xs, (x, k) =>
          place(add(datum.point, add(scale(right, x), scale(up, ys[k]!)))),
        );
        return { ...bare, at, lines: [[...edge, edge[0]!]], normals: [{ from: at, direction }] };
      }
      if (isEndOn(normal, view)) return { ...bare, at };
      const trace = unit2(view.flat(cross(view.viewer, normal)));
      // Its normal stands off its own point, where the part's axes may begin.
      const from = moved(at, trace, ASIDE * reach);
      return { ...bare, at: from, lines: [span(at, trace, reach)], normals: [{ from, direction }] };
    }
    case 'cylinder': {
      const at = place(datum.point);
      const axis = turned(datum.axis);
      const radius = datum.diameter / 2;
      const out = datum.side === 'outside' ? 1 : -1;
      if (isEndOn(axis, view)) {
        const top: Vec2 = [at[0], at[1] + radius];
        return {
          ...{ at: top, lines: [], circles: [{ centre: at, radius }] },
          normals: [{ from: top, direction: [0, out] }],
        };
      }
      const seen = view.flat(axis);
      const ends: readonly Vec2[] =
        datum.length === undefined ? span(at, unit2(seen), reach) : [at, moved(at, seen, datum.length)];
      const aside = asideOf(unit2(seen));
      const sides = [1, -1].map((side) => ends.map((end) => moved(end, aside, side * radius)));
      return {
        ...{ at: moved(at, aside, radius), lines: sides, circles: [] },
        normals: [1, -1].map((side) => ({
          from: moved(at, aside, side * radius),
          direction: moved([0, 0], aside, side * out),
        })),
      };
    }
    case 'cone': {
      const at = place(datum.apex);
      const axis = turned(datum.axis);
      if (isEndOn(axis, view)) return { ...bare, at };
      const along = unit2(view.flat(axis));
      const aside = asideOf(along);
      const [cos, sin] = [Math.cos(datum.angle / 2), Math.sin(datum.angle / 2)];
      const out = datum.side === 'outside' ? 1 : -1;
      return {
        at,
        circles: [],
        lines: [1, -1].map((side) => [
          at,
          moved(moved(at, along, 2 * reach * cos), aside, side * 2 * reach * sin),
        ]),
        normals: [1, -1].map((side) => ({
          from: moved(moved(at, along, reach * cos), aside, side * reach * sin),
          direction: moved(moved([0, 0], along, -out * sin), aside, side * out * cos),
        })),
      };
    }
    case 'sphere': {
      const centre = place(datum.centre);
      const radius = datum.diameter / 2;
      const side = datum.side === 'outside' ? 1 : -1;
      // An outside is seen from the hologram by its near cap, an inside by its far one.
      const toward = scaled2(unit2([-centre[0], -centre[1]]), side);
      const from = moved(centre, toward, radius);
      // How much of the sphere the part has is not known: no more than `reach` to both sides, nor than half of it.
      const half = Math.min(reach / radius, Math.PI / 2);
      const arc = Array.from({ length: ARC_POINTS }, (_, k) => {
        const angle = half * ((2 * k) / (ARC_POINTS - 1) - 1);
        return moved(
          moved(centre, toward, radius * Math.cos(angle)),
          asideOf(toward),
          radius * Math.sin(angle),
        );
      });
      return {
        ...{ at: from, lines: [arc], circles: [] },
        normals: [{ from, direction: scaled2(toward, side) }],
      };
    }
    case 'asphere': {
      const at = place(datum.vertex);
      const normal = turned(scale(datum.axis, datum.faces === '+' ? 1 : -1));
      if (isEndOn(normal, view)) return { ...bare, at };
      const across = unit(cross(view.viewer, normal));
      const frame = sagFrame(datum);
      const sag = sagOf(datum);
      const values = new Float64Array(6);
      const [u, v] = rotateBack(frame.rotation, rotateBack(part.rotation, across));
      const runs = Array.from({ length: EDGE_POINTS + 1 }, (_, k) => reach * ((2 * k) / EDGE_POINTS - 1));
      const line = runs.flatMap((run) =>
        sag.at(run * u, run * v, values) && Math.abs(values[0]!) < reach
          ? [place(placeToParent(frame, [run * u, run * v, values[0]!]))]
          : [],
      );
      return { ...bare, at, lines: [line], normals: [{ from: at, direction: view.flat(normal) }] };
    }
    case 'torus': {
      const at = place(datum.centre);
      const axis = turned(datum.axis);
      const [radius, tube] = [datum.diameter / 2, datum.tube / 2];
      if (isEndOn(axis, view)) {
        const circles = [radius - tube, radius + tube].map((each) => ({ centre: at, radius: each }));
        return { ...bare, at: moved(at, [0, 1], radius + tube), circles };
      }
      const aside = asideOf(unit2(view.flat(axis)));
      const circles = [1, -1].map((side) => ({ centre: moved(at, aside, side * radius), radius: tube }));
      return { ...bare, at: moved(at, aside, radius), circles };
    }
    case 'point': {
      const at = place(datum.point);
      return { ...bare, at, lines: [span(at, [1, 1], reach / 6), span(at, [1, -1], reach / 6)] };
    }
    case 'vee': {
      const at = place(datum.point);
      const axis = turned(datum.axis);
      const normals = [{ from: at, direction: view.flat(turned(datum.normal)) }];
      return isEndOn(axis, view)
        ? { ...bare, at, normals }
        : { ...bare, at, lines: [span(at, unit2(view.flat(axis)), reach)], normals };
    }
  }
}

/** Of a flat's edge, and of a sphere's arc. */
const EDGE_POINTS = 72;
const ARC_POINTS = 25;
/** Where an endless flat's normal stands: of its half length, from its point. */
const ASIDE = 0.6;

const moved = (from: Vec2, direction: Vec2, by: number): Vec2 => add2(from, scaled2(direction, by));
const scaled2 = ([x, y]: Vec2, by: number): Vec2 => [x * by, y * by];
const asideOf = ([x, y]: Vec2): Vec2 => [-y, x];
const span = (at: Vec2, direction: Vec2, reach: number): readonly Vec2[] => [
  moved(at, direction, -reach),
  moved(at, direction, reach),
];

/** [1, 0] for no direction. */
function unit2([x, y]: Vec2): Vec2 {
  const size = Math.sqrt(x * x + y * y);
  return size > 0 ? [x / size, y / size] : [1, 0];
}
