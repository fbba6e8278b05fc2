/** The program in a thread of its own, request after request; one that does not answer in time is ended and told of, as a hang. */
import { fileURLToPath } from 'node:url';
import { Worker } from 'node:worker_threads';

export interface Request {
  readonly argv: readonly string[];
  /** What comes on stdin. */
  readonly input: Uint8Array;
}

export interface Answer {
  readonly code: number;
  readonly stdout: string;
  readonly stderr: string;
  /** Time on a processor. */
  readonly cpu_ms: number;
}

/** Asks the program, in a thread or in a process of its own. */
export type Ask = (request: Request) => Promise<Answer>;

/** Without an answer for so long it hangs, ms: ten times the processor time of the longest plan, for machines that are loaded. */
const HANGS_AFTER = 300_000;
/** The heap of the thread: no input of a few kilobytes needs more. */
const HEAP_MB = 512;

export class Program {
  #worker: Worker | undefined;

  /** Rejects where the thread ends, throws or hangs. */
  readonly ask: Ask = (request) => {
    this.#worker ??= new Worker(fileURLToPath(new URL('fuzz-worker.mjs', import.meta.url)), {
      resourceLimits: { maxOldGenerationSizeMb: HEAP_MB },
    });
    const worker = this.#worker;
    return new Promise((done, fail) => {
      const lost = (why: string): void => {
        settle();
        this.#worker = undefined;
        void worker.terminate();
        fail(new Error(`${request.argv.join(' ')}: ${why}`));
      };
      const onMessage = (answer: Answer): void => {
        settle();
        done(answer);
      };
      const onError = (error: Error): void => lost(error.stack ?? error.message);
      const onExit = (code: number): void => lost(`its worker thread exited with code ${code}`);
      const timer = setTimeout(() => lost(`no answer in ${HANGS_AFTER / 1000} s`), HANGS_AFTER);
      const settle = (): void => {
        clearTimeout(timer);
        worker.off('message', onMessage).off('error', onError).off('exit', onExit);
      };
      worker.on('message', onMessage).on('error', onError).on('exit', onExit);
      worker.postMessage(request);
    });
  };

  async end(): Promise<void> {
    await this.#worker?.terminate();
    this.#worker = undefined;
  }
}
