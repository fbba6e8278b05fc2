/** Slips of single rows, of a block as it stands, or beyond a misreading that other patches of the table have as well. */
import type { Pattern } from '../design/pattern.ts';
import type { TableBlock } from '../scenario/coefficient-table.ts';
import type { BlockMeaning } from './block-meaning.ts';
import { simplest } from './common-explanations.ts';
import { type Slip, termSlip } from './row-slips.ts';
import type { Cause, Misread } from './table-causes.ts';
import type { TableMeaning } from './table-meaning.ts';
import { type TermDifference, termDifferences } from './table-terms.ts';
import { termName } from './table-words.ts';
import { takenBack } from './taken-back.ts';

interface BlockSlip {
  /** Those that differ; none where the block has a frame of its own. */
  readonly terms: readonly TermDifference[];
  readonly slip: Slip | undefined;
}

/** `bound`: of the table; half of it is a term's. */
export function blockSlip(patch: Pattern, block: TableBlock, bound: number): BlockSlip {
  const terms = termDifferences(patch, block, bound / 2) ?? [];
  const highest = block.terms.reduce((most, { i, j }) => Math.max(most, i + Math.abs(j)), 0);
  return { terms, slip: termSlip(terms, bound / 2, (term) => termName(term, block), highest) };
}

export interface SlipBeyond {
  readonly part: Misread;
  readonly block: BlockMeaning;
  readonly slip: Slip;
}

/** Of the blocks that nothing explains, those that a slip of rows explains once `cause` is taken back. */
export function slipsBeyond(
  { alternatives }: Cause,
  { patches, bound }: TableMeaning,
): readonly SlipBeyond[] {
  return patches.flatMap(({ patch, blocks, misread }) =>
    misread.length > 0
      ? []
      : blocks.flatMap((block): readonly SlipBeyond[] => {
          if (block.same || block.rounded || simplest([block]).length > 0) return [];
          for (const explanation of alternatives) {
            const back = takenBack(patch, block.block, explanation);
            const slip = back && blockSlip(patch, back, bound).slip;
            if (slip !== undefined)
              return [{ part: { patch, blocks: [block], whole: blocks.length === 1 }, block, slip }];
          }
          return [];
        }),
  );
}
