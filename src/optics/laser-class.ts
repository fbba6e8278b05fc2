/**
 * The class that a continuous beam has by its power alone, as IEC 60825-1 limits accessible emission from a small source looked into
 * for as long as it takes. W and mm. What stands on a laser's label governs: it counts housing, pulses and optics too.
 *
 * Limits, from memory of IEC 60825-1:2007 (edition 2): class 1 is 0.39 mW from 500 nm to 700 nm (39 µW · C3 below, for the blue-light
 * hazard; · C4 · C7 up to 1400 nm, where less is absorbed in the retina; 10 mW beyond), class 2 is 1 mW and only for visible light, class 3R
 * five times class 1 (visible: 5 mW), class 3B 0.5 W. Edition 3 (2014) has the same, but for C7 from 1200 nm to 1400 nm: 8 + 10^(0.04(λ/nm −
 * 1250)) in place of 8, which reaches class 3B's limit at 1310 nm and is no protection of the cornea there. The stricter 8 is kept.
 */
export type LaserClass = '1' | '2' | '3R' | '3B' | '4';

/** What IEC 60825-1 counts as visible, mm: eyes close by themselves. */
export const VISIBLE = { from: 400e-6, to: 700e-6 } as const;

/** Where the limits used here are stricter than those of IEC 60825-1:2014, mm. */
export const STRICTER_THAN_2014 = { from: 1200e-6, to: 1400e-6 } as const;

const NM_PER_MM = 1e6;
const CLASS_2 = 1e-3;
const CLASS_3R_VISIBLE = 5e-3;
const TIMES_CLASS_1 = 5;
const CLASS_3B = 0.5;

/** Undefined where this file knows no limits: under 400 nm. Throws a RangeError for a power that is not above 0. */
export function laserClass(power: number, wavelength: number): LaserClass | undefined {
  if (!(power > 0)) throw new RangeError(`a power is ${power} W; expected more than 0`);
  const nanometres = wavelength * NM_PER_MM;
  const first = classOneLimit(nanometres);
  if (first === undefined) return undefined;
  if (power <= first) return '1';
  const visible = wavelength <= VISIBLE.to;
  if (visible && power <= CLASS_2) return '2';
  if (power <= (visible ? CLASS_3R_VISIBLE : TIMES_CLASS_1 * first)) return '3R';
  return power <= CLASS_3B ? '3B' : '4';
}

const tenTo = (exponent: number): number => Math.exp(Math.LN10 * exponent);

/** W. */
function classOneLimit(nanometres: number): number | undefined {
  if (nanometres < 400) return undefined;
  if (nanometres < 500) return 3.9e-5 * tenTo(0.02 * Math.max(0, nanometres - 450));
  if (nanometres <= 700) return 3.9e-4;
  if (nanometres > 1400) return 1e-2;
  const c4 = nanometres < 1050 ? tenTo(0.002 * (nanometres - 700)) : 5;
  const c7 = nanometres < 1150 ? 1 : nanometres < 1200 ? tenTo(0.018 * (nanometres - 1150)) : 8;
  return 3.9e-4 * c4 * c7;
}
