/**
 * What a frame says of a patch as a reading for `steer`: fringes along the senses, in the same signs. Where the picture shows two readings
 * alike, both go along.
 */
import type { BenchReading } from '../../scenario/bench-reading.ts';
import type { PatchReading } from './frame-reading.ts';

/** Undefined where nothing was read. The uncertainty is one for the entry: the largest of its values'. */
export function toBenchReading({
  patch,
  values,
  signKnown,
  other,
}: PatchReading): Extract<BenchReading, { kind: 'fringes' }> | undefined {
  const uncertainties = [...values, ...(other ?? [])].flatMap((value) => value?.uncertainty ?? []);
  if (uncertainties.length === 0) return undefined;
  return {
    kind: 'fringes',
    patch: patch.id,
    fringes: values.map((value) => value?.fringes),
    signKnown: signKnown && other === undefined,
    ...(other === undefined ? {} : { or: other.map(({ fringes }) => fringes) }),
    uncertainty: Math.max(...uncertainties),
  };
}
