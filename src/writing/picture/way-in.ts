/**
 * Moving pictures of the way in to alignment, frame by frame: small, in sixteen greys, traced and without noise. Steps get shorter toward
 * the end, where fringes are counted; the last frame is the bench in place.
 */
import type { Design } from '../../design/design.ts';
import {
  aperturePicture,
  type GreyPicture,
  nullPicture,
  patchPicture,
} from '../../metrology/camera/fringe-picture.ts';
import type { Displacements } from '../../metrology/camera/fringe-picture-displacements.ts';
import { apertureWindow, patchWindow } from '../../metrology/camera/fringe-picture-window.ts';
import { apertureWaysIn, nullWaysIn, type WayIn, waysIn } from '../../metrology/job/way-in.ts';
import { isRing } from '../../metrology/rings/ring-trace.ts';
import { fringesAtNull } from '../../metrology/sensing/null-fringes.ts';
import { inOrderOfWork } from '../../metrology/sensing/order-of-work.ts';
import { withNumbers } from './patch-numbers.ts';
import type { SetOptions } from './picture-set.ts';
import { pngBytes } from './png.ts';

export interface Film {
  /** Undefined for the whole aperture. */
  readonly patch: string | undefined;
  readonly way: WayIn;
  /** What the patch shows in place; undefined for the aperture. */
  readonly fringesAtNull: number | undefined;
  readonly size: number;
  readonly frames: readonly Frame[];
}

interface Frame {
  /** Of the start that is left: 1 to 0. */
  readonly share: number;
  readonly png: Uint8Array;
}

/** Pixels a side. A ring is narrow in its square, and patches in the aperture. */
const SIZES = { patch: 96, ring: 192, aperture: 256 } as const;
/** Of an aperture, which takes longer to trace and more room on the page. */
const FRAMES = { patch: 11, aperture: 9 } as const;

/** In the order of the pictures: the aperture, the patches, the null. */
export const films = (design: Design, options: SetOptions): readonly Film[] => [
  ...apertureFilms(design, options),
  ...patchFilms(design, options),
];

/** The whole aperture, with the part off along each degree that is seen. */
export function apertureFilms(design: Design, { orientation }: SetOptions): readonly Film[] {
  const size = SIZES.aperture;
  const grid = apertureWindow(design, size);
  return apertureWaysIn(design, grid.pitch).map((way) =>
    film({ patch: undefined, fringesAtNull: undefined, size, way }, FRAMES.aperture, (displacements) =>
      withNumbers(aperturePicture(design, { size, orientation, displacements }), design, grid, orientation),
    ),
  );
}

/** In the order of the pictures: the patches in the order of work, then the null. */
export function patchFilms(design: Design, { orientation, patches }: SetOptions): readonly Film[] {
  const isAsked = ({ id }: { readonly id: string }): boolean => patches?.includes(id) ?? true;
  const { main } = design;
  return [
    ...inOrderOfWork(design)
      .filter(isAsked)
      .flatMap((patch) => {
        const size = isRing(patch) ? SIZES.ring : SIZES.patch;
        const about = { patch: patch.id, fringesAtNull: fringesAtNull(design, patch), size };
        return waysIn(design, patch, patchWindow(patch, size).pitch).map((way) =>
          film({ ...about, way }, FRAMES.patch, (displacements) =>
            patchPicture(design, patch, { size, orientation, displacements }),
          ),
        );
      }),
    ...(main === undefined || !isAsked(main) ? [] : nullWaysIn(design)).map((way) =>
      film({ patch: main!.id, fringesAtNull: 0, size: SIZES.ring, way }, FRAMES.aperture, (displacements) =>
        nullPicture(design, main!, { size: SIZES.ring, orientation, displacements }),
      ),
    ),
  ];
}

const film = (
  about: Omit<Film, 'frames'>,
  count: number,
  pictureAt: (displacements: Displacements) => GreyPicture | undefined,
): Film => ({
  ...about,
  frames: sharesOf(count).flatMap((share) => {
    const picture = pictureAt(about.way.at(share));
    return picture === undefined ? [] : [{ share, png: pngBytes(inSixteenGreys(picture)) }];
  }),
});

/** From 1 to 0, each step shorter than the one before. */
const sharesOf = (count: number): readonly number[] =>
  Array.from({ length: count }, (_, k) => (1 - k / (count - 1)) ** 2);

/** Fewer greys pack to a third, and the eye does not miss the rest on small pictures. */
const inSixteenGreys = ({ width, height, grey }: GreyPicture): GreyPicture => ({
  width,
  height,
  grey: grey.map((level) => 17 * Math.round(level / 17)),
});
