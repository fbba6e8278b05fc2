/** The light on a panel: the beam with its focus, and what goes from each patch to its reference. mm on paper, [right, up]. */
import type { Design, DesignedPatch } from '../../design/design.ts';
import type { Pattern } from '../../design/pattern.ts';
import { boundsOf, convexHull } from '../../geometry/extent.ts';
import type { Vec2, Vec3 } from '../../geometry/vector.ts';
import { shareInBox } from '../drawing/boxes.ts';
import type { Box } from '../drawing/drawing.ts';
import { beamEdge, cutAtZ, patchLight } from './light-paths.ts';
import { type Drawn, type Named, pointNamed, rectangle } from './names.ts';
import type { Projection } from './projection.ts';
import { arrowhead, cross, type Shape, type StyleName } from './shapes.ts';

export interface Scene {
  readonly design: Design;
  readonly view: Projection;
  /** mm of the bench for one mm on paper. */
  readonly scale: number;
  /** Range of z that is drawn, mm of the bench. */
  readonly from: number;
  readonly to: number;
  /** What of it the panel shows, mm on paper. */
  readonly shown: Box;
}

const onPaper = ({ view, scale }: Scene): ((place: Vec3) => Vec2) => {
  return (place) => {
    const [right, up] = view.flat(place);
    return [right / scale, up / scale];
  };
};

/** `focus`: what it is called on the panel; undefined where it does not show. */
export function drawnBeam(scene: Scene, focus: string | undefined): Drawn {
  const { design, view, from, to, shown: area } = scene;
  const flat = onPaper(scene);
  const { light, beyond } = beamEdge(design, view, -from);
  const rays = light.map((path) => path.map(flat));
  const farther = beyond.map((path) => cutAtZ(path, to).map(flat));
  const { beam } = design.scenario.interferometer;
  const shown = beam.kind === 'collimated' || focus === undefined ? undefined : flat(beam.focus);
  return {
    shapes: [
      { style: 'lit', closed: convexHull(rays.flat()) },
      ...rays.flatMap((ray): Shape[] => [
        { style: 'beam', open: ray },
        ...midArrow('beamArrow', ray[0]!, ray[1]!, area),
      ]),
      ...farther.map((ray): Shape => ({ style: 'beyond', open: ray })),
      ...(shown === undefined
        ? []
        : [...cross(shown, 1.6), { style: 'beamArrow', circle: shown, radius: 0.8, id: 'focus' } as const]),
    ],
    named: shown === undefined ? [] : [pointNamed('focus', focus!, shown)],
  };
}

/** With `numbers`, patches have theirs beside them. */
export function drawnPatch(patch: DesignedPatch, index: number, scene: Scene, numbers: boolean): Drawn {
  const { design, view, from, shown } = scene;
  const flat = onPaper(scene);
  const { middles, bundles } = patchLight(design, patch, view, -from);
  const sections = sectionsOf(patch, view).map(([low, high]): readonly [Vec2, Vec2] => [
    flat(view.up === 'x' ? [low, 0, 0] : [0, low, 0]),
    flat(view.up === 'x' ? [high, 0, 0] : [0, high, 0]),
  ]);
  return {
    shapes: [
      ...bundles.flatMap((bundle) =>
        cones(
          bundle.map((path) => path.map(flat)),
          patch.id,
        ),
      ),
      ...middles.flatMap((path): Shape[] => {
        const middle = path.map(flat);
        return [
          { style: 'chief', open: middle, id: patch.id },
          ...midArrow('lightArrow', middle.at(-2)!, middle.at(-1)!, shown),
        ];
      }),
      ...sections.map((section): Shape => ({ style: 'pattern', open: section, id: patch.id })),
    ],
    named: numbers ? [numbered(index, sections.at(-1)!, design.glass.side === 'after')] : [],
  };
}

/** What a bundle of paths covers, straight run by straight run. */
function cones(paths: readonly (readonly Vec2[])[], id: string): Shape[] {
  const runs = Math.max(0, ...paths.map((path) => path.length - 1));
  return Array.from({ length: runs }, (_, run): Shape => {
    const ends = paths.flatMap((path) => path.slice(run, run + 2));
    return { style: 'cone', closed: convexHull(ends), id };
  });
}

/** Half the width of a pattern's mark as names see it, mm. */
const HALF_MARK = 0.5;

/** `isBare`: the pattern is the first surface, with nothing before it. */
function numbered(index: number, [low, high]: readonly [Vec2, Vec2], isBare: boolean): Named {
  const middle: Vec2 = [low[0], (low[1] + high[1]) / 2];
  const box = {
    left: low[0] - HALF_MARK,
    right: low[0] + HALF_MARK,
    bottom: low[1],
    top: high[1],
  };
  return {
    text: String(index + 1),
    sort: 'patch',
    at: middle,
    polygon: rectangle(box),
    spots: isBare ? [middle, high, low].map(([x, y]) => ({ at: [x - 2 * HALF_MARK, y], anchor: 'end' })) : [],
  };
}

/** Where a pattern lies along the view's upright axis, lowest first: of a ring the two sides that a cut through its centre shows. */
export function sectionsOf({ outline }: Pattern, { up }: Projection): readonly (readonly [number, number])[] {
  if (outline.shape === 'ring') {
    const middle = outline.centre[up === 'x' ? 0 : 1];
    const { inner, outer } = outline;
    return [
      [middle - outer, middle - inner],
      [middle + inner, middle + outer],
    ];
  }
  const { minX, maxX, minY, maxY } = boundsOf(outline);
  return [up === 'x' ? [minX, maxX] : [minY, maxY]];
}

/** An arrowhead past the middle of what is shown of a run, at the share `place` of it; none on a short one. */
export function midArrow(style: StyleName, from: Vec2, to: Vec2, shown: Box, place = ARROW_AT): Shape[] {
  const direction: Vec2 = [to[0] - from[0], to[1] - from[1]];
  const [enters, leaves] = shareInBox(from, to, shown);
  const length = (leaves - enters) * Math.sqrt(direction[0] ** 2 + direction[1] ** 2);
  if (!(length > LEAST_RUN)) return [];
  const share = enters + place * (leaves - enters);
  return arrowhead(style, [from[0] + share * direction[0], from[1] + share * direction[1]], direction);
}

const ARROW_AT = 0.55;
/** mm. */
const LEAST_RUN = 6;
