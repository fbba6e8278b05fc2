/** Why a text is no quantity: a code (a row of finding's table of codes), what is wrong, and what would be right. */
type QuantityCode =
  | 'bad-expression'
  | 'unknown-unit'
  | 'unknown-name'
  | 'unit-mismatch'
  | 'out-of-range'
  | 'parameter-cycle'
  | 'bad-id';

export interface Problem {
  readonly code: QuantityCode;
  readonly message: string;
  readonly hint: string;
}

/** Carries a Problem out of the depth of an expression; never leaves this room. */
export class ProblemError extends Error {
  readonly problem: Problem;
  constructor(code: QuantityCode, message: string, hint: string) {
    super(message);
    this.problem = { code, message, hint };
  }
}

/** Thrown where an expression uses a parameter whose own fault is reported already; never leaves this room. */
export class FaultyParameter extends Error {}

/** A text quoted in a message, clipped so that one line stays readable. */
export function quote(text: string): string {
  const longest = 60;
  return `\`${text.length > longest ? `${text.slice(0, longest)}…` : text}\``;
}
