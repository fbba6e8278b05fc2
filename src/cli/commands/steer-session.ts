/** Of `steer`, `--session`: the file that keeps the rounds of an alignment, read before a round and written whole after it. */
import { statSync } from 'node:fs';
import { knownByText, refusedFiles } from '../../disk/output-places.ts';
import { placeFiles } from '../../disk/place-files.ts';
import { errorFinding, type Finding } from '../../finding/finding.ts';
import { readSession } from '../../reading/bench/read-session.ts';
import type { BenchSession, ScenarioHashes, SessionRound } from '../../scenario/bench-session.ts';
import { isSession, sessionText } from '../../writing/session/session-text.ts';
import type { Io } from '../io.ts';
import type { Loaded } from '../load-scenario.ts';
import { readInput } from '../read-input.ts';
import type { Fault } from '../say.ts';

export interface OpenSession {
  readonly path: string;
  readonly session: BenchSession;
}

type Opened = { readonly open: OpenSession } | { readonly name: string; readonly fault: Fault };

/** The session so far; a new one where no file stands there yet. `inputs` are the command's other files. */
export async function openSession(
  path: string,
  { design, hash, named }: Loaded,
  inputs: readonly string[],
  io: Io,
): Promise<Opened> {
  const refused = (findings: readonly Finding[], text?: string): Opened => ({
    name: path,
    fault: { findings, ...(text === undefined ? {} : { text }) },
  });
  if (path === '-') {
    const message = 'a session is kept in a file';
    return refused([errorFinding('bad-value', '--session', message, 'name a file, e.g. session.yml')]);
  }
  const misplaced = refusedFiles([placeAt(path)], inputs);
  if (misplaced.length > 0) return refused(misplaced);
  const scenario: ScenarioHashes = { sha256: hash, files: Object.fromEntries(named) };
  if (isNothing(path)) return { open: { path, session: { scenario, rounds: [] } } };
  const input = await readInput(path, io);
  if ('finding' in input) return refused([input.finding]);
  const { session, findings } = readSession(input.text, path, design!.scenario, scenario);
  if (session === undefined) return refused(findings, input.text);
  return { open: { path, session } };
}

/** What kept the round from being written; the file is then as it was. */
export const keepRound = ({ path, session }: OpenSession, round: SessionRound): readonly Finding[] =>
  placeFiles([
    { ...placeAt(path), content: sessionText({ ...session, rounds: [...session.rounds, round] }, path) },
  ]);

const placeAt = (path: string) => ({ option: '--session', path, isOwn: knownByText(isSession) });

/** No file, or an empty one, as `mktemp` makes it. */
function isNothing(path: string): boolean {
  try {
    const stats = statSync(path, { throwIfNoEntry: false });
    return stats === undefined || (stats.isFile() && stats.size === 0);
  } catch {
    // Whoever reads it says why it cannot be read.
    return false;
  }
}
