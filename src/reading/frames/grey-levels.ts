/**
 * Grey levels to intensity, 0 dark to 1 full scale. Cameras of 10, 12 and 14 bits save files of 16: in the low bits, or in the high ones with
 * zeros below. Full scale is then the camera's, or a saturated pixel would not be known for one.
 */
import type { CameraFrame } from '../../scenario/camera-frame.ts';

/** Common practice. */
const CAMERA_BITS = [10, 12, 14] as const;

/** Samples of `bits` in the file, pixel by pixel: grey, or red, green and blue, an opacity after them. */
export function greyFrame(
  width: number,
  height: number,
  samples: ArrayLike<number>,
  bits: number,
  channels = 1,
): CameraFrame {
  const { levels, step } = bits === 16 ? usedLevels(samples, channels) : { levels: 2 ** bits - 1, step: 1 };
  return scaledFrame(width, height, channels === 1 ? samples : luminance(samples, channels), levels, step);
}

/** `levels` from dark to full scale, `step` apart in the file. */
export function scaledFrame(
  width: number,
  height: number,
  grey: ArrayLike<number>,
  levels: number,
  step = 1,
): CameraFrame {
  const values = new Float32Array(width * height);
  const full = levels * step;
  for (let i = 0; i < values.length; i++) values[i] = grey[i]! / full;
  return { width, height, values, holds: 'intensity', levels };
}

function usedLevels(grey: ArrayLike<number>, channels: number): { levels: number; step: number } {
  let most = 0;
  let bits = 0;
  const opacity = channels % 2 === 0;
  for (let i = 0; i < grey.length; i++) {
    if (opacity && i % channels === channels - 1) continue;
    const value = grey[i]!;
    bits |= value;
    if (value > most) most = value;
  }
  const low = CAMERA_BITS.find((count) => most < 2 ** count);
  if (low !== undefined) return { levels: 2 ** low - 1, step: 1 };
  const high = CAMERA_BITS.find((count) => bits % 2 ** (16 - count) === 0);
  if (high !== undefined) return { levels: 2 ** high - 1, step: 2 ** (16 - high) };
  return { levels: 65_535, step: 1 };
}

/** `, grey levels of 12 bits` where the file has more. */
export function levelWords({ levels }: CameraFrame, bits: number): string {
  return levels === undefined || levels === 2 ** bits - 1
    ? ''
    : `, grey levels of ${Math.log2(levels + 1)} bits`;
}

/** Luminance of ITU-R BT.709; an opacity is left out. */
function luminance(samples: ArrayLike<number>, channels: number): Float64Array | Uint16Array {
  const count = Math.floor(samples.length / channels);
  if (channels < 3) {
    const grey = new Uint16Array(count);
    for (let i = 0; i < count; i++) grey[i] = samples[i * channels]!;
    return grey;
  }
  const grey = new Float64Array(count);
  for (let i = 0; i < count; i++) {
    const at = i * channels;
    grey[i] = 0.2126 * samples[at]! + 0.7152 * samples[at + 1]! + 0.0722 * samples[at + 2]!;
  }
  return grey;
}
