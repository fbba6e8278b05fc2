/**
 * A value with what it measures: mm, rad, Pa, W, plain numbers and their products. A temperature is held in °C where it is
 * a reading of a scale (`celsius`), in kelvins where it is a difference or absolute.
 */
import {
  type Dimension,
  describeExponents,
  dimensionOf,
  EXPONENTS,
  type Exponents,
  HOUSE_UNIT,
} from './dimension.ts';
import { fromUnit, type Unit } from './unit.ts';

export interface Quantity {
  readonly value: number;
  readonly exponents: Exponents;
  /** A temperature in °C rather than in kelvins. */
  readonly celsius: boolean;
  /** Made of bare numbers only, so that it may take the house's unit; the ratio of two lengths may not. */
  readonly bare: boolean;
}

export const ZERO_CELSIUS_IN_KELVIN = 273.15;

export const bareNumber = (value: number): Quantity => ({
  value,
  exponents: EXPONENTS.number,
  celsius: false,
  bare: true,
});

/** `value` of a unit. */
export const quantityOf = (value: number, unit: Unit): Quantity => ({
  value: fromUnit(value, unit),
  exponents: EXPONENTS[unit.dimension],
  celsius: unit.offset !== undefined,
  bare: false,
});

export const isNumber = (quantity: Quantity): boolean => dimensionOf(quantity.exponents) === 'number';

/** Digits of a value in a message: enough to recognise it. */
const SHOWN_DIGITS = 7;

/** `120 mm`, `2 deg`, `3`: a value as a scenario would write it. */
function showQuantity(quantity: Quantity): string {
  const dimension = dimensionOf(quantity.exponents);
  if (dimension === undefined) return `${shown(quantity.value)} in mm, rad, K, Pa, W`;
  if (dimension === 'temperature' && !quantity.celsius) return `${shown(quantity.value)} K`;
  return showValue(quantity.value, dimension);
}

/** A value in the program's unit as a scenario would write it. */
export const showValue = (value: number, dimension: Dimension): string =>
  `${shown(dimension === 'angle' ? (value * 180) / Math.PI : value)} ${HOUSE_UNIT[dimension]}`.trimEnd();

/** `a length (120 mm)` */
export const describeQuantity = (quantity: Quantity): string =>
  `${describeExponents(quantity.exponents)} (${showQuantity(quantity)})`;

const shown = (value: number): string => String(Number(value.toPrecision(SHOWN_DIGITS)));
