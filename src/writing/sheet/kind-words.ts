/** References by their trade names. */
import type { ReferenceKind } from '../../scenario/scenario.ts';

export const KIND_WORDS: Record<ReferenceKind, string> = {
  ball: 'tooling ball',
  smr: 'SMR (sphere-mounted retroreflector)',
  screen: 'target screen',
  return: 'return to the interferometer',
  datum: 'datum feature of the part',
};
