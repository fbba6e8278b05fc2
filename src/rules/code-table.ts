/** Every code that a finding may carry, with what it means and what to do: the layout rules first, then inputs and files. */
import { CODES } from '../finding/codes.ts';
import { RULES } from './all-rules.ts';

export interface CodeRow {
  readonly code: string;
  readonly family: 'rule' | 'input' | 'file';
  readonly meaning: string;
  readonly remedy: string;
  /** Of a rule: what is compared with. */
  readonly limit?: string;
}

export const codeTable = (): readonly CodeRow[] => [
  ...RULES.map(({ code, meaning, limit, remedy }): CodeRow => {
    return { code, family: 'rule', meaning, limit, remedy };
  }),
  ...Object.entries(CODES).map(([code, row]): CodeRow => ({ code, ...row })),
];
