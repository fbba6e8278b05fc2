/**
 * The pictures that `fringes` makes: the whole aperture; for each patch a strip from far off to aligned (and, of a point focus, one fringe
 * off along its other senses), each patch at the user's own displacements; and of the null of the surface under test, in
 * place and with the part off along each degree. Their names sort in the order of work: the patch's place in
 * it, its number on the sheet and its id, the state's place in the strip.
 */
import type { Design, DesignedPatch } from '../../design/design.ts';
import type { MainPattern } from '../../design/main-pattern.ts';
import { dot, type Vec3 } from '../../geometry/vector.ts';
import {
  aperturePicture,
  type GreyPicture,
  nullPicture,
  type PictureWishes,
  patchPicture,
} from '../../metrology/camera/fringe-picture.ts';
import {
  benchState,
  type Displacements,
  type RigidMotion,
} from '../../metrology/camera/fringe-picture-displacements.ts';
import { type StripState, stripStates } from '../../metrology/camera/fringe-picture-strip.ts';
import { apertureWindow } from '../../metrology/camera/fringe-picture-window.ts';
import { partMoved, type ShownMotion, shownMotions } from '../../metrology/null/null-fringes.ts';
import type { RingBody } from '../../metrology/rings/ring-moves.ts';
import { ringStates } from '../../metrology/rings/ring-strip.ts';
import { isRing, ringCountsAt } from '../../metrology/rings/ring-trace.ts';
import { fringesAtNull } from '../../metrology/sensing/null-fringes.ts';
import { inOrderOfWork } from '../../metrology/sensing/order-of-work.ts';
import { RING_COUNTS } from '../../metrology/sensing/ring-count.ts';
import { sensesOf } from '../../metrology/sensing/sensitivity.ts';
import type { Degree } from '../../scenario/scenario.ts';
import { withNumbers } from './patch-numbers.ts';

export interface SetOptions extends Omit<PictureWishes, 'displacements'> {
  /** By id; all where undefined. */
  readonly patches?: readonly string[];
  /** The user's own case. */
  readonly at?: Displacements;
}

export interface NamedPicture {
  readonly file: string;
  /** Undefined for the whole aperture. */
  readonly patch: string | undefined;
  readonly state: StateName;
  /** Of the patch's reference in the hologram's frame, mm; undefined for the whole aperture and for a ring. */
  readonly displacement: Vec3 | undefined;
  /** Of a ring on its way to alignment: what is moved, about its own frame's origin; mm, radians. */
  readonly moved?: ({ readonly of: RingBody } & RigidMotion) | undefined;
  /**
   * Fringes beyond those of the design place along each of the patch's senses, to first order in the displacement; of a ring as they are
   * counted, tilt along the substrate's x and y, and power, none where too little light comes back.
   */
  readonly fringes: readonly number[];
  /** What the patch shows at the design place; undefined for the whole aperture, and where nothing comes back. */
  readonly fringesAtNull: number | undefined;
  /** Of the null: the part's motion along the degree that is the state's name. */
  readonly motion?: ShownMotion;
  readonly picture: GreyPicture;
}

type StateName = StripState['name'] | Degree | 'second direction' | 'along the light' | 'displaced';

/** Throws a RangeError where the displaced hologram leaves the beam nowhere to come from. */
export function pictureSet(design: Design, options: SetOptions): readonly NamedPicture[] {
  const pictures = [apertureOf(design, options, 'aligned', {})];
  if (options.at !== undefined) pictures.push(apertureOf(design, options, 'displaced', options.at));
  const { main } = design;
  const digits = Math.max(2, String(design.patches.length + 1).length);
  const prefixed = (step: number): string => String(step).padStart(digits, '0');
  for (const [step, patch] of inOrderOfWork(design).entries()) {
    if (!(options.patches?.includes(patch.id) ?? true)) continue;
    pictures.push(...patchPictures(design, patch, options, prefixed(step + 1)));
  }
  // The null comes last: the patches place the part first.
  if (main !== undefined && (options.patches?.includes(main.id) ?? true))
    pictures.push(...nullPictures(design, main, options, prefixed(design.patches.length + 1)));
  return pictures;
}

