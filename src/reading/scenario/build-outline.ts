/** Outline words to outlines where they stand: diameters become radii, the patch's centre is added. mm and radians. */
import type { Outline, Vec2 } from '../../scenario/placing.ts';
import { simplePolygon } from '../../scenario/simple-polygon.ts';
import { assemble, assembleList, FAULTY, type Field, ownEntry, type Read } from '../yaml/field.ts';
import { angle, type Limits, length, point2, quantity } from '../yaml/values.ts';

const FULL_TURN = 2 * Math.PI;
/** mm: from a tenth of a micrometre, finer than patterns are written, to ten metres, more than any blank has. */
const SIZES: Limits = { atLeast: 1e-4, atMost: 1e4 };
const SIZES_OR_NONE: Limits = { ...SIZES, atLeast: 0 };

/** The outline about `about`, which is FAULTY where the patch's centre is: the words are checked all the same. */
export function buildOutline(field: Field, about: Read<Vec2>): Read<Outline> {
  const shape = field.entries()[0];
  if (shape === undefined || field.entries().length !== 1) return FAULTY;
  const own = point2(shape.get('centre'), [0, 0]);
  const centre: Read<Vec2> =
    own === FAULTY || about === FAULTY ? FAULTY : ([own[0] + about[0], own[1] + about[1]] as const);
  return ownEntry(BUILDERS, shape.name)?.(shape, centre) ?? FAULTY;
}

const BUILDERS: {
  readonly [shape: string]: ((field: Field, centre: Read<Vec2>) => Read<Outline>) | undefined;
} = {
  circle: (field, centre) =>
    assemble({ shape: 'circle', centre, radius: half(length(field.get('diameter'), SIZES)) }),
  rectangle: (field, centre) =>
    assemble({
      shape: 'rectangle',
      centre,
      width: length(field.get('width'), SIZES),
      height: length(field.get('height'), SIZES),
      rotation: quantity(field.get('rotation'), 'angle', {}, 0),
    }),
  ellipse: (field, centre) =>
    assemble({
      shape: 'ellipse',
      centre,
      ...axes(field),
      rotation: quantity(field.get('rotation'), 'angle', {}, 0),
    }),
  ring: (field, centre) => assemble({ shape: 'ring', centre, ...radii(field, SIZES) }),
  sector: (field, centre) =>
    assemble({ shape: 'sector', centre, ...radii(field, SIZES_OR_NONE), ...span(field) }),
  polygon: (field, centre) => {
    const points = corners(field.get('points'));
    if (points === FAULTY || centre === FAULTY) return FAULTY;
    const placed = points.map(([x, y]) => [x + centre[0], y + centre[1]] as const);
    return assemble({ shape: 'polygon', points: placed });
  },
};

const half = (diameter: Read<number>): Read<number> => (diameter === FAULTY ? FAULTY : diameter / 2);

/** No patch is so slender; the arcs of one keep their digits up to it. */
const MOST_SLENDER = 1000;

function axes(field: Field): { width: Read<number>; height: Read<number> } {
  const width = length(field.get('width'), SIZES);
  const height = length(field.get('height'), SIZES);
  if (width === FAULTY || height === FAULTY) return { width, height };
  const slender = Math.max(width, height) / Math.min(width, height);
  if (slender <= MOST_SLENDER) return { width, height };
  const message = `the ellipse is ${Number(slender.toPrecision(4))} times as long as it is wide; at most ${MOST_SLENDER} times can be drawn`;
  const longer = width > height ? 'width' : 'height';
  const report = field.get(longer).report('bad-outline', message, 'check the units, or use a rectangle');
  return { width, height, [longer]: report };
}

function radii(field: Field, limits: Limits): { inner: Read<number>; outer: Read<number> } {
  const inner = half(length(field.get('inner'), limits));
  const outer = half(length(field.get('outer'), SIZES));
  if (inner === FAULTY || outer === FAULTY || outer > inner) return { inner, outer };
  const message = `the outer diameter, ${2 * outer} mm, is not larger than the inner diameter, ${2 * inner} mm`;
  return {
    inner,
    outer: field
      .get('outer')
      .report('bad-outline', message, 'give a larger outer diameter; both are diameters, not radii'),
  };
}

function span(field: Field): { from: Read<number>; to: Read<number> } {
  const from = angle(field.get('from'));
  const to = angle(field.get('to'));
  if (from === FAULTY || to === FAULTY || (to > from && to - from < FULL_TURN)) return { from, to };
  const turned = Number((((to - from) * 180) / Math.PI).toPrecision(7));
  const hint = turned > 0 ? 'use a ring or a circle' : 'add 360 to `to`, or swap the two';
  const message = `the sector turns by ${turned} deg from \`from\` to \`to\`; it must be more than 0 and less than 360`;
  return { from, to: field.get('to').report('bad-outline', message, hint) };
}

/** A corner about the outline's own place, no further off than the largest outline reaches. */
function corner(field: Field): Read<Vec2> {
  const given = point2(field);
  if (given === FAULTY || given.every((value) => Math.abs(value) <= SIZES.atMost!)) return given;
  const hint = `expected lengths within ${SIZES.atMost} mm; check the unit`;
  return field.report('out-of-range', `a corner is at [${given.join(', ')}] mm`, hint);
}

function corners(field: Field): Read<readonly Vec2[]> {
  if (!Array.isArray(field.value) || field.value.length < 3) return FAULTY;
  const points = assembleList(field.items().map((item) => corner(item)));
  if (points === FAULTY) return FAULTY;
  const polygon = simplePolygon(points);
  if (!('fault' in polygon)) return polygon.points;
  const hint = 'list the corners in order along the edge, each only once';
  return field
    .items()
    [polygon.at]!.report('bad-outline', `the polygon is not simple: ${polygon.fault}`, hint);
}
