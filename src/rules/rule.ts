/**
 * A rule of the layout: looks at a Design and says what breaks. A rule is one file, which holds all that is known of it: its code,
 * its limit, its words, and what `plan` does about it; all-rules.ts lists them.
 */
import type { Design } from '../design/design.ts';
import type { Finding, Severity } from '../finding/finding.ts';
import { nameList } from '../finding/name-list.ts';
import { trimmed } from '../quantity/format.ts';

interface Facts {
  /** As findings carry it; stable. */
  readonly code: string;
  /** Of its findings, where they do not say otherwise. */
  readonly severity: Severity;
  /** `patch`: each patch keeps or breaks it whatever the other patches are. */
  readonly scope: 'patch' | 'design';
  /** What a finding says is wrong. */
  readonly meaning: string;
  /** What is compared with: a word of the scenario, or a figure. */
  readonly limit: string;
  /** What to do about a finding. */
  readonly remedy: string;
  readonly planning: InPlanning;
}

/** What `plan` does about a rule. */
interface InPlanning {
  /** A broken rule is mended by moving patches, or by larger and more of them. */
  readonly by: 'moving' | 'growth';
  /** Whether a place of a patch is asked for it before it is taken, and when: the cheap rules first. */
  readonly rank?: number;
  /** Whether a place of a return ring is asked for it. */
  readonly ring?: boolean;
  /** What would help where it leaves no place. */
  readonly helps?: string;
}

/** A finding without what the rule itself knows. */
export type Found = Omit<Finding, 'rule' | 'severity'> & { readonly severity?: Severity };

export interface Rule extends Facts {
  readonly find: (design: Design) => readonly Finding[];
}

export const rule = (facts: Facts, judge: (design: Design) => readonly Found[]): Rule => ({
  ...facts,
  find: (design) =>
    judge(design).map((found) => ({
      severity: facts.severity,
      rule: facts.code,
      patches: patchAt(design, found.path),
      ...found,
    })),
});

/** The one that a finding points at. */
function patchAt({ patches }: Design, path: Found['path']): readonly string[] {
  const patch = path?.[0] === 'patches' ? patches[Number(path[1])] : undefined;
  return patch === undefined ? [] : [patch.id];
}

/**
 * Lengths compared by the layout rules are equal within this, mm: a thousandth of a nanometre, more than rounding makes of
 * a patch set exactly at the limit and far less than any drawing shows.
 */
export const LENGTH_TOLERANCE = 1e-9;

/** A length in a message: to the nanometre, trailing zeros dropped. */
export const mm = (length: number): string => `${trimmed(length, 6)} mm`;

/** The most names that a finding lists. */
const MOST_NAMED = 6;

/** Names in a finding's sentence, the first few of many. */
export const named = (names: readonly string[]): string => nameList(names, MOST_NAMED);
