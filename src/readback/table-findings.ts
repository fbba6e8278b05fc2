/** What is to be said of a coefficient table that came back, each with its row where one row can be blamed. */
import { fitPhase } from '../design/phase-fit.ts';
import type { Finding } from '../finding/finding.ts';
import { trimmed } from '../quantity/format.ts';
import { nearestName } from '../quantity/nearest-name.ts';
import type { TableBasis } from '../scenario/coefficient-table.ts';
import type { BlockMeaning } from './block-meaning.ts';
import { STEP_WORDS } from './misreading.ts';
import { type Alternatives, type PatchMeaning, simplest, type TableMeaning } from './table-meaning.ts';
import { termDifferences } from './table-terms.ts';

const BASIS_WORDS: Readonly<Record<TableBasis, string>> = {
  xy: 'polynomial',
  radial: 'radial polynomial',
  zernike: 'Zernike terms',
  roof: 'roof',
};
/** Terms named of a block that nothing known explains. */
const TERMS_NAMED = 3;

export function tableFindings(meaning: TableMeaning, file: string): readonly Finding[] {
  const { patches, unknown, misread, bound } = meaning;
  const findings: Finding[] = [];
  const ids = patches.map(({ patch }) => patch.id);
  const reported = new Set<string>();
  for (const block of unknown) {
    if (reported.has(block.patch)) continue;
    reported.add(block.patch);
    const near = nearestName(block.patch, ids);
    findings.push({
      severity: 'error',
      rule: 'unknown-name',
      where: block.patch,
      message: `the design has no patch ${JSON.stringify(block.patch)}`,
      hint:
        near === undefined
          ? 'remove its rows, or compare with the scenario that the table belongs to'
          : `did you mean ${near}?`,
      place: block.place,
    });
  }
  for (const own of patches) findings.push(...incomplete(own, file));
  if (misread.length > 0) findings.push(wholeTable(meaning, file));
  else for (const own of patches) findings.push(...patchFindings(own, bound));
  return findings;
}

/** `sign flipped`, or all names of what comes to the same here; and what is left once it is taken back. */
function misreadWords(alternatives: Alternatives, bound: number): string {
  const words = alternatives.map(({ steps, factor }) => {
    const named = steps.map((step) => STEP_WORDS[step]).join(', and ');
    return factor === undefined ? named : `${named}, ${trimmed(factor, 6)}`;
  });
  const joined = words.join('; or ');
  const same = words.length === 1 ? '' : ' (equivalent here)';
  const left = Math.min(...alternatives.map((alternative) => alternative.left));
  return `${joined}${same}${left > bound ? `, and rounded too coarsely: ${shown(left)} waves remain after correction` : ''}`;
}

function wholeTable({ patches, misread, bound }: TableMeaning, file: string): Finding {
  const blocks = patches.flatMap((own) => own.blocks.map((block) => ({ own, block })));
  const worst = blocks.reduce((most, one) => (one.block.worst > most.block.worst ? one : most));
  return {
    severity: 'error',
    rule: 'table-misread',
    where: file,
    message: `the whole table has been misread: ${misreadWords(misread, bound)}; patch ${worst.own.patch.id} is ${worstWords(worst.block, bound)}`,
    hint: 'convert it back, or state its convention in its header and column names',
    ...figures(worst.block, bound),
  };
}

function incomplete({ patch, lacks, blocks, wrongOrder }: PatchMeaning, file: string): Finding[] {
  const findings: Finding[] = [];
  const place = blocks[0] && { place: blocks[0].block.place };
  const say = (message: string, hint: string): void => {
    findings.push({
      severity: 'error',
      rule: 'table-incomplete',
      where: place ? patch.id : file,
      message,
      hint,
      ...place,
    });
  };
  if (blocks.length === 0) say(`patch ${patch.id} is missing`, 'add its rows');
  else {
    if (lacks.includes('phase'))
      say(
        `patch ${patch.id} has neither a polynomial nor Zernike terms`,
        `add its rows of basis ${fitPhase(patch).basis} or zernike`,
      );
    if (lacks.includes('roof'))
      say(`the roof of patch ${patch.id} is missing`, 'add its three rows of basis roof');
  }
  if (wrongOrder !== undefined) {
    findings.push({
      severity: 'error',
      rule: 'table-misread',
      where: patch.id,
      message: `patch ${patch.id} is for order ${signed(wrongOrder)}; the design’s working order is ${signed(patch.order)}`,
      hint: 'give the working order; the phase itself is at order 1',
      ...place,
    });
  }
  return findings;
}

