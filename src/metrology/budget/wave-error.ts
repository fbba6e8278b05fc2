/**
 * An error that changes the waves that leave the hologram: what the readings show of it, and what is left of that where the test wavefront
 * goes along. With a surface under test its null is known (null-share.ts); without one the null is taken to follow as a rigid body, as far
 * as the caller says. mm and rad, motions in the part frame about its origin.
 */
import type { Design } from '../../design/design.ts';
import { placeFromParent, rotateBack } from '../../geometry/frame.ts';
import { sensitivityRow } from '../sensing/sensitivity.ts';
import { type ErrorSource, effectsOn } from './error-source.ts';
import { nullShare, type PatternChange } from './null-share.ts';
import { type Reading, shownBy } from './readings.ts';

/** What a reading shows of a motion of the part, a reference going along: x, y, z, rx, ry, rz. */
export function partRow(
  { scenario }: Design,
  { reference, direction, moment }: Pick<Reading, 'reference' | 'direction' | 'moment'>,
): readonly number[] {
  const { frame } = scenario.part;
  const row = sensitivityRow(rotateBack(frame.rotation, direction), placeFromParent(frame, reference.at));
  if (moment === undefined) return row;
  const turn = rotateBack(frame.rotation, moment);
  return row.map((entry, k) => (k < 3 ? entry : entry + turn[k - 3]!));
}

/** What a reading shows of a motion of the part, mm. */
const movedWith = (design: Design, reading: Reading, motion: ArrayLike<number>): number =>
  partRow(design, reading).reduce((sum, entry, k) => sum + entry * motion[k]!, 0);

/** What an error of the waves does, for one unit of it. */
export type WaveError = Pick<ErrorSource, 'effects' | 'inHologram' | 'ofNull'>;

/** `rigid`: the motion that the null is taken to make where it is not known. */
export function waveError(
  design: Design,
  readings: readonly Reading[],
  change: PatternChange,
  rigid?: ArrayLike<number>,
): WaveError {
  const shown = readings.map((reading) => shownBy(design, reading, change));
  const inHologram = effectsOn(readings.keys(), (k) => shown[k]!);
  const ofNull = nullShare(design, change, rigid);
  const move = ofNull?.move ?? rigid;
  if (move === undefined) return { effects: inHologram };
  // A length measured otherwise stays while the null moves; where the null is not known, it is taken to be measured from what follows it.
  const common = readings.map((reading) =>
    reading.from === undefined && ofNull === undefined ? 0 : movedWith(design, reading, move),
  );
  return {
    effects: effectsOn(readings.keys(), (k) => shown[k]! - common[k]!),
    inHologram,
    ...(ofNull === undefined ? {} : { ofNull }),
  };
}
