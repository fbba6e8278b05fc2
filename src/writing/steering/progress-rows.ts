/**
 * How far the alignment has come and what to move now, for a program to read: part of a report on steering. µm, µrad and turns; residuals in the
 * reading's own unit.
 */
import type { Design } from '../../design/design.ts';
import { isSuspect, type Progress } from '../../metrology/steering/progress.ts';
import { stageTurns } from '../../metrology/steering/stage.ts';
import type { Steering } from '../../metrology/steering/steering.ts';
import { labelOf, type SteeringReading } from '../../metrology/steering/steering-readings.ts';
import type { Step } from '../../metrology/steering/step.ts';
import { askedMoves, leftOutOfPart } from '../../metrology/steering/told-moves.ts';
import { UM_PER_MM } from '../../quantity/conversion.ts';
import type { BenchMove } from '../../scenario/bench-session.ts';
import { moveRow, xyz } from './bench-figures.ts';

/** What to move now of it all, and what is left out of that. */
export function stepRow(design: Design, steering: Steering, { fraction, reason, reading }: Step) {
  const moves = askedMoves(steering, fraction);
  const leftOut = leftOutOfPart(steering);
  return {
    fraction,
    reason: reason ?? null,
    reading: reading ?? null,
    part: moves.part === undefined ? null : moveRow(moves.part),
    references: Object.fromEntries(
      [...moves.references].map(([id, move]) => [id, { move_um: xyz(move, UM_PER_MM) }] as const),
    ),
    ...screwsRow(design, steering, moves),
    leftOut: leftOut === undefined ? null : moveRow(leftOut),
  };
}

function screwsRow({ scenario: { stage } }: Design, { part: { pose } }: Steering, { part }: BenchMove) {
  if (stage.length === 0 || part === undefined) return {};
  const { turns } = stageTurns(stage, part, pose.size);
  return { screws: Object.fromEntries(stage.map(({ id }, k) => [id, turns[k]!] as const)) };
}

export function progressRows({ done, settled, atRest, over, undecided, left }: Progress) {
  return {
    done,
    settled,
    atRest,
    over,
    undecided,
    left: left.map((each) => {
      const { reading, residual } = each;
      return {
        name: labelOf(reading),
        ...leftRow(reading, residual),
        normalised: each.normalised ?? null,
        suspect: isSuspect(each),
      };
    }),
  };
}

/** What the moves leave of a reading, in its own unit. */
function leftRow({ reading, perMm, term, unit }: SteeringReading, residual: number | undefined) {
  const left = residual === undefined ? null : residual * perMm;
  if (term !== undefined && unit === 'waves') return { residual_waves: left };
  if (term !== undefined || reading.from !== undefined) return { residual_fringes: left };
  return { residual_um: residual === undefined ? null : residual * UM_PER_MM };
}
