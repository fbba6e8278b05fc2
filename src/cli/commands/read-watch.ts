/** Of `read`, `--watch`: each frame that a camera's program saves into a folder is answered once, when it is whole. */
import { readdirSync, statSync } from 'node:fs';
import { join, resolve } from 'node:path';
import process from 'node:process';
import { setTimeout as pause } from 'node:timers/promises';
import { isSystemError } from '../../disk/not-writable.ts';
import { errorFinding } from '../../finding/finding.ts';
import type { TalkOptions } from '../command.ts';
import type { FrameOptions } from '../frame-options.ts';
import { EXIT, type ExitCode, type Io } from '../io.ts';
import { refusing, sayLine } from '../say.ts';
import { answerFrames, type ReadBench, type ReadOutputs } from './read-answer.ts';

/** Between two looks, ms: a file that has not changed from one to the next is taken for whole. */
const LOOK_EVERY = 200;

/** What is still being written, by common practice, and what a desktop leaves about. */
const PASSING = /^[.~]|~$|\.(tmp|temp|part|partial|crdownload)$/i;

/** Ends when the folder is removed, or at an interrupt; its code is that of the last frame. */
export async function watchFrames(
  bench: ReadBench,
  folder: string,
  options: TalkOptions & FrameOptions & ReadOutputs,
  io: Io,
): Promise<ExitCode> {
  const standing = statesIn(folder, options);
  if (standing === undefined) {
    const message = `${folder} is no folder that can be read`;
    const finding = errorFinding(
      'unreadable-file',
      '--watch',
      message,
      'name the folder that frames are saved into',
    );
    return refusing(options, io)(folder, { findings: [finding] });
  }
  if (!options.quiet) {
    sayLine(io.stderr, `watching ${folder}${leftOutWords(standing.size)}`);
  }
  const ended = new AbortController();
  const interrupt = (): void => ended.abort();
  process.once('SIGINT', interrupt);
  const answered = new Map(standing);
  let before = standing;
  let code: ExitCode = EXIT.fine;
  try {
    for (;;) {
      await pause(LOOK_EVERY, undefined, { signal: ended.signal });
      const now = statesIn(folder, options);
      if (now === undefined) return code;
      for (const [file, state] of now) {
        if (before.get(file) !== state || answered.get(file) === state) continue;
        answered.set(file, state);
        code = await answerFrames(bench, [file], options, io);
        if (!io.stdout.writable) return code;
        io.stdout.write('\n');
      }
      before = now;
      if (!io.stdout.writable) return code;
    }
  } catch (error) {
    if (ended.signal.aborted) return code;
    throw error;
  } finally {
    process.removeListener('SIGINT', interrupt);
  }
}

function leftOutWords(count: number): string {
  if (count === 0) return '';
  return count === 1
    ? '; 1 file that is there already is left out'
    : `; ${count} files that are there already are left out`;
}

/** Size and time of change of each file, in the order in which they were saved; undefined where there is no folder any more. */
function statesIn(folder: string, { out, overlay }: ReadOutputs): ReadonlyMap<string, string> | undefined {
  const own = [out, overlay].map((path) => path && resolve(path));
  try {
    const files = readdirSync(folder)
      .filter((name) => !PASSING.test(name) && !own.includes(resolve(folder, name)))
      .flatMap((name) => {
        const file = join(folder, name);
        const stats = statSync(file, { throwIfNoEntry: false });
        return stats?.isFile() && stats.size > 0 ? [{ file, stats }] : [];
      })
      .sort((a, b) => a.stats.mtimeMs - b.stats.mtimeMs || (a.file < b.file ? -1 : 1));
    return new Map(files.map(({ file, stats }) => [file, `${stats.size} ${stats.mtimeMs}`]));
  } catch (error) {
    if (!isSystemError(error)) throw error;
    return undefined;
  }
}
