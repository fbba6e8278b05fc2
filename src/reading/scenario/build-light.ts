/** Light and interferometer. mm; °C, Pa and fractions for the air. */
import { NM_PER_MM } from '../../quantity/conversion.ts';
import type { Air, Beam, Interferometer, Light } from '../../scenario/scenario.ts';
import { assemble, exactlyOne, FAULTY, type Field, type Read } from '../yaml/field.ts';
import { direction3, type Limits, NOT_NEGATIVE, point3, quantitiesGiven, quantity } from '../yaml/values.ts';

/** From the vacuum ultraviolet to the thermal infrared, mm: a wavelength beyond has a wrong unit. */
const WAVELENGTHS: Limits = { atLeast: 100e-6, atMost: 20e-3 };
/** What the formula for the index of air holds for, in mm, °C and Pa. */
const WAVELENGTHS_OF_AIR = { atLeast: 300e-6, atMost: 1700e-6 } as const;
const TEMPERATURES: Limits = { atLeast: -40, atMost: 100 };
const PRESSURES: Limits = { atLeast: 0, atMost: 140_000 };
const LEAST_PRESSURE_OF_AIR = 10_000;
const FRACTION: Limits = { atLeast: 0, atMost: 1 };
/** The cameras of interferometers have a few thousand. */
const PIXELS: Limits = { atLeast: 1, atMost: 100_000 };
/** Transmission spheres have 0.5 to 50. */
const F_NUMBERS: Limits = { atLeast: 0.1, atMost: 10_000 };
/** mm; the largest expanders have a metre. */
const DIAMETERS: Limits = { atLeast: 1e-3, atMost: 1e5 };
const READABLE: Limits = { moreThan: 0, atMost: 10 };
/** W: interferometers have milliwatts; a value beyond has a wrong unit. */
const POWERS: Limits = { moreThan: 0, atMost: 10 };

export function buildLight(field: Field): Read<Light> {
  const air = buildAir(field.get('air'));
  const given = exactlyOne(field, ['wavelength', 'vacuumWavelength'], 'a wavelength');
  if (given === 'wavelength' && field.get('air').present) {
    const message = '`air` applies to `vacuumWavelength` only; `wavelength` is already the wavelength in air';
    field.get('air').report('conflicting-keys', message, 'remove one');
  }
  const inAir = wavelength(field.get('wavelength'));
  const inVacuum = vacuumWavelength(field.get('vacuumWavelength'));
  if (given === FAULTY) return FAULTY;
  const uncertain = field.get('uncertainty');
  const uncertainty = assemble<NonNullable<Light['uncertainty']>>({
    ...quantitiesGiven(uncertain, ['wavelength'], 'length', NOT_NEGATIVE),
    ...quantitiesGiven(uncertain, ['pressure'], 'pressure', NOT_NEGATIVE),
  });
  if (given === 'wavelength')
    return assemble<Extract<Light, { given: 'air' }>>({ given: 'air', wavelength: inAir, uncertainty });
  return assemble<Extract<Light, { given: 'vacuum' }>>({
    ...{ given: 'vacuum', vacuumWavelength: inVacuum, air, uncertainty },
  });
}

function buildAir(field: Field): Read<Air> {
  const humidity = field.get('humidity');
  const percent = typeof humidity.value === 'number' && humidity.value > 1 && humidity.value <= 100;
  return assemble({
    temperature: quantity(field.get('temperature'), 'temperature', TEMPERATURES, 20),
    pressure: airPressure(field.get('pressure')),
    humidity: percent
      ? humidity.report(
          'out-of-range',
          `\`humidity\` is ${humidity.value}`,
          `0 to 1: write \`${humidity.value} %\``,
        )
      : quantity(humidity, 'number', FRACTION, 0.5),
  });
}

