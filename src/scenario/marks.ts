/** What a scenario asks of the marks on the glass: which there are, and where those stand that it places itself. mm. */
import type { Vec2 } from '../geometry/vector.ts';

export type MarkKind = 'fiducials' | 'orientation' | 'patches' | 'drawing' | 'side' | 'serial' | 'bars';

/** `auto`: placed by the program; points: middles of the marks, in the substrate frame. */
export type MarkWish = 'auto' | 'none' | readonly Vec2[];

export type MarkWishes = {
  readonly [kind in MarkKind]: MarkWish;
} & {
  /** Of the letters; undefined: as large as common practice has it, less where there is no room. */
  readonly height: number | undefined;
};
