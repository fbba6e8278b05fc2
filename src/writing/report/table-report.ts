/** What `check --table --json` says of a table that came back: one entry a patch, with every misreading that explains it. */

import type { Finding } from '../../finding/finding.ts';
import type { BlockMeaning } from '../../readback/block-meaning.ts';
import { simplest } from '../../readback/common-explanations.ts';
import { STEP_WORDS } from '../../readback/misreading.ts';
import type { Explanation } from '../../readback/misreading-search.ts';
import type { TableMeaning } from '../../readback/table-meaning.ts';
import { reportedFinding } from './reported-finding.ts';

export function tableReport(meaning: TableMeaning, findings: readonly Finding[]) {
  return {
    ok: meaning.same,
    bound_waves: meaning.bound,
    misread: meaning.misread.map(reportedExplanation),
    misnamed: meaning.misnamed.map(({ block, meant }) => ({ name: block.patch, basis: block.basis, meant })),
    patches: meaning.patches.map(({ patch, same, blocks, lacks, misread, negated, wrongOrder }) => ({
      id: patch.id,
      same,
      present: blocks.length > 0,
      lacks,
      order: wrongOrder ?? patch.order,
      orderAndPhaseNegated: negated,
      misread: misread.map(reportedExplanation),
      bases: blocks.map(reportedBlock),
    })),
    findings: findings.map(reportedFinding),
  };
}

const reportedBlock = (meaning: BlockMeaning): Record<string, unknown> => ({
  basis: meaning.block.basis,
  same: meaning.same,
  worst_waves: meaning.worst,
  worstAt_mm: meaning.worstAt,
  rounded: meaning.rounded,
  misread: meaning.same ? [] : simplest([meaning]).map(reportedExplanation),
});

const reportedExplanation = ({
  steps,
  left,
  factor,
  stretch,
  shift,
}: Explanation): Record<string, unknown> => ({
  steps: [...steps].sort(),
  words: steps.map((step) => STEP_WORDS[step]),
  left_waves: left,
  factor: factor ?? null,
  stretch: stretch ?? null,
  shift_mm: steps.includes('centre-moved') ? (shift ?? null) : null,
});
