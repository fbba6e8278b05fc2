/** What is to be said of a coefficient table that came back: one finding a cause, with the first row that it blames. */
import type { Finding } from '../finding/finding.ts';
import type { BlockMeaning } from './block-meaning.ts';
import { simplest } from './common-explanations.ts';
import { namesAndRows } from './names-and-rows.ts';
import { blockSlip, type SlipBeyond, slipsBeyond } from './slips.ts';
import { type Cause, tableCauses } from './table-causes.ts';
import type { TableMeaning } from './table-meaning.ts';
import type { TermDifference } from './table-terms.ts';
import { BASIS_WORDS, misreadWords, patchesWords, shown, termName, worstWords } from './table-words.ts';

/** Terms named of a block that nothing known explains. */
const TERMS_NAMED = 3;
const COMPARE = 'compare the rows with those in the package';
const HINTS = { 'table-misread': COMPARE, 'table-incomplete': 'add the missing rows' } as const;
const CONVERT = 'convert it back, or state its convention in the header and column names';

export function tableFindings(meaning: TableMeaning, file: string): readonly Finding[] {
  const findings = namesAndRows(meaning, file);
  if (meaning.misread.length > 0) return [...findings, wholeTable(meaning, file)];
  const [first, ...others] = tableCauses(meaning);
  const slips = first === undefined ? [] : slipsBeyond(first, meaning);
  const causes =
    first === undefined
      ? []
      : [{ ...first, misread: [...first.misread, ...slips.map(({ part }) => part)] }, ...others];
  return [
    ...findings,
    ...causes.map((cause) => misread(cause, meaning, file)),
    ...slips.map((slip) => slipped(slip, meaning, file)),
    ...roundedBlocks(meaning, file),
    ...unexplained(meaning, new Set(slips.map(({ block }) => block)), file),
  ];
}

/** A slip of rows beyond the misreading that the patch shares with others. */
const slipped = (
  { part: { patch }, block, slip }: SlipBeyond,
  meaning: TableMeaning,
  file: string,
): Finding =>
  about(
    slip.rule,
    [{ id: patch.id, block }],
    meaning,
    file,
    () =>
      `patch ${patch.id}, ${BASIS_WORDS[block.block.basis]}: moreover, ${slip.words}; ${worstWords(block, meaning.bound)}`,
    HINTS[slip.rule],
  );

function wholeTable({ patches, misread: alternatives, bound }: TableMeaning, file: string): Finding {
  const blocks = patches.flatMap((own) => own.blocks.map((block) => ({ own, block })));
  const worst = blocks.reduce((most, one) => (one.block.worst > most.block.worst ? one : most));
  return {
    severity: 'error',
    rule: 'table-misread',
    where: file,
    message: `the whole table has been misread: ${misreadWords(alternatives, bound)}; patch ${worst.own.patch.id} is ${worstWords(worst.block, bound)}`,
    hint: 'convert it back, or state its convention in its header and column names',
    ...figures(worst.block, bound),
  };
}

/** A finding about blocks of one or several patches. */
function about(
  rule: Finding['rule'],
  parts: readonly { readonly id: string; readonly block: BlockMeaning }[],
  { bound }: TableMeaning,
  file: string,
  words: (worst: { readonly id: string; readonly block: BlockMeaning }) => string,
  hint: string,
): Finding {
  const worst = parts.reduce((most, one) => (one.block.worst > most.block.worst ? one : most));
  const ids = new Set(parts.map(({ id }) => id));
  return {
    severity: 'error',
    rule,
    where: ids.size === 1 ? worst.id : file,
    message: words(worst),
    hint,
    ...figures(worst.block, bound),
    place: (ids.size === 1 ? worst : parts[0]!).block.block.place,
  };
}

function misread(
  { misread: parts, alternatives, beyond }: Cause,
  meaning: TableMeaning,
  file: string,
): Finding {
  const { bound, patches } = meaning;
  const blocks = parts.flatMap(({ patch, blocks: own }) =>
    own.filter(({ same }) => !same).map((block) => ({ id: patch.id, block })),
  );
  const names = parts.map(({ patch, blocks: own, whole }) => ({
    id: patch.id,
    basis: whole ? undefined : own[0]!.block.basis,
  }));
  const what = patchesWords(names, patches.length);
  const roof = names.every(({ basis }) => basis === 'roof');
  const why =
    beyond === undefined
      ? misreadWords(alternatives, bound, roof)
      : `moreover, ${misreadWords(beyond, bound)}`;
  return about(
    'table-misread',
    blocks,
    meaning,
    file,
    (worst) => {
      const which = new Set(blocks.map(({ id }) => id)).size === 1 ? '' : `patch ${worst.id} is `;
      return `${what}: ${why}; ${which}${worstWords(worst.block, bound)}`;
    },
    CONVERT,
  );
}