function nullPictures(
  design: Design,
  main: MainPattern,
  options: SetOptions,
  prefix: string,
): NamedPicture[] {
  const of = (
    place: number,
    state: StateName,
    displacements: Displacements,
    motion?: ShownMotion,
  ): NamedPicture => ({
    ...{ file: `${prefix}-null-${main.id}-${place}-${state}.png`, patch: main.id, state },
    ...{ displacement: undefined, fringes: [], fringesAtNull: 0 },
    ...(motion === undefined ? {} : { motion }),
    picture: nullPicture(design, main, { ...options, displacements }),
  });
  return [
    of(1, 'aligned', {}),
    ...shownMotions(design).map((motion, k) => of(k + 2, motion.degree, partMoved(motion), motion)),
    ...(options.at === undefined ? [] : [of(8, 'displaced', options.at)]),
  ];
}

function patchPictures(
  design: Design,
  patch: DesignedPatch,
  options: SetOptions,
  prefix: string,
): NamedPicture[] {
  if (isRing(patch)) return ringPictures(design, patch, options, prefix);
  const { id, reference } = patch;
  const number = design.patches.indexOf(patch) + 1;
  const atNull = fringesAtNull(design, patch);
  const states = stripStates(sensesOf(design, patch)).map((state) => ({
    name: stateName(state),
    displacements: { references: new Map([[reference.id, state.displacement]]) } as Displacements,
  }));
  if (options.at !== undefined) states.push({ name: 'displaced', displacements: options.at });
  return states.flatMap(({ name, displacements }, k): NamedPicture[] => {
    const picture = patchPicture(design, patch, { ...options, displacements });
    if (picture === undefined) return [];
    const displacement = benchState(design, displacements).displacementOf(reference);
    const fringes = sensesOf(design, patch).map(
      ({ direction, fringesPerMm }) => dot(displacement, direction) * fringesPerMm,
    );
    const file = `${prefix}-patch-${number}-${id}-${k + 1}-${name.replaceAll(' ', '-')}.png`;
    return [{ file, patch: id, state: name, displacement, fringes, fringesAtNull: atNull, picture }];
  });
}

/** Of a ring: by motions of the hologram or of the part. */
function ringPictures(
  design: Design,
  patch: DesignedPatch,
  options: SetOptions,
  prefix: string,
): NamedPicture[] {
  const number = design.patches.indexOf(patch) + 1;
  const atNull = fringesAtNull(design, patch);
  const states: readonly RingPicture[] = ringStates(design, patch).map(
    ({ name, move, fringes, motion, displacements }) => ({
      name: ringStateName(name, move.count),
      displacements,
      counts: RING_COUNTS.map((_, count) => (count === move.count ? fringes : 0)),
      moved: { of: move.of, ...motion },
    }),
  );
  const { at } = options;
  const displaced: readonly RingPicture[] =
    at === undefined
      ? []
      : [
          {
            name: 'displaced',
            displacements: at,
            counts: ringCountsAt(design, patch, at) ?? [],
            moved: undefined,
          },
        ];
  return [...states, ...displaced].flatMap(({ name, displacements, counts, moved }, k): NamedPicture[] => {
    const picture = patchPicture(design, patch, { ...options, displacements });
    if (picture === undefined) return [];
    const file = `${prefix}-patch-${number}-${patch.id}-${k + 1}-${name.replaceAll(' ', '-')}.png`;
    const about = { displacement: undefined, moved, fringes: counts, fringesAtNull: atNull };
    return [{ file, patch: patch.id, state: name, ...about, picture }];
  });
}

interface RingPicture {
  readonly name: StateName;
  readonly displacements: Displacements;
  readonly counts: readonly number[];
  readonly moved: NamedPicture['moved'];
}

const apertureOf = (
  design: Design,
  options: SetOptions,
  state: 'aligned' | 'displaced',
  displacements: Displacements,
): NamedPicture => ({
  file: state === 'aligned' ? '00-aperture-1-aligned.png' : '00-aperture-2-displaced.png',
  patch: undefined,
  state,
  displacement: undefined,
  fringes: [],
  fringesAtNull: undefined,
  picture: numbered(design, { ...options, size: APERTURE * options.size, displacements }),
});

/** Without numbers where it is to look as a camera's picture does. */
function numbered(design: Design, wishes: PictureWishes): GreyPicture {
  const picture = aperturePicture(design, wishes);
  if (wishes.camera !== undefined) return picture;
  return withNumbers(picture, design, apertureWindow(design, wishes.size), wishes.orientation);
}

/** The whole aperture has this many times the pixels of a patch's picture a side. */
const APERTURE = 2;

const stateName = ({ name, sense }: StripState): StateName =>
  sense === 0 ? name : sense === 1 ? 'second direction' : 'along the light';
/** Tilt is counted first, along x and along y. */
const ringStateName = (name: StripState['name'], count: number): StateName =>
  name !== 'one fringe' || count === 0 ? name : count === 1 ? 'second direction' : 'along the light';