function airPressure(field: Field): Read<number> {
  const value = quantity(field, 'pressure', PRESSURES, 101_325);
  if (value === FAULTY || value >= LEAST_PRESSURE_OF_AIR) return value;
  return field.report(
    'out-of-range',
    `\`pressure\` is ${value} Pa; the formula for the index of air is valid from ${LEAST_PRESSURE_OF_AIR} Pa`,
    'in a vacuum chamber give `wavelength` instead',
  );
}

function vacuumWavelength(field: Field): Read<number> {
  const value = wavelength(field);
  const { atLeast, atMost } = WAVELENGTHS_OF_AIR;
  if (value === FAULTY || (value >= atLeast && value <= atMost)) return value;
  const [asked, from, to] = [value, atLeast, atMost].map((mm) => Number((mm * NM_PER_MM).toPrecision(9)));
  return field.report(
    'out-of-range',
    `\`${field.name}\` is ${asked} nm; the formula for the index of air is valid from ${from} nm to ${to} nm`,
    'give `wavelength` instead, the wavelength in the air',
  );
}

function wavelength(field: Field): Read<number> {
  const { value } = field;
  if (typeof value === 'number' && value > WAVELENGTHS.atMost! && Number.isFinite(value)) {
    const unit = value >= 100 && value <= 20_000 ? 'nm' : value >= 0.1 && value <= 20 ? 'um' : undefined;
    const hint =
      unit === undefined ? 'from 100 nm to 20 um' : `a bare number is in mm: write \`${value} ${unit}\``;
    return field.report('out-of-range', `\`${field.name}\` is ${value} mm`, hint);
  }
  return quantity(field, 'length', WAVELENGTHS);
}

export function buildInterferometer(field: Field): Read<Interferometer> {
  const given = exactlyOne(field, ['focus', 'collimated'], 'a beam');
  const beam = buildBeam(field, given);
  const placed = field.get('placed');
  if (given === 'collimated')
    unused(field.get('fNumber'), 'a collimated beam has no f-number', 'give `beamDiameter`');
  if (given === 'focus') {
    unused(field.get('beamDiameter'), 'it applies to a collimated beam', 'give `fNumber`');
    unused(field.get('direction'), 'it applies to a collimated beam', 'remove it');
  }
  return assemble({
    ...quantitiesGiven(field, ['laserPower'], 'power', POWERS),
    ...quantitiesGiven(field, ['wavefront'], 'number', NOT_NEGATIVE),
    placed: assemble<NonNullable<Interferometer['placed']>>({
      ...quantitiesGiven(placed, ['x', 'y', 'z'], 'length', NOT_NEGATIVE),
      ...quantitiesGiven(placed, ['rx', 'ry'], 'angle', NOT_NEGATIVE),
    }),
    beam,
    fNumber: quantity(field.get('fNumber'), 'number', F_NUMBERS, undefined),
    beamDiameter: quantity(field.get('beamDiameter'), 'length', DIAMETERS, undefined),
    pixelsAcrossBeam: quantity(field.get('pixelsAcrossBeam'), 'number', PIXELS, 1000),
    readable: quantity(field.get('readable'), 'number', READABLE, 0.1),
  });
}

function buildBeam(field: Field, given: Read<string>): Read<Beam> {
  const focus = point3(field.get('focus'));
  const direction = direction3(field.get('direction'), [0, 0, 1]);
  if (direction !== FAULTY && direction[2] <= 0) {
    return field.get('direction').report('bad-value', 'the beam points away from the part', 'give it z > 0');
  }
  if (given === FAULTY) return FAULTY;
  if (given === 'focus') {
    return focus === FAULTY ? FAULTY : assemble({ kind: focus[2] < 0 ? 'diverging' : 'converging', focus });
  }
  return field.get('collimated').value === true ? assemble({ kind: 'collimated', direction }) : FAULTY;
}

function unused({ reading, name, path, present }: Field, why: string, hint: string): void {
  if (present) reading.warn('unused-key', path, `\`${name}\` has no effect: ${why}`, hint);
}
