/**
 * All that is read of the references: a row for each direction that a patch senses, and one for each length measured
 * otherwise. mm, substrate frame.
 */
import type { Design, DesignedPatch } from '../design/design.ts';
import type { Vec3 } from '../geometry/vector.ts';
import type { Reference } from '../scenario/scenario.ts';
import { sensesOf } from './sensitivity.ts';

export interface Reading {
  /** `north-1 tilt`, or the measurement's id. */
  readonly name: string;
  readonly reference: Reference;
  /** What is read is this unit vector times the reference's move. */
  readonly direction: Vec3;
  /** Standard uncertainty of the reading alone, mm. */
  readonly u: number;
  /** The patch and which of its senses; undefined for a measured length. */
  readonly from: { readonly patch: DesignedPatch; readonly sense: number } | undefined;
}

/** Every reading of a design: patches first, in their order, then measurements. */
export function readingsOf(design: Design): readonly Reading[] {
  const byPatch = design.patches.flatMap((patch) =>
    sensesOf(design, patch).map((sense, k): Reading => {
      return {
        name: `${patch.id} ${sense.kind}`,
        reference: patch.reference,
        direction: sense.direction,
        u: sense.resolution,
        from: { patch, sense: k },
      };
    }),
  );
  const byLength = design.scenario.measurements.flatMap((measurement): Reading[] => {
    const reference = design.references.find(({ id }) => id === measurement.reference);
    if (reference === undefined) return [];
    const { id, direction, uncertainty } = measurement;
    return [{ name: id, reference, direction, u: uncertainty, from: undefined }];
  });
  return [...byPatch, ...byLength];
}
