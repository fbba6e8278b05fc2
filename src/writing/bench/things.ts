/**
 * What stands on the bench, seen in one view: glass, part, obstacles, seats and references, with their names. mm of the bench,
 * [right, up].
 */
import type { Design } from '../../design/design.ts';
import { boundsOf } from '../../geometry/extent.ts';
import type { Vec2 } from '../../geometry/vector.ts';
import { isReadBy, kindOf } from '../../kinds/kinds.ts';
import { envelopeOf, mountsOf } from '../../metrology/sight/obstacles.ts';
import { faceHeight, seatCentre } from '../../metrology/sight/seats.ts';
import { trimmed } from '../../quantity/format.ts';
import type { Reference } from '../../scenario/scenario.ts';
import { drawable } from '../drawing/lettering.ts';
import { type Projection, silhouette } from './projection.ts';
import type { StyleName } from './shapes.ts';

/** Which panels name it: everything is drawn in all of them. */
export type NamedIn = 'overview' | 'glass' | 'references';

export interface Thing {
  readonly style: StyleName;
  readonly id: string;
  /** Undefined: it has no name on the drawing. */
  readonly name: string | undefined;
  readonly namedIn: NamedIn;
  readonly outline:
    | { readonly polygon: readonly Vec2[] }
    | { readonly centre: Vec2; readonly radius: number };
}

const LONGEST_NAME = 24;
export const shortName = (id: string): string => drawable(id, LONGEST_NAME);

/** In the order in which they are drawn. */
export function thingsOf(design: Design, view: Projection): readonly Thing[] {
  const { scenario } = design;
  return [
    ...envelopeOf(scenario.part).map(
      ({ hull }, k): Thing => ({
        style: 'part',
        id: `envelope ${k + 1}`,
        name: k === 0 ? 'part' : undefined,
        namedIn: 'references',
        outline: { polygon: silhouette(hull(), view) },
      }),
    ),
    ...mountsOf(scenario).map(
      ({ hull, obstacle }): Thing => ({
        style: 'obstacle',
        id: obstacle.name,
        name: shortName(obstacle.name),
        namedIn: 'overview',
        outline: { polygon: silhouette(hull(), view) },
      }),
    ),
    glassOf(design, view),
    ...scenario.seats.map(
      (seat, k): Thing => ({
        style: 'seat',
        id: seat.id,
        name: `SEAT ${k + 1}`,
        namedIn: 'glass',
        outline: { centre: view.flat(seatCentre(design, seat)), radius: seat.diameter / 2 },
      }),
    ),
    ...design.references.filter(isRound).map(
      (reference): Thing => ({
        style: 'reference',
        id: reference.id,
        name: shortName(reference.id),
        namedIn: 'references',
        outline: { centre: view.flat(reference.at), radius: (reference.diameter ?? 0) / 2 },
      }),
    ),
  ];
}

/** Whether its sphere is a thing of its own: a screen is flat. */
const isRound = (reference: Reference): boolean => standsInSpace(reference) && !isReadBy(reference, 'mark');

/** Whether it is a thing at a place, not a feature of the part or the interferometer. */
export const standsInSpace = (reference: Reference): boolean =>
  kindOf(reference).inScenario.place === 'given';

function glassOf(design: Design, view: Projection): Thing {
  const { minX, maxX, minY, maxY } = boundsOf(design.scenario.substrate.outline);
  const [low, high] = view.up === 'x' ? [minX, maxX] : [minY, maxY];
  const [back, front] = [faceHeight(design, 'interferometer'), faceHeight(design, 'part')];
  return {
    style: 'glass',
    id: 'hologram',
    name: 'hologram',
    namedIn: 'glass',
    outline: {
      polygon: [
        [back, low],
        [front, low],
        [front, high],
        [back, high],
      ],
    },
  };
}

/** Such as `ball Ø12.7`. */
export function kindAndSize(reference: Reference): string {
  const { short } = kindOf(reference).words;
  return reference.diameter === undefined ? short : `${short} Ø${trimmed(reference.diameter, 3)}`;
}

/** Where all references are of one kind and size, that is said once. */
export function commonKind({ references }: Pick<Design, 'references'>): string | undefined {
  const kinds = new Set(references.filter(standsInSpace).map(kindAndSize));
  return kinds.size === 1 ? [...kinds][0] : undefined;
}

/** Corners of the upright box around a thing. */
export function extremes({ outline }: Thing): readonly Vec2[] {
  if ('polygon' in outline) return outline.polygon;
  const { centre, radius } = outline;
  return [
    [centre[0] - radius, centre[1] - radius],
    [centre[0] + radius, centre[1] + radius],
  ];
}
