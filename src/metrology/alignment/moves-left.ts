/** Whether an alignment that was steered in a session was clamped before its moves had come to an end. */
import type { Design } from '../../design/design.ts';
import type { AlignmentLog } from '../../scenario/alignment-log.ts';
import { settledAfter } from '../../scenario/bench-session.ts';
import { progressOf } from '../steering/progress.ts';
import type { Deviation } from './deviations.ts';
import type { SteeredRound } from './rounds.ts';

/** Of a session alone: a log without one keeps a single round before clamping, and says nothing of how it came to it. */
export function movesLeft(
  design: Design,
  { rounds: logged, session }: AlignmentLog,
  rounds: readonly SteeredRound[],
): readonly Deviation[] {
  const k = logged.findIndex(({ round, sessionRound }) => round === 'before' && sessionRound !== undefined);
  if (k < 0 || k === logged.length - 1) return [];
  const { sessionRound = 1 } = logged[k]!;
  const settledBefore = settledAfter(session?.rounds[sessionRound - 2]);
  const { done, over, unread, undecided } = progressOf(design, rounds[k]!.steering, settledBefore);
  if (done) return [];
  const why = [
    ...(over.length === 0
      ? []
      : [`${over.map(({ of, degree }) => `${of} ${degree}`).join(', ')} over its uncertainty`]),
    ...(unread.length === 0 ? [] : [`${unread.join(', ')} not read`]),
    ...(undecided ? ['signs undecided'] : []),
    ...(rounds[k]!.steering.soundness.setAside.size === 0 ? [] : ['readings set aside']),
  ];
  const words = `Clamping: the steering had not come to its end in round ${sessionRound}, the last before it (${why.join('; ')})`;
  return [{ kind: 'moves left', step: 'clamp', words }];
}
