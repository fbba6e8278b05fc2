/** What the round before tells of readings: whether the moves told from it have led to them, and signs that were not seen. Fringes along the patches' senses; mm. */
import type { Design } from '../../design/design.ts';
import { errorFinding, type Finding } from '../../finding/finding.ts';
import { type BenchReading, subjectOf } from '../../scenario/bench-reading.ts';
import type { BenchMove } from '../../scenario/bench-session.ts';
import type { CameraOrientation } from '../../scenario/camera-orientation.ts';
import { checkMoves, type MovesCheck } from './moves-check.ts';
import { movesFindings } from './moves-findings.ts';
import { predictedReadings } from './moves-predicted.ts';
import { settledSigns } from './settled-signs.ts';
import { type Steering, steer } from './steering.ts';
import { askedMoves, toldMoves } from './told-moves.ts';

interface Since {
  readonly findings: readonly Finding[];
  /** As taken; signs that were not seen as the round before tells them. */
  readonly readings: readonly BenchReading[];
}

/** `moves`: those made since; by default the step that is told from the readings before, or the whole of the moves, whichever led here. */
export function movesSince(
  design: Design,
  before: readonly BenchReading[],
  taken: readonly BenchReading[],
  orientation: CameraOrientation,
  moves?: BenchMove,
): Since {
  const was = steer(design, before);
  const checkedFor = (made: BenchMove) => {
    const check = checkMoves(design, { predicted: predictedReadings(design, was, made), taken }, orientation);
    return { made, check };
  };
  const told = checkedFor(moves ?? toldMoves(design, was));
  const whole = moves === undefined && !isAsPredicted(told.check) ? wholeMoves(was) : undefined;
  const { made, check } = whole === undefined ? told : likelier(told, checkedFor(whole));
  const { readings, findings } = settled(design, was, made, taken);
  return { findings: [...movesFindings(check), ...findings], readings };
}

const isAsPredicted = ({ fits }: MovesCheck): boolean => fits.some(({ kind }) => kind === 'as predicted');

/** Undefined where the hologram is moved, and that at once. */
const wholeMoves = (was: Steering): BenchMove | undefined =>
  was.hologram === undefined ? askedMoves(was) : undefined;

/** What explains the readings goes before what does not; the step told before the whole. */
function likelier<T extends { readonly check: MovesCheck }>(told: T, whole: T): T {
  if (isAsPredicted(whole.check)) return whole;
  return told.check.fits.length === 0 && whole.check.fits.length > 0 ? whole : told;
}

/** Where no moves were asked for: after a trial move where one was told, or with all standing as it did. */
export const signsSince = (
  design: Design,
  before: readonly BenchReading[],
  taken: readonly BenchReading[],
): Since => settled(design, steer(design, before), undefined, taken);

function settled(
  design: Design,
  was: Steering,
  moves: BenchMove | undefined,
  taken: readonly BenchReading[],
): Since {
  const signs = settledSigns(design, was, moves, taken);
  const findings = [...signs.settled].map(([patch, sign]): Finding => {
    const given = taken.find((one) => subjectOf(one) === patch)!;
    const isPair = given.kind === 'fringes' && given.or !== undefined;
    const which = isPair
      ? `${sign > 0 ? 'first' : 'second'} of its two readings is taken`
      : `sign of its reading is taken for ${sign > 0 ? '+' : '−'}`;
    const message = `patch ${patch}: the ${which}, as predicted from the round before`;
    return { ...errorFinding('settled-sign', patch, message), severity: 'note' };
  });
  return { findings, readings: signs.readings };
}