const differing = ({ patches }: TableMeaning) =>
  patches.flatMap((own) =>
    own.misread.length > 0
      ? []
      : own.blocks
          .filter(({ same }) => !same)
          .map((block) => ({ id: own.patch.id, patch: own.patch, block })),
  );

const partsWords = (parts: readonly { readonly id: string; readonly block: BlockMeaning }[], count: number) =>
  patchesWords(
    parts.map(({ id, block }) => ({ id, basis: block.block.basis })),
    count,
  );

function roundedBlocks(meaning: TableMeaning, file: string): readonly Finding[] {
  const parts = differing(meaning).filter(({ block }) => block.rounded);
  if (parts.length === 0) return [];
  const { bound, patches } = meaning;
  const digits = Math.max(...parts.map(({ block }) => Math.ceil(Math.log10(block.worst / bound)) + 1));
  return [
    about(
      'table-rounded',
      parts,
      meaning,
      file,
      ({ block }) => {
        const cut = block.worst > bound + block.rounding;
        const [how, can] = cut ? ['truncated', 2 * block.rounding] : ['rounded', block.rounding];
        return `${partsWords(parts, patches.length)}: ${how} too coarsely: ${worstWords(block, bound)}; ${cut ? 'truncation' : 'rounding'} alone can cause ${shown(can)} waves`;
      },
      `write ${digits} more digits`,
    ),
  ];
}

/** Blocks that no misreading explains: those with the same few terms wrong together, and all others together. */
function unexplained(
  meaning: TableMeaning,
  known: ReadonlySet<BlockMeaning>,
  file: string,
): readonly Finding[] {
  const { bound, patches } = meaning;
  const findings: Finding[] = [];
  const groups = new Map<string, Unexplained[]>();
  for (const part of differing(meaning)) {
    const { id, patch, block } = part;
    if (block.rounded || known.has(block) || simplest([block]).length > 0) continue;
    const say = (rule: Finding['rule'], message: string, hint: string): void => {
      findings.push(about(rule, [part], meaning, file, () => message, hint));
    };
    const { terms, slip } = blockSlip(patch, block.block, bound);
    if (block.block.basis === 'roof' && patch.bias?.shape !== 'roof')
      say(
        'table-differs',
        `patch ${id} has a roof of ${shown(block.worst)} waves where the design has none`,
        'remove its rows of basis roof',
      );
    else if (slip !== undefined)
      say(
        slip.rule,
        `patch ${id}, ${BASIS_WORDS[block.block.basis]}: ${slip.words}; ${worstWords(block, bound)}`,
        HINTS[slip.rule],
      );
    else {
      const isFew = terms.length > 0 && terms.length <= TERMS_NAMED;
      const degrees = new Set(terms.map(({ i, j }) => i + Math.abs(j)).sort());
      const key = isFew ? `${block.block.basis} ${[...degrees].join(' ')}` : '';
      groups.set(key, [...(groups.get(key) ?? []), { ...part, terms }]);
    }
  }
  for (const parts of groups.values()) {
    const words = (worst: { readonly id: string; readonly block: BlockMeaning }): string => {
      const { terms } = parts.find(({ block }) => block === worst.block)!;
      const which = parts.length === 1 ? '' : `patch ${worst.id} is `;
      return `${partsWords(parts, patches.length)}: ${which}${worstWords(worst.block, bound)}, and no known misreading explains it${termWords(terms, worst.block)}`;
    };
    findings.push(about('table-differs', parts, meaning, file, words, COMPARE));
  }
  return findings;
}

type Unexplained = ReturnType<typeof differing>[number] & { readonly terms: readonly TermDifference[] };

function termWords(terms: readonly TermDifference[], meaning: BlockMeaning): string {
  if (terms.length === 0) return '';
  const words = terms.slice(0, TERMS_NAMED).map((term) => {
    const name = termName(term, meaning.block);
    return term.found === undefined
      ? `${name} of ${shown(term.meant)} waves is missing`
      : `${name} is ${shown(term.found)}, expected ${shown(term.meant)}`;
  });
  const more = terms.length - words.length;
  return `: ${words.join('; ')}${more > 0 ? `; and ${more} more` : ''}`;
}

const figures = ({ worst }: BlockMeaning, bound: number) =>
  ({ value: worst, limit: bound, unit: 'waves' }) as const;
