/**
 * One cause once: the patches and blocks of a table that one misreading explains, gathered; and where a patch has been misread in
 * one way more than the others, only what it has more.
 */
import type { BlockMeaning } from './block-meaning.ts';
import { type Alternatives, commonExplanations, simplest } from './common-explanations.ts';
import { hasFactor, hasStretch, keyOf, type Step, totalWeight } from './misreading.ts';
import type { Explanation } from './misreading-search.ts';
import type { PatchMeaning, TableMeaning } from './table-meaning.ts';

/** A patch as a whole, or one of its blocks. */
export interface Misread {
  readonly patch: PatchMeaning['patch'];
  readonly blocks: readonly BlockMeaning[];
  /** All blocks of the patch. */
  readonly whole: boolean;
}

export interface Cause {
  readonly misread: readonly Misread[];
  readonly alternatives: Alternatives;
  /** Of a cause that the first one is part of: what comes on top of it. */
  readonly beyond: Alternatives | undefined;
}

/** Causes of patches that differ in different ways, the one of most patches first. A table misread as a whole has none of these. */
export function tableCauses({ patches }: TableMeaning): readonly Cause[] {
  const groups: Cause[] = [];
  let open = patches.flatMap(misreadParts).map((part) => ({ part, known: commonExplanations(part.blocks) }));
  while (open.length > 0) {
    const key = mostShared(open);
    const group: typeof open = [];
    for (const one of open)
      if (one.known.has(key) && (group.length === 0 || agree(key, [...group, one]))) group.push(one);
    const misread = group.map(({ part }) => part);
    groups.push({
      misread,
      alternatives: simplest(misread.flatMap(({ blocks }) => blocks)),
      beyond: undefined,
    });
    open = open.filter((one) => !group.includes(one));
  }
  return beyondFirst(groups);
}

type Open = { readonly part: Misread; readonly known: ReadonlyMap<string, Explanation> };

function misreadParts({ patch, blocks, misread }: PatchMeaning): readonly Misread[] {
  if (misread.length > 0) return [{ patch, blocks, whole: true }];
  return blocks
    .filter((block) => !block.same && !block.rounded && simplest([block]).length > 0)
    .map((block) => ({ patch, blocks: [block], whole: false }));
}

/** Of the simplest explanations, the one that explains most parts; of those the simplest. */
function mostShared(open: readonly Open[]): string {
  const keys = new Map<string, number>();
  for (const { part } of open)
    for (const { steps } of simplest(part.blocks)) {
      const key = keyOf(steps);
      if (!keys.has(key)) keys.set(key, totalWeight(steps));
    }
  const ranked = [...keys].map(([key, weight]) => ({
    key,
    weight,
    count: open.filter(({ known }) => known.has(key)).length,
  }));
  ranked.sort((a, b) => b.count - a.count || a.weight - b.weight);
  return ranked[0]!.key;
}

/** Whether one factor and one scale do for all. */
function agree(key: string, group: readonly Open[]): boolean {
  const { factor, stretch } = group[0]!.known.get(key)!;
  if (factor === undefined && stretch === undefined) return true;
  return commonExplanations(group.flatMap(({ part }) => part.blocks)).has(key);
}

/** The later causes as what they have more than the first, where that is the cause of several patches. */
function beyondFirst([first, ...others]: readonly Cause[]): readonly Cause[] {
  if (first === undefined) return [];
  if (first.misread.length < 2) return [first, ...others];
  const also: Misread[] = [];
  const rest = others.map((cause) => {
    const beyond = first.alternatives.flatMap(({ steps }) => beyondSteps(steps, cause.alternatives));
    if (beyond.length > 0) {
      also.push(...cause.misread);
      return { ...cause, beyond: [...new Map(beyond.map((one) => [keyOf(one.steps), one])).values()] };
    }
    return cause;
  });
  return [{ ...first, misread: [...first.misread, ...also] }, ...rest];
}

/** Of the alternatives that hold `steps`, the rest; with a number only where that belongs to the rest. */
const beyondSteps = (steps: readonly Step[], alternatives: Alternatives): Alternatives =>
  alternatives
    .filter((alternative) => steps.every((step) => alternative.steps.includes(step)))
    .map((alternative) => {
      const rest = alternative.steps.filter((step) => !steps.includes(step));
      const { factor, stretch } = alternative;
      return {
        ...alternative,
        steps: rest,
        factor: rest.some(hasFactor) ? factor : undefined,
        stretch: rest.some(hasStretch) ? stretch : undefined,
      };
    });
