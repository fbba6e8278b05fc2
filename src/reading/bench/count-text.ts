/**
 * A count as a person writes it: `+0.5`, `−3`, `1/4`, `2 1/2`, `-1½`. A decimal point, or a comma where a number has no point; the sign goes
 * for the whole. Undefined for what is no count.
 */

/** Fractions with a character of their own. */
const VULGAR: Readonly<Record<string, string>> = {
  ...{ '½': '1/2', '⅓': '1/3', '⅔': '2/3', '¼': '1/4', '¾': '3/4' },
  ...{ '⅛': '1/8', '⅜': '3/8', '⅝': '5/8', '⅞': '7/8' },
};
const COUNT = /^([+-]?)\s*(?:(\d+)\s*\/\s*(\d+)|(\d+)\s+(\d+)\s*\/\s*(\d+)|(\d+(?:[.,]\d*)?|[.,]\d+))$/;

export function countIn(text: string): number | undefined {
  const plain = text
    .trim()
    .replace(/^[\u2212\u2013]/, '-')
    .replaceAll('\u2044', '/')
    .replace(/[½⅓⅔¼¾⅛⅜⅝⅞]/, (sign) => ` ${VULGAR[sign]}`);
  const found = COUNT.exec(plain.replace(/^([+-]?)\s+/, '$1'));
  if (found === null) return undefined;
  const [, sign, top, bottom, whole, over, under, decimal] = found;
  const size =
    decimal !== undefined
      ? Number(decimal.replace(',', '.'))
      : top !== undefined
        ? Number(top) / Number(bottom)
        : Number(whole) + Number(over) / Number(under);
  if (!Number.isFinite(size)) return undefined;
  return sign === '-' ? -size : size;
}
