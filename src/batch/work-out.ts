/** From a scenario's text to its design and what was found in the text; places in the file are added to whatever is found later. */
import type { Design } from '../design/design.ts';
import { designScenario } from '../design/design-scenario.ts';
import { type NamedContents, noting } from '../disk/files-beside.ts';
import { type Finding, withPlace } from '../finding/finding.ts';
import { type FileSource, type Overrides, readScenario } from '../reading/scenario/read-scenario.ts';

interface WorkedOut {
  /** Undefined where the findings say that the input cannot be used. */
  readonly design: Design | undefined;
  /** Of the files that the scenario names. */
  readonly named: NamedContents;
  /** Of the input alone; the rules have not been asked. */
  readonly findings: readonly Finding[];
  /** Adds the place in the file to a finding that has only a path. */
  readonly placed: (finding: Finding) => Finding;
}

/** `file` is how findings name the text; `source` gives what the scenario names, a mesh: without it such a file is refused. */
export function workOut(text: string, file: string, overrides?: Overrides, source?: FileSource): WorkedOut {
  const { files, given: named } = source === undefined ? NONE : noting(source);
  const { scenario, findings, places } = readScenario(text, file, overrides, files);
  const placed = (finding: Finding): Finding => withPlace(finding, places);
  const faulty = (more: readonly Finding[]): WorkedOut => {
    return { design: undefined, named, findings: [...findings, ...more].map(placed), placed };
  };
  if (scenario === undefined) return faulty([]);
  const result = designScenario(scenario);
  if ('findings' in result) return faulty(result.findings);
  return { design: result.design, named, findings: findings.map(placed), placed };
}

const NONE = { files: undefined, given: new Map<string, string>() };
