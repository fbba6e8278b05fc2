/** From a file's name to a design: read, decode, validate, work out; every fault on the way is a finding with its place. */
import { workOut } from '../batch/work-out.ts';
import type { Design } from '../design/design.ts';
import { filesBeside, type NamedContents } from '../disk/files-beside.ts';
import { meaningHash, withUnixLineEnds } from '../disk/line-ends.ts';
import type { Finding } from '../finding/finding.ts';
import type { Io } from './io.ts';
import { readInput } from './read-input.ts';

export interface Loaded {
  /** As findings name it: the path given, or `<stdin>`. */
  readonly file: string;
  readonly text: string;
  /** SHA-256 of the scenario's bytes, hex, line ends as LF. */
  readonly hash: string;
  /** Of the files that the scenario names. */
  readonly named: NamedContents;
  /** Undefined where the findings say that the input cannot be used. */
  readonly design: Design | undefined;
  /** Of the input alone; the rules have not been asked. */
  readonly findings: readonly Finding[];
  /** Adds the place in the file to a finding that has only a path. */
  readonly placed: (finding: Finding) => Finding;
}

export async function loadScenario(file: string, io: Io): Promise<Loaded> {
  const input = await readInput(file, io);
  const unread = {
    file: input.name,
    text: '',
    hash: '',
    named: new Map<string, string>(),
    design: undefined,
    placed: (finding: Finding) => finding,
  };
  if ('finding' in input) return { ...unread, findings: [input.finding] };
  const { bytes, name } = input;
  const text = withUnixLineEnds(input.text);
  return { ...unread, text, hash: meaningHash(bytes), ...workOut(text, name, undefined, filesBeside(file)) };
}
