/**
 * Cases done side by side, on as many threads as asked for, each taking the next case when it is free. A thread that ends on a case
 * (out of memory) costs that case alone: another thread takes its place.
 *
 * Node's own threads rather than a library's pool: the pools there are start a file of their own, which a bundle does not have.
 */
import { Worker } from 'node:worker_threads';
import type { Case } from './case.ts';
import { type CaseDone, type CaseTask, doCase, faultOf } from './do-case.ts';

/** The heap of one thread, MB: many times what the largest scenario takes. */
const THREAD_HEAP_MB = 2048;

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
  let next = 0;
  const lane = async (): Promise<void> => {
    let worker: Worker | undefined;
    while (next < tasks.length) {
      const task = tasks[next++]!;
      worker ??= new Worker(new URL('./batch-worker.cjs', import.meta.url), {
        resourceLimits: { maxOldGenerationSizeMb: THREAD_HEAP_MB },
      });
      try {
        done(task.one, await answer(worker, task));
      } catch (error) {
        done(task.one, { figures: faultOf(task.one, error) });
        worker = undefined;
      }
    }
    await worker?.terminate();
  };
  await Promise.all(Array.from({ length: Math.min(threads, tasks.length) }, lane));
}

/** Rejects where the thread ends instead of answering. */
function answer(worker: Worker, task: CaseTask): Promise<CaseDone> {
  return new Promise((resolve, reject) => {
    const settle = (act: () => void): void => {
      worker.off('message', onMessage).off('error', onError).off('exit', onExit);
      act();
    };
    const onMessage = (done: CaseDone): void => settle(() => resolve(done));
    const onError = (error: unknown): void => {
      settle(() => reject(error));
      // Whatever comes after the first error of a dying thread is of no more use.
      worker.on('error', () => undefined);
    };
    const onExit = (code: number): void =>
      settle(() => reject(new Error(`its worker thread exited with code ${code}`)));
    worker.on('message', onMessage).on('error', onError).on('exit', onExit);
    worker.postMessage(task);
  });
}
