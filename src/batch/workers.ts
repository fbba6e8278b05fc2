/** Cases done side by side: on as many threads as asked for, each taking the next one when it is free. */
import { fileURLToPath } from 'node:url';
import type { Case } from './case.ts';
import { type CaseDone, type CaseTask, doCase, faultOf } from './do-case.ts';

/** Calls `done` for each task as it is through, in no order. One task alone is done in this thread. */
export async function doCases(
  tasks: readonly CaseTask[],
  threads: number,
  done: (one: Case, result: CaseDone) => void,
): Promise<void> {
  if (tasks.length <= 1) {
    for (const task of tasks) done(task.one, doCase(task));
    return;
  }
  const { Tinypool } = await import('tinypool');
  const count = Math.min(threads, tasks.length);
  const pool = new Tinypool({
    filename: fileURLToPath(new URL('./batch-worker.js', import.meta.url)),
    minThreads: count,
    maxThreads: count,
    // Twice the heap of a scenario of the largest size: a case that needs more ends alone.
    resourceLimits: { maxOldGenerationSizeMb: 2048 },
  });
  let next = 0;
  const lane = async (): Promise<void> => {
    while (next < tasks.length) {
      const task = tasks[next++]!;
      let result: CaseDone;
      try {
        result = (await pool.run(task)) as CaseDone;
      } catch (error) {
        result = { figures: faultOf(task.one, error) };
      }
      done(task.one, result);
    }
  };
  try {
    await Promise.all(Array.from({ length: count }, lane));
  } finally {
    await pool.destroy();
  }
}
