/**
 * Fractional numbers to a frame, as the user says what they are: intensity 0 to 1, or a phase in waves of the return. nm are optical path of
 * the return (twice the height of a surface), over the wavelength. What is not finite has no value.
 */
import type { CameraFrame } from '../../scenario/camera-frame.ts';
import { BadFrame, FRAME_UNITS, type FrameContext, type FrameUnit } from './frame-source.ts';

/** `what`: the kind of file, for the words. */
export function fractionFrame(
  width: number,
  height: number,
  numbers: ArrayLike<number>,
  { unit, wavelength }: FrameContext,
  what: string,
): CameraFrame {
  if (unit === undefined) {
    throw new BadFrame(
      `is a ${what} of fractional numbers, and nothing says what they are`,
      `say it with ${FRAME_UNITS.map((one) => `--unit ${one}`).join(', ')}`,
      { rule: 'missing-key', option: '--unit' },
    );
  }
  if (unit === 'intensity') return intensityFrame(width, height, numbers, what);
  const scale = wavesPer(unit, wavelength);
  const values = new Float32Array(width * height);
  let count = 0;
  for (let i = 0; i < values.length; i++) {
    const value = numbers[i]! * scale;
    const has = Math.abs(value) < MOST_WAVES;
    values[i] = has ? value : Number.NaN;
    if (has) count++;
  }
  if (count === 0) throw new BadFrame('is a phase map without a single value', 'save the map again');
  return { width, height, values, holds: 'phase' };
}

/** A map's mark for `no value`, such as 1e38, is far beyond this. */
const MOST_WAVES = 1e9;

function wavesPer(unit: Exclude<FrameUnit, 'intensity'>, wavelength: number): number {
  if (unit === 'waves') return 1;
  return unit === 'rad' ? 1 / (2 * Math.PI) : 1 / wavelength;
}

function intensityFrame(
  width: number,
  height: number,
  numbers: ArrayLike<number>,
  what: string,
): CameraFrame {
  const values = new Float32Array(width * height);
  for (let i = 0; i < values.length; i++) {
    const value = numbers[i]!;
    if (!(value >= 0 && value <= 1)) {
      const place = `row ${Math.floor(i / width) + 1}, column ${(i % width) + 1}`;
      const found = Number.isNaN(value) ? 'no number' : String(value);
      throw new BadFrame(
        `is a ${what} of intensities with ${found} in ${place}; they go from 0 to 1`,
        'divide by full scale, or say with --unit that it is a phase map',
      );
    }
    values[i] = value;
  }
  return { width, height, values, holds: 'intensity' };
}
