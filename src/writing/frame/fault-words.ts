/** Why a patch was not read from a frame, or badly, and what to do about it, for the operator. */
import type { FrameFault, PatchReading } from '../../metrology/frame/frame-reading.ts';
import { SURE_QUALITY } from '../../metrology/frame/read-patch.ts';

const WORDS: Readonly<Record<FrameFault, { readonly seen: string; readonly remedy: string }>> = {
  outside: {
    seen: 'outside the picture',
    remedy: 'move or zoom the camera so that it shows the whole hologram',
  },
  dark: {
    seen: 'little or no light comes back',
    remedy:
      'check that nothing blocks the light and that the reference is in its seat; align it by eye first; or expose longer',
  },
  saturated: { seen: 'saturated', remedy: 'expose for less time, or dim the light' },
  'no-fringes': {
    seen: 'there is light, but no fringe to count',
    remedy:
      'if the patch may be aligned, take frames in phase steps (`--steps`); if it may be far off, its fringes are finer than the pixels: align the reference by eye, or zoom in; otherwise expose for less time, against vibration, and check that nothing blocks the light and that it comes from this reference',
  },
  'washed-out': {
    seen: 'there is light without fringes: they are finer than the pixels, or nothing interferes',
    remedy:
      'align the reference by eye first, or zoom in on the patch; if no fringes appear, check that the reference beam is open, that nothing blocks the light and that it comes from this reference; expose for less time, against vibration',
  },
  moire: {
    seen: 'the fringes are finer than the pixels, or may be: finer ones would look the same',
    remedy:
      'align the reference by eye first, or zoom in on the patch; if the fringes stay, check the camera’s orientation and which reference stands there',
  },
  blurred: {
    seen: 'too few pixels, or too little contrast',
    remedy: 'zoom in, and focus the camera on the hologram',
  },
  misfit: {
    seen: 'the fringes seen are not those of this patch',
    remedy: 'check how the camera is turned and which reference stands there; align it by eye first',
  },
};

export const faultSeen = (fault: FrameFault): string => WORDS[fault].seen;
export const faultRemedy = (fault: FrameFault): string => WORDS[fault].remedy;

/** Good enough for `steer` to act on, signs that may be the other way together and second readings and all. */
export const isSure = ({ values, quality }: PatchReading): boolean =>
  quality >= SURE_QUALITY && values.some((value) => value !== undefined);

/** Two decimals, never rounded up to a limit that it does not reach. */
export const qualityText = (quality: number): string => (Math.floor(100 * quality) / 100).toFixed(2);

/** What is to be said of a reading: why it is not given to `steer`, the worst first, or of a good one that it is one of two. */
export function unsureWords({ patch, faults, quality, other }: PatchReading): {
  readonly seen: string;
  readonly remedy: string;
} {
  const [worst] = faults;
  if (worst !== undefined) return { seen: faults.map(faultSeen).join('; '), remedy: faultRemedy(worst) };
  if (other !== undefined) {
    return {
      seen: 'the picture shows both readings alike; the first is right if the tilt along the bias is less than the bias',
      remedy:
        '`steer` tells them apart by the other readings or by a trial move; or take frames in phase steps (`--steps`); or, if that tilt is less than the bias, say `--below-bias`',
    };
  }
  const isTiltBiased = patch.asked.bias?.shape === 'tilt';
  return {
    seen: `the fringes are too few or too weak to rule out other readings: quality ${qualityText(quality)}, and ${SURE_QUALITY} is needed`,
    remedy: `take frames in phase steps (\`--steps\`)${isTiltBiased ? '; or bring the reference within its tilt bias and say `--below-bias`' : ''}; or count by eye`,
  };
}
