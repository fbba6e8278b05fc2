/** The main pattern, its light and the surface under test on a panel. mm on paper, [right, up]. */
import type { Vec2, Vec3 } from '../../geometry/vector.ts';
import { type Drawn, type Named, rectangle } from './names.ts';
import { edgeNormals, profileOf } from './null-light.ts';
import { midArrow, type Scene, sectionsOf } from './panel-light.ts';
import type { Shape } from './shapes.ts';

/** `isNumbered`: with its letter beside the pattern. */
export function drawnNull(scene: Scene, isNumbered: boolean): Drawn {
  const { design, view, scale, shown } = scene;
  const { main } = design;
  if (main === undefined) return { shapes: [], named: [] };
  const flat = (place: Vec3): Vec2 => {
    const [right, up] = view.flat(place);
    return [right / scale, up / scale];
  };
  const edge = edgeNormals(design, main).map((path) => path.map(flat));
  const upper = (path: readonly Vec2[]): number => path[0]![1];
  const outermost = edge
    .toSorted((a, b) => upper(b) - upper(a))
    .filter((_, k, all) => k === 0 || k === all.length - 1);
  const runs = Math.max(0, ...edge.map((path) => path.length - 1));
  const sections = sectionsOf(main, view).map((ends) =>
    ends.map((each) => flat(view.up === 'x' ? [each, 0, 0] : [0, each, 0])),
  );
  const shapes: readonly Shape[] = [
    ...Array.from({ length: runs }, (_, run): Shape => {
      const ends = edge.map((path) => path.slice(run, run + 2) as [Vec2, Vec2]);
      return { style: 'nullCone', closed: bundle(ends, run === runs - 1 ? SLICES : 1), id: main.id };
    }),
    ...outermost.flatMap((ray): readonly Shape[] => {
      const [from, to] = [ray.at(-2)!, ray.at(-1)!];
      return [
        { style: 'nullRay', open: ray, id: main.id },
        ...midArrow('nullArrow', from, to, shown, ARROW_AT),
        ...midArrow('nullArrow', to, from, shown, ARROW_AT),
      ];
    }),
    ...profileOf(main, view).map(
      (piece): Shape => ({ style: 'tested', open: piece.map(flat), id: main.test.surface }),
    ),
    ...sections.map((section): Shape => ({ style: 'mainPattern', open: section, id: main.id })),
  ];
  return { shapes, named: isNumbered ? [lettered(sections.at(-1)!)] : [] };
}

/** Of the shown run: the arrows of the way out and of the way back stand apart. */
const ARROW_AT = 0.62;
/** Slices of a bundle in air, which narrows where its rays cross. */
const SLICES = 32;

/** What straight rays cover, slice by slice along them. */
function bundle(rays: readonly (readonly [Vec2, Vec2])[], count: number): readonly Vec2[] {
  const slices = Array.from({ length: count + 1 }, (_, k) =>
    rays
      .map(([from, to]): Vec2 => {
        const share = k / count;
        return [from[0] + share * (to[0] - from[0]), from[1] + share * (to[1] - from[1])];
      })
      .toSorted((a, b) => a[1] - b[1]),
  );
  return [...slices.map((slice) => slice[0]!), ...slices.map((slice) => slice.at(-1)!).toReversed()];
}

/** Half the width of the pattern's mark as names see it, mm. */
const HALF_MARK = 0.7;

function lettered([low, high]: readonly Vec2[]): Named {
  const [[right, bottom], [, top]] = [low!, high!];
  const box = { left: right - HALF_MARK, right: right + HALF_MARK, bottom, top };
  return { text: 'M', sort: 'patch', at: [right, (bottom + top) / 2], polygon: rectangle(box) };
}