function patchFindings({ patch, blocks, misread }: PatchMeaning, bound: number): Finding[] {
  const { id } = patch;
  const say = (rule: Finding['rule'], meaning: BlockMeaning, message: string, hint: string): Finding => ({
    severity: 'error',
    rule,
    where: id,
    message,
    hint,
    ...figures(meaning, bound),
    place: meaning.block.place,
  });
  const misreadAs = (what: string, alternatives: Alternatives, meaning: BlockMeaning): Finding =>
    say(
      'table-misread',
      meaning,
      `${what}: ${misreadWords(alternatives, bound)}; ${worstWords(meaning, bound)}`,
      'convert it back, or state its convention in the header and column names',
    );
  const different = blocks.filter(({ same }) => !same);
  if (misread.length > 0) {
    const worst = different.reduce((most, block) => (block.worst > most.worst ? block : most));
    return [misreadAs(`patch ${id}`, misread, worst)];
  }
  return different.map((meaning) => {
    const what = `patch ${id}, ${BASIS_WORDS[meaning.block.basis]}`;
    const off = worstWords(meaning, bound);
    const alternatives = simplest([meaning]);
    if (meaning.rounded)
      return say(
        'table-rounded',
        meaning,
        `${what}: rounded too coarsely: ${off}; rounding alone can cause ${shown(meaning.rounding)} waves`,
        `write ${Math.ceil(Math.log10(meaning.worst / bound)) + 1} more digits`,
      );
    if (alternatives.length > 0) return misreadAs(what, alternatives, meaning);
    if (meaning.block.basis === 'roof' && patch.bias?.shape !== 'roof')
      return say(
        'table-differs',
        meaning,
        `patch ${id} has a roof of ${shown(meaning.worst)} waves where the design has none`,
        'remove its rows of basis roof',
      );
    return say(
      'table-differs',
      meaning,
      `${what}: ${off}, and no known misreading explains it${termWords(patch, meaning, bound)}`,
      'compare its rows with those in the package',
    );
  });
}

function termWords(patch: PatchMeaning['patch'], meaning: BlockMeaning, bound: number): string {
  const terms = termDifferences(patch, meaning.block, bound / 2) ?? [];
  if (terms.length === 0) return '';
  const words = terms.slice(0, TERMS_NAMED).map(({ i, j, found, meant }) => {
    const name = `the term ${meaning.block.basis === 'radial' ? `rho^${2 * i}` : `u^${i} v^${j}`}`;
    return found === undefined
      ? `${name} of ${shown(meant)} waves is missing`
      : `${name} is ${shown(found)}, expected ${shown(meant)}`;
  });
  const more = terms.length - words.length;
  return `: ${words.join('; ')}${more > 0 ? `; and ${more} more` : ''}`;
}

const worstWords = ({ worst, worstAt }: BlockMeaning, bound: number): string =>
  `up to ${shown(worst)} waves off at x = ${trimmed(worstAt[0], 3)} mm, y = ${trimmed(worstAt[1], 3)} mm; the limit is ${shown(bound)}`;

const figures = ({ worst }: BlockMeaning, bound: number) =>
  ({ value: worst, limit: bound, unit: 'waves' }) as const;
const shown = (value: number): string =>
  Math.abs(value) < 1e15 ? trimmed(Number(value.toPrecision(4)), 12) : value.toExponential(3);
const signed = (order: number): string => (order > 0 ? `+${order}` : String(order));
