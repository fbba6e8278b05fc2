/**
 * What a scenario does not say but a budget needs, with where each figure comes from. Lengths mm, half-widths of rectangular
 * distributions where a tolerance is meant; change them for the parts and the room at hand.
 */
import type { FigureTerm } from '../../scenario/scenario.ts';

export interface Practice {
  /** Largest offset of a cube's apex from its sphere's centre, each axis. */
  readonly apexCentring: number;
  /** Deviation of a ball or an SMR's sphere from a sphere. */
  readonly form: number;
  /** Half the tolerance of the radius. */
  readonly ballRadius: number;
  readonly smrRadius: number;
  /** How well a reference returns to a place that it was given, each axis. */
  readonly nest: number;
  /** The return ring's reading: standard uncertainty in fringes, across the lit beam; undefined: the scenario's `readable`. */
  readonly alignmentReading: number | undefined;
  /** Relative standard uncertainty of the laser's vacuum wavelength. */
  readonly laserWavelength: number;
  /** Standard uncertainties of the air over the path: °C, Pa, relative humidity. */
  readonly airTemperature: number;
  /** Besides: of the air pressure at a site against the one designed for, Pa. */
  readonly airPressure: number;
  readonly sitePressure: number;
  readonly airHumidity: number;
  /** Of a wavelength given in air, relative. */
  readonly wavelengthInAir: number;
  /** Standard uncertainties of the hologram's place against the beam where nothing reads it, mm and radians. */
  readonly placed: Readonly<Record<'x' | 'y' | 'z' | 'rx' | 'ry', number>>;
  /** Of the blank: mm, radians, waves from the centre to the edge of the beam. */
  readonly blank: Readonly<Record<'thickness' | 'index' | 'wedge' | 'wavefront', number>>;
  /** Of the interferometer's reference wavefront, waves from the centre to the edge of the beam. */
  readonly referenceWavefront: number;
  /** Standard uncertainty of the hologram's temperature against the one it was written at, °C. */
  readonly glassTemperature: number;
  /** Of a Zernike term of the null as an evaluation gives it, waves of the return. */
  readonly nullTerm: number;
  /** Of the surface under test against its datums, each part of a term: mm rms of height. */
  readonly ownFigure: Readonly<Record<FigureTerm, number>>;
}

export const COMMON_PRACTICE: Practice = {
  apexCentring: 0.006, // 2.5 to 12 µm by grade, no source beyond the trade: a middle one
  form: 0.00025, // ISO 3290, grade 10
  ballRadius: 0.00254, // half-inch tooling ball, +0/−0.0004 in on its diameter, no source beyond the trade
  smrRadius: 0.00127, // ±0.0001 in on the diameter, no source beyond the trade
  nest: 0.0025, // seat of a magnetic nest, no source beyond the trade
  alignmentReading: undefined,
  laserWavelength: 1.5e-6, // unstabilised helium–neon laser, CIPM 2007
  airTemperature: 0.5, // a laboratory without enclosure, no source beyond the trade
  airPressure: 100, // one reading a day of a room barometer
  airHumidity: 0.1,
  sitePressure: 1000, // the weather, no source beyond the trade; a site 900 m up is 10 kPa low
  wavelengthInAir: 3e-5 / Math.sqrt(3), // 632.8 nm typed for 632.819 nm in laboratory air is off by 3e-5
  // Set by a scale or an indicator; no source beyond the trade, as for the blank and the reference wavefront.
  placed: { x: 0.1, y: 0.1, z: 0.1, rx: 2e-4, ry: 2e-4 },
  blank: { thickness: 0.05, index: 5e-4, wedge: 30 / 206_265, wavefront: 0.05 },
  referenceWavefront: 0.025,
  glassTemperature: 0.5,
  nullTerm: 0.01, // a hundredth of a wave, no source beyond the trade
  // A polished part before its figure is known, no source beyond the trade.
  ownFigure: { tilt: 1e-3, power: 5e-4, astigmatism: 1e-4, coma: 5e-5, spherical: 5e-5 },
};

/** Linear expansion, 1/K, near room temperature. */
export const EXPANSION: Readonly<Record<string, number>> = {
  'fused silica': 0.55e-6, // found in public sources, as is N-BK7's (−30 to 70 °C)
  'N-BK7': 7.1e-6,
  'N-SF11': 8.5e-6, // SCHOTT catalogue, from memory, as is N-F2's
  'N-F2': 7.8e-6,
  'calcium fluoride': 18.9e-6, // from memory
  'sapphire (ordinary)': 5.0e-6, // square to the axis, from memory
};

/** For glass that the table does not know: that of crown glass, the larger of the usual two. */
export const EXPANSION_UNKNOWN = 7.1e-6;
