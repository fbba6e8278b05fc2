/**
 * What air other than the scenario's does to a round of readings. The wavelength goes as 1/n (optics/air.ts), λ' = λ(1 + κ) with
 * κ = n/n' − 1; every patch then sends its light elsewhere, and the readings show a displacement of the part that is none:
 * at a distance f about κf along the light, 1 µm for 1 K at 1 m. mm and rad, part frame. The heat of hologram and part is no part of it.
 */
import type { Design } from '../../design/design.ts';
import { AIR_RANGES, airIndex } from '../../optics/air.ts';
import type { PoseEstimate } from '../estimate/pose-estimate.ts';

/** °C and Pa; undefined: not measured, the scenario's is taken. */
interface MeasuredAir {
  readonly temperature: number | undefined;
  readonly pressure: number | undefined;
}

interface AirChange {
  /** κ. */
  readonly wavelength: number;
  /** The six degrees of the displacement that the readings show for it. */
  readonly apparent: readonly number[];
}

/** Undefined where the scenario states no air, nothing was measured, or the formula does not reach. */
export function airChange(
  { scenario: { light }, light: { airIndex: designed } }: Design,
  { sources, readings, full }: PoseEstimate,
  { temperature, pressure }: MeasuredAir,
): AirChange | undefined {
  if (light.given !== 'vacuum' || designed === undefined) return undefined;
  if (temperature === undefined && pressure === undefined) return undefined;
  const air = {
    ...light.air,
    temperature: temperature ?? light.air.temperature,
    pressure: pressure ?? light.air.pressure,
  };
  const reaches = (['temperature', 'pressure'] as const).every(
    (key) => air[key] >= AIR_RANGES[key][0] && air[key] <= AIR_RANGES[key][1],
  );
  if (!reaches) return undefined;
  const wavelength = designed / airIndex(light.vacuumWavelength, air) - 1;
  // A laser whose wavelength is off by κ aims the patches likewise: its source says where, and the readings count from there.
  const source = sources.find(({ term }) => term === 'laser wavelength');
  const { at, by } = source?.inHologram ?? source?.effects ?? { at: [], by: [] };
  const apparent = Array.from({ length: 6 }, (_, degree) =>
    at.reduce(
      (sum, reading, k) => sum - full.gains[degree * readings.length + reading]! * by[k]! * wavelength,
      0,
    ),
  );
  return { wavelength, apparent };
}
