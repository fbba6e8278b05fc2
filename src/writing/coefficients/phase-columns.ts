/** How phases and periods stand in a CSV column: waves to 1e-9, periods in µm to 1e-6, `inf` where the phase is stationary. */
import { UM_PER_MM } from '../../quantity/conversion.ts';
import { fixed } from '../../quantity/format.ts';

/** A period this long, mm, is written as `inf`: no pattern is a kilometre wide. */
const ENDLESS = 1e6;

export const phaseField = (waves: number): string => fixed(waves, 9);
export const periodField = (period: number): string =>
  period < ENDLESS ? fixed(period * UM_PER_MM, 6) : 'inf';
