/** A field of a table as a decimal number; what is wrong with one that is none. */

const NUMBER = /^[+-]?(\d+\.?\d*|\.\d+)([eE][+-]?\d{1,3})?$/;
const DECIMAL_COMMA = /^[+-]?\d*,\d+([eE][+-]?\d+)?$/;

export const isNumber = (text: string): boolean => NUMBER.test(text);

/** The number, or a way out. */
export function numberOf(text: string, largest: number): number | { readonly hint: string } {
  // U+2212, as a spreadsheet or a page writes it.
  const plain = text.replace(/^\u2212/, '-');
  const value = NUMBER.test(plain) ? Number(plain) : Number.NaN;
  if (Math.abs(value) <= largest) return value;
  return {
    hint: DECIMAL_COMMA.test(text)
      ? 'write a decimal point, not a comma'
      : `write a decimal number of at most ${largest}`,
  };
}
