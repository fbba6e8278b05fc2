/**
 * What a panel of the bench drawing is made of. Places are mm on paper, [right, up], the origin of the substrate frame at [0, 0]: a
 * place of the bench divided by the panel's scale. Layers are told apart by line style and fill, not by colour alone.
 */
import type { Vec2 } from '../../geometry/vector.ts';
import { boxOf, grown } from '../drawing/boxes.ts';
import type { Box } from '../drawing/drawing.ts';
import {
  AMBER,
  BLUE,
  FACT_FILL,
  GREY,
  HEAD_FILL,
  INK,
  PATCH_FILL,
  PLENTY,
  QUIET_INK,
  RULE,
} from '../palette.ts';

interface Style {
  readonly stroke: string;
  /** mm on paper. */
  readonly width: number;
  readonly dash?: string;
  /** Of closed shapes. */
  readonly fill?: string;
  readonly fillOpacity?: number;
  /** In the legend; undefined for what needs none. */
  readonly means?: string;
}

/** In the order in which they are drawn. */
const STYLES = {
  axis: { stroke: RULE, width: 0.18, dash: '6 1 0.6 1' },
  lit: { stroke: 'none', width: 0, fill: AMBER, fillOpacity: 0.12 },
  cone: { stroke: BLUE, width: 0.15, fill: BLUE, fillOpacity: 0.1, means: 'all light of a patch' },
  nullCone: { stroke: BLUE, width: 0.1, dash: '1 0.8', fill: PLENTY, fillOpacity: 0.16 },
  part: { stroke: INK, width: 0.5, fill: HEAD_FILL, means: 'part (envelope)' },
  obstacle: { stroke: GREY, width: 0.5, dash: '3 0.8 0.6 0.8', fill: RULE, means: 'obstacle' },
  glass: { stroke: INK, width: 0.35, fill: PATCH_FILL, means: 'hologram' },
  seat: { stroke: QUIET_INK, width: 0.25, fill: FACT_FILL, means: 'seat on the glass' },
  beam: { stroke: AMBER, width: 0.35, dash: '4 1.2', means: 'edge of the beam' },
  beyond: { stroke: AMBER, width: 0.35, dash: '0.5 1', means: 'beam without the hologram, to its focus' },
  chief: { stroke: BLUE, width: 0.3, means: 'light from the middle of a patch' },
  nullRay: {
    stroke: BLUE,
    width: 0.3,
    dash: '5 0.8 1.2 0.8',
    means: 'edge of the main pattern’s light, out and back',
  },
  pattern: { stroke: BLUE, width: 0.9, means: 'patch' },
  mainPattern: { stroke: INK, width: 1.3, means: 'main pattern' },
  tested: { stroke: BLUE, width: 0.8, means: 'surface under test, over its aperture' },
  feature: { stroke: INK, width: 0.3, dash: '2 0.8', means: 'datum; arrow: out of the material' },
  reference: { stroke: INK, width: 0.4, fill: '#ffffff' },
  ballSign: { stroke: INK, width: 0.25, means: 'ball' },
  cubeSign: { stroke: INK, width: 0.3, means: 'retroreflector, open toward its patches' },
  screenSign: { stroke: INK, width: 0.3, means: 'screen' },
  mark: { stroke: INK, width: 0.25 },
  frame: { stroke: GREY, width: 0.25, means: 'origin and axes of the part' },
  arrow: { stroke: 'none', width: 0, fill: INK },
  lightArrow: { stroke: 'none', width: 0, fill: BLUE },
  nullArrow: { stroke: 'none', width: 0, fill: BLUE },
  beamArrow: { stroke: 'none', width: 0, fill: AMBER },
  detail: { stroke: QUIET_INK, width: 0.25, dash: '1 0.8' },
} as const satisfies Record<string, Style>;

export type StyleName = keyof typeof STYLES;
export const STYLE_NAMES = Object.keys(STYLES) as readonly StyleName[];
export const styleOf = (name: StyleName): Style => STYLES[name];

export type Shape = {
  readonly style: StyleName;
  /** Of what it is, such as `north`; goes into the file. */
  readonly id?: string;
} & (
  | { readonly closed: readonly Vec2[] }
  | { readonly open: readonly Vec2[] }
  | { readonly circle: Vec2; readonly radius: number }
);

/** Of arrowheads, along them and across. */
const HEAD = [2.2, 1.3] as const;

/** An open arrowhead with its tip at `tip`, which tells an axis from a normal; none where there is no direction. */
function openArrowhead(style: StyleName, tip: Vec2, direction: Vec2): Shape[] {
  return corners(tip, direction).map(([left, right]) => ({ style, open: [left, tip, right] }));
}

/** A filled arrowhead with its tip at `tip`; none where there is no direction. */
export function arrowhead(style: StyleName, tip: Vec2, direction: Vec2): Shape[] {
  return corners(tip, direction).map(([left, right]) => ({ style, closed: [tip, left, right] }));
}

/** The back corners of an arrowhead; none where there is no direction. */
function corners(tip: Vec2, direction: Vec2): (readonly [Vec2, Vec2])[] {
  const size = Math.sqrt(direction[0] ** 2 + direction[1] ** 2);
  if (!(size > 0)) return [];
  const [u, v] = [direction[0] / size, direction[1] / size];
  const [along, across] = [HEAD[0], HEAD[1] / 2];
  const base: Vec2 = [tip[0] - along * u, tip[1] - along * v];
  return [
    [
      [base[0] - across * v, base[1] + across * u],
      [base[0] + across * v, base[1] - across * u],
    ],
  ];
}

/** A polyline with an arrowhead at its end. */
export const arrow = (line: StyleName, head: StyleName, from: Vec2, to: Vec2): Shape[] => [
  { style: line, open: [from, to] },
  ...arrowhead(head, to, [to[0] - from[0], to[1] - from[1]]),
];

/** An axis of a frame. */
export const axis = (style: StyleName, from: Vec2, to: Vec2): Shape[] => [
  { style, open: [from, to] },
  ...openArrowhead(style, to, [to[0] - from[0], to[1] - from[1]]),
];

/** Two strokes through a point. */
export const cross = ([x, y]: Vec2, half: number, style: StyleName = 'mark'): Shape[] => [
  { style, open: [[x - half, y], [x + half, y]] }, // biome-ignore format: a line
  { style, open: [[x, y - half], [x, y + half]] }, // biome-ignore format: a line
];

/** The corners that bound a shape. */
export function boundsOfShape(shape: Shape): Box {
  if (!('circle' in shape)) return boxOf('closed' in shape ? shape.closed : shape.open);
  const { circle, radius } = shape;
  return grown(boxOf([circle]), radius);
}
