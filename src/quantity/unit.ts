/**
 * Units by name. The common ones stand in a table of exact ratios, so that 1.5 in is 38.1 mm and 632.8 nm is 0.0006328 mm
 * to the last bit; any other name that mathjs knows as a length, angle, temperature, pressure or power works as well.
 *
 * value inside the program = (value in the unit + offset) · numerator / denominator, in mm, rad, Pa, W; temperatures come
 * in °C from a unit with an offset and in K from one without.
 * Ratios: the international inch is 25.4 mm exactly, the standard atmosphere 101 325 Pa (BIPM, The International System
 * of Units, 9th ed.); torr = atm/760.
 */
import type { Dimension } from './dimension.ts';
import { unitFromMathjs } from './mathjs.ts';

export interface Unit {
  readonly name: string;
  readonly dimension: Dimension;
  readonly numerator: number;
  readonly denominator: number;
  /** A scale with a zero of its own, as degC: fit for `20 degC`, not for products. */
  readonly offset: number | undefined;
}

/** The unit of this name, or undefined. Writes µ (U+00B5 or U+03BC) as u, ° as deg. */
export function unitNamed(spelling: string): Unit | undefined {
  const name = plainUnitText(spelling);
  return COMMON_UNITS.get(name) ?? uncommonUnit(name);
}

/** A unit of the table that needs no mathjs, or undefined. */
export const commonUnit = (spelling: string): Unit | undefined => COMMON_UNITS.get(plainUnitText(spelling));

export const commonUnitNames = (): Iterable<string> => COMMON_UNITS.keys();

/** `value` of the unit, in the program's own unit. The one place where a number meets its unit. */
export const fromUnit = (value: number, unit: Unit): number =>
  ((value + (unit.offset ?? 0)) * unit.numerator) / unit.denominator;

/** A text with µ, °, ℃ and Å written in letters. */
export function plainUnitText(text: string): string {
  return /[^\0-\x7f]/.test(text)
    ? text
        .replace(/[\u00b5\u03bc]/g, 'u')
        .replace(/\u2103|\u00b0C/g, 'degC')
        .replace(/\u00b0/g, 'deg')
        .replace(/[\u00c5\u212b]/g, 'angstrom')
    : text;
}

const ROWS: readonly (readonly [Dimension, string, number, number, number?])[] = [
  ['length', 'nm nanometre nanometres nanometer nanometers', 1, 1e6],
  ['length', 'um micron microns micrometre micrometres micrometer micrometers', 1, 1e3],
  ['length', 'mm millimetre millimetres millimeter millimeters', 1, 1],
  ['length', 'cm centimetre centimetres centimeter centimeters', 10, 1],
  ['length', 'm metre metres meter meters', 1000, 1],
  ['length', 'in inch inches', 254, 10],
  ['length', 'mil mils', 254, 1e4],
  ['length', 'ft foot feet', 3048, 10],
  ['angle', 'deg degree degrees', Math.PI, 180],
  ['angle', 'rad', 1, 1],
  ['angle', 'mrad', 1, 1e3],
  ['angle', 'urad', 1, 1e6],
  ['angle', 'nrad', 1, 1e9],
  ['angle', 'gon gons', Math.PI, 200],
  ['angle', 'arcmin', Math.PI, 10_800],
  ['angle', 'arcsec', Math.PI, 648_000],
  ['temperature', 'degC celsius', 1, 1, 0],
  ['temperature', 'degF fahrenheit', 5, 9, -32],
  ['temperature', 'K kelvin', 1, 1],
  ['pressure', 'Pa', 1, 1],
  ['pressure', 'hPa mbar', 100, 1],
  ['pressure', 'kPa', 1000, 1],
  ['pressure', 'bar', 1e5, 1],
  ['pressure', 'atm', 101_325, 1],
  ['pressure', 'torr', 101_325, 760],
  ['power', 'W', 1, 1],
  ['power', 'kW', 1000, 1],
  ['power', 'mW', 1, 1e3],
  ['power', 'uW', 1, 1e6],
  ['number', '%', 1, 100],
];

const COMMON_UNITS: ReadonlyMap<string, Unit> = new Map(
  ROWS.flatMap(([dimension, names, numerator, denominator, offset]) =>
    names.split(' ').map((name) => [name, { name, dimension, numerator, denominator, offset }] as const),
  ),
);

/** Digits that a unit's factor keeps from mathjs, whose products of powers of ten carry a last-bit error. */
const FACTOR_DIGITS = 15;

function uncommonUnit(name: string): Unit | undefined {
  const found = unitFromMathjs(name);
  if (found === undefined) return undefined;
  const numerator = Number(found.factor.toPrecision(FACTOR_DIGITS));
  return { name, dimension: found.dimension, numerator, denominator: 1, offset: undefined };
}
