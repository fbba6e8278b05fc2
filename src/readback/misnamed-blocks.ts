/** Blocks of a table under another patch's name: the names were shifted, exchanged or mistyped. */
import type { Pattern } from '../design/pattern.ts';
import type { CoefficientTable, TableBlock } from '../scenario/coefficient-table.ts';
import { blockMeaning } from './block-meaning.ts';
import { designFrame } from './misreading-search.ts';

export interface Misnamed {
  readonly block: TableBlock;
  /** Whose rows they are. */
  readonly meant: string;
}

/** A block may be another patch's where its centre is so near to that one's, against the radius. */
const SAME_PLACE = 1e-4;

/**
 * Of `suspects`, those that are another patch's block within the bound. None where their names could not all be put right: two
 * blocks of one basis would then have one name.
 */
export function misnamedBlocks(
  suspects: readonly TableBlock[],
  patterns: readonly Pattern[],
  { blocks, convention }: CoefficientTable,
  wavelength: number,
  bound: number,
): readonly Misnamed[] {
  const isPatch = (patch: Pattern, block: TableBlock): boolean => {
    const { centre, radius } = designFrame(patch, block);
    const [x, y] = [convention.xRuns * block.centre[0], convention.yRuns * block.centre[1]];
    if (Math.hypot(x - centre[0], y - centre[1]) > SAME_PLACE * radius) return false;
    const { same, rounded } = blockMeaning(patch, block, convention, wavelength, bound);
    return same || rounded;
  };
  const found = suspects.flatMap((block): Misnamed[] => {
    const meant = patterns.find((patch) => patch.id !== block.patch && isPatch(patch, block));
    return meant === undefined ? [] : [{ block, meant: meant.id }];
  });
  const names = renamed(blocks, found).map(({ basis, patch }) => `${basis} ${patch}`);
  return new Set(names).size === names.length ? found : [];
}

/** The blocks under the names that are meant. */
export const renamed = (
  blocks: readonly TableBlock[],
  misnamed: readonly Misnamed[],
): readonly TableBlock[] => {
  const meant = new Map(misnamed.map((one) => [one.block, one.meant]));
  return blocks.map((block) => ({ ...block, patch: meant.get(block) ?? block.patch }));
};
