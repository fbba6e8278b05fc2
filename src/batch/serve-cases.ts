/** What a worker thread does: one case in, what came of it out, one after the other. */
import { parentPort } from 'node:worker_threads';
import { type CaseTask, doCase } from './do-case.ts';

export const serveCases = (): void =>
  void parentPort?.on('message', (task: CaseTask) => parentPort?.postMessage(doCase(task)));
