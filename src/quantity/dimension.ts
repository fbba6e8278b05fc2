/**
 * What a quantity measures, as exponents of five independent kinds: length, angle, temperature, pressure, power.
 * Values inside the program: length mm, angle rad, temperature °C, pressure Pa, power W, plain numbers as they are.
 */
export type Dimension = 'length' | 'angle' | 'temperature' | 'pressure' | 'power' | 'number';

/** Exponents of [length, angle, temperature, pressure, power]. */
export type Exponents = readonly [number, number, number, number, number];

export const EXPONENTS: { readonly [dimension in Dimension]: Exponents } = {
  length: [1, 0, 0, 0, 0],
  angle: [0, 1, 0, 0, 0],
  temperature: [0, 0, 1, 0, 0],
  pressure: [0, 0, 0, 1, 0],
  power: [0, 0, 0, 0, 1],
  number: [0, 0, 0, 0, 0],
};

/** The unit that a bare number is taken in. */
export const HOUSE_UNIT: { readonly [dimension in Dimension]: string } = {
  length: 'mm',
  angle: 'deg',
  temperature: 'degC',
  pressure: 'Pa',
  power: 'W',
  number: '',
};

const KINDS: readonly Dimension[] = ['length', 'angle', 'temperature', 'pressure', 'power'];

/** Exponents come from products and whole or halved powers; this only forgives the rounding of repeated roots. */
const EXPONENT_TOLERANCE = 1e-9;

export const sameExponents = (a: Exponents, b: Exponents): boolean =>
  a.every((exponent, i) => Math.abs(exponent - b[i]!) < EXPONENT_TOLERANCE);

/** The plain dimension with these exponents; undefined for a product such as an area. */
export const dimensionOf = (exponents: Exponents): Dimension | undefined =>
  (Object.keys(EXPONENTS) as Dimension[]).find((name) => sameExponents(EXPONENTS[name], exponents));

/** `a length`, `an angle`, `a plain number`, `a quantity in length^2`. */
export function describeExponents(exponents: Exponents): string {
  const name = dimensionOf(exponents);
  if (name !== undefined) return describeDimension(name);
  const factors = KINDS.flatMap((kind, i) => {
    const exponent = Number(exponents[i]!.toPrecision(6));
    return exponent === 0 ? [] : [exponent === 1 ? kind : `${kind}^${exponent}`];
  });
  return `a quantity in ${factors.join('*')}`;
}

/** `a length`, `an angle`, `a plain number`, … */
export function describeDimension(dimension: Dimension): string {
  if (dimension === 'number') return 'a plain number';
  return dimension === 'angle' ? 'an angle' : `a ${dimension}`;
}
