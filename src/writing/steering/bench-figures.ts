/** Numbers for the bench: a value to the digits that its uncertainty leaves, always with its sign, the minus a minus. */

/** To the decimals that its uncertainty has, always with its sign. */
export function signed(value: number, uncertainty: number): string {
  const text = Math.abs(value).toFixed(decimalsOf(uncertainty));
  if (Number(text) === 0) return text;
  return `${value < 0 ? '−' : '+'}${text}`;
}

export const rounded = (value: number): string => value.toFixed(decimalsOf(value));

/** Two significant digits of an uncertainty. */
const decimalsOf = (uncertainty: number): number =>
  uncertainty > 0 ? Math.min(9, Math.max(0, 1 - Math.floor(Math.log10(uncertainty)))) : 1;
