/** Readings of frames held against what ought to be read, patch by patch. Fringes. */
import type { FittedValue, PatchReading } from '../../../../src/metrology/frame/frame-reading.ts';
import type { TracedPatch } from './traced-bench.ts';

export interface Judged {
  readonly id: string;
  readonly kind: TracedPatch['kind'];
  /** Read less true, where it was read; of a reading whose sign is open, by the sign that fits, or of two the one that fits. */
  readonly errors: readonly (number | undefined)[];
  /** Over its stated standard uncertainty; of a frame by rays without what is stated for diffraction. */
  readonly over: readonly (number | undefined)[];
  readonly signKnown: boolean;
  /** The sign was told, and is wrong. */
  readonly isReversed: boolean;
  readonly reading: PatchReading;
  readonly truth: readonly number[];
}

/** Fringes and standard uncertainties of what must be off before a sign is called wrong. */
const REVERSED = { fringes: 0.2, over: 4 };

export function judged(
  traced: Pick<TracedPatch, 'id' | 'kind' | 'truth'>,
  reading: PatchReading,
  by: 'rays' | 'waves' = 'rays',
): Judged {
  const { id, kind, truth } = traced;
  const { values, signKnown } = reading;
  const off = (sign: number): (number | undefined)[] =>
    values.map((value, k) => value && sign * value.fringes - truth[k]!);
  const other = reading.other?.map(({ fringes }, k) => fringes - truth[k]!);
  const size = (errors: readonly (number | undefined)[]): number => Math.hypot(...errors.map((e) => e ?? 0));
  const [as, reversed] = [off(1), off(-1)];
  const errors = [as, ...(signKnown ? [] : [other ?? reversed])].reduce((best, next) =>
    size(next) < size(best) ? next : best,
  );
  const over = errors.map((error, k) => error && error / statedFor(values[k]!, by));
  const isFar = errors.some(
    (error, k) => Math.abs(error ?? 0) > REVERSED.fringes && Math.abs(over[k]!) > REVERSED.over,
  );
  return {
    id,
    kind,
    errors,
    over,
    signKnown,
    truth,
    reading,
    isReversed: signKnown && isFar && size(reversed) < size(as) / 2,
  };
}

/** Fringes, standard. */
const statedFor = ({ uncertainty, diffraction = 0 }: FittedValue, by: 'rays' | 'waves'): number =>
  by === 'waves' ? uncertainty : Math.sqrt(uncertainty ** 2 - diffraction ** 2);

export const flat = (some: readonly Judged[], of: 'errors' | 'over'): readonly number[] =>
  some.flatMap((one) => one[of].filter((value) => value !== undefined));

export const mean = (values: readonly number[]): number =>
  values.reduce((sum, value) => sum + value, 0) / values.length;
export const scatter = (values: readonly number[]): number =>
  Math.sqrt(values.reduce((sum, value) => sum + (value - mean(values)) ** 2, 0) / (values.length - 1));
