/**
 * Whether a coefficient table that came back still means the design: every patch there, each block's phase within a bound
 * of the exact one, the order that of the design; and where it does not, the simplest misreading that explains all of the
 * table, or else each patch, or else each block. Several that explain it equally well are all named. Waves at order 1, mm.
 */

import { type Design, patternsOf } from '../design/design.ts';
import type { Pattern } from '../design/pattern.ts';
import { FIT_BOUND } from '../design/phase-fit.ts';
import type { CoefficientTable, TableBlock } from '../scenario/coefficient-table.ts';
import { type BlockMeaning, blockMeaning } from './block-meaning.ts';
import { type Alternatives, simplest } from './common-explanations.ts';
import { type Misnamed, misnamedBlocks, renamed } from './misnamed-blocks.ts';

/** The table's own fit takes one FIT_BOUND; rounding may take as much again. */
export const TABLE_BOUND = 2 * FIT_BOUND;

export interface PatchMeaning {
  readonly patch: Pattern;
  /** Empty where the table does not have the patch. */
  readonly blocks: readonly BlockMeaning[];
  readonly same: boolean;
  /** The polynomial or Zernike rows, or the roof's, that are not there. */
  readonly lacks: readonly ('phase' | 'roof')[];
  /** Of the table, where it is not the design's and the phase is not negated along with it. */
  readonly wrongOrder: number | undefined;
  /** Order and phase are both negated, which is the same light. */
  readonly negated: boolean;
  /** Explain all of its blocks; empty where it is the same, or nothing known explains it. */
  readonly misread: Alternatives;
}

export interface TableMeaning {
  readonly bound: number;
  readonly same: boolean;
  readonly patches: readonly PatchMeaning[];
  /** Blocks of patches that the design does not have. */
  readonly unknown: readonly TableBlock[];
  /** Blocks under another patch's name; `patches` has them where they belong. */
  readonly misnamed: readonly Misnamed[];
  /** Explain the table as a whole; empty where it is the same, or where its patches differ in different ways. */
  readonly misread: Alternatives;
}

export function tableMeaning(
  design: Design,
  table: CoefficientTable,
  bound: number = TABLE_BOUND,
): TableMeaning {
  const asWritten = meaningAsNamed(design, table, bound);
  if (asWritten.same || asWritten.misread.length > 0) return asWritten;
  const suspects = [
    ...asWritten.unknown,
    ...table.blocks.filter((block) =>
      asWritten.patches.some(({ patch, same }) => patch.id === block.patch && !same),
    ),
  ];
  const patterns = patternsOf(design).map(({ pattern }) => pattern);
  const misnamed = misnamedBlocks(suspects, patterns, table, design.light.wavelength, bound);
  if (misnamed.length === 0) return asWritten;
  const blocks = renamed(table.blocks, misnamed);
  return { ...meaningAsNamed(design, { ...table, blocks }, bound), misnamed, same: false };
}

function meaningAsNamed(design: Design, table: CoefficientTable, bound: number): TableMeaning {
  const patterns = patternsOf(design).map(({ pattern }) => pattern);
  const byPatch = new Map<string, TableBlock[]>(patterns.map(({ id }) => [id, []]));
  const unknown = table.blocks.filter((block) => {
    const own = byPatch.get(block.patch);
    own?.push(block);
    return own === undefined;
  });
  const patches = patterns.map((patch) =>
    patchMeaning(patch, byPatch.get(patch.id)!, table, design.light.wavelength, bound),
  );
  const blocks = patches.flatMap((patch) => patch.blocks);
  const misread = blocks.every(isSame) ? [] : simplest(blocks);
  const same = unknown.length === 0 && patches.every((patch) => patch.same);
  return { bound, same, patches, unknown, misnamed: [], misread };
}

const isSame = ({ same }: BlockMeaning): boolean => same;

function patchMeaning(
  patch: Pattern,
  own: readonly TableBlock[],
  { convention }: CoefficientTable,
  wavelength: number,
  bound: number,
): PatchMeaning {
  const meaningsOf = (blocks: readonly TableBlock[]): BlockMeaning[] =>
    blocks.map((block) => blockMeaning(patch, block, convention, wavelength, bound));
  const order = own.find((block) => block.order !== undefined)?.order ?? patch.order;
  const asWritten = meaningsOf(own);
  const turned = order === -patch.order && !asWritten.every(isSame) ? meaningsOf(own.map(negated)) : [];
  const isNegated = turned.length > 0 && turned.every(isSame);
  const blocks = isNegated ? turned : asWritten;
  const lacks: PatchMeaning['lacks'][number][] = [];
  if (!own.some(({ basis }) => basis !== 'roof')) lacks.push('phase');
  if (patch.bias?.shape === 'roof' && !own.some(({ basis }) => basis === 'roof')) lacks.push('roof');
  const wrongOrder = isNegated || order === patch.order ? undefined : order;
  const alike = blocks.every(isSame);
  return {
    patch,
    blocks,
    same: alike && lacks.length === 0 && wrongOrder === undefined,
    lacks,
    wrongOrder,
    negated: isNegated,
    misread: alike ? [] : simplest(blocks),
  };
}

/** The phase the other way; the plain numbers of a roof stay. */
function negated(block: TableBlock): TableBlock {
  const terms = block.terms.map((term) =>
    block.basis === 'roof' && term.i + term.j > 0 ? term : { ...term, coefficient: -term.coefficient },
  );
  return { ...block, terms };
}
