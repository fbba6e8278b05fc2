/** From a file's name to a design: read, decode, validate, work out; every fault on the way is a finding with its place. */
import { createHash } from 'node:crypto';
import type { Design } from '../design/design.ts';
import { designScenario } from '../design/design-scenario.ts';
import type { Finding } from '../finding/finding.ts';
import { type PlaceFinder, readScenario } from '../reading/read-scenario.ts';
import type { Io } from './io.ts';
import { readInput } from './read-input.ts';

export interface Loaded {
  /** As findings name it: the path given, or `<stdin>`. */
  readonly file: string;
  readonly text: string;
  /** SHA-256 of the scenario's bytes, hex. */
  readonly hash: string;
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
    design: undefined,
    placed: (finding: Finding) => finding,
  };
  if ('finding' in input) return { ...unread, findings: [input.finding] };
  const hash = createHash('sha256').update(input.bytes).digest('hex');
  const { scenario, findings, places } = readScenario(input.text, input.name);
  const placed = (finding: Finding): Finding => withPlace(finding, places);
  const read = { ...unread, text: input.text, hash, placed };
  if (scenario === undefined) return { ...read, findings: findings.map(placed) };
  const result = designScenario(scenario);
  if ('findings' in result) return { ...read, findings: [...findings, ...result.findings].map(placed) };
  return { ...read, design: result.design, findings: findings.map(placed) };
}

function withPlace(finding: Finding, places: PlaceFinder): Finding {
  if (finding.place !== undefined || finding.path === undefined) return finding;
  const place = places(finding.path);
  return place === undefined ? finding : { ...finding, place };
}
