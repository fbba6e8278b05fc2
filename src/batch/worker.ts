/** The entry of a worker thread: one case in, what came of it out. */
import { type CaseDone, type CaseTask, doCase } from './do-case.ts';

export default (task: CaseTask): CaseDone => doCase(task);
