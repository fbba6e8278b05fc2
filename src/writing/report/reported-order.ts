/** The order of work as report.json carries it: offsets and changes in µm and µrad, distances and lengths in mm. */
import type { Design } from '../../design/design.ts';
import type { Vec3 } from '../../geometry/vector.ts';
import { orderOfWork } from '../../metrology/job/order-of-work.ts';
import type { Criterion, WorkStep } from '../../metrology/job/work-step.ts';
import { UM_PER_MM, URAD_PER_RAD } from '../../quantity/conversion.ts';

export interface ReportedStep extends Omit<WorkStep, 'done' | 'command'> {
  /** From 1. */
  readonly step: number;
  readonly done: readonly ReportedCriterion[];
  /** Null where the sheet alone says what to do. */
  readonly command: 'steer' | 'transfer' | null;
}

export interface ReportedCriterion extends Omit<Criterion, 'unit' | 'direction'> {
  readonly unit: 'fringes' | 'mm' | 'um' | 'urad';
  /** Null but of a length. */
  readonly direction: Vec3 | null;
}

export const reportedOrder = (design: Design): readonly ReportedStep[] =>
  orderOfWork(design).map(({ done, command = null, ...step }, k) => {
    return { step: k + 1, ...step, done: done.map(reportedCriterion), command };
  });

function reportedCriterion({ direction: along, ...criterion }: Criterion): ReportedCriterion {
  const direction = along ?? null;
  const { quantity, unit, value, within } = criterion;
  if (unit === 'fringes') return { ...criterion, unit, direction };
  if (unit === 'mm' && (quantity === 'distance' || quantity === 'length'))
    return { ...criterion, unit, direction };
  const [scale, small] = unit === 'rad' ? ([URAD_PER_RAD, 'urad'] as const) : ([UM_PER_MM, 'um'] as const);
  return { ...criterion, value: value * scale, within: within * scale, unit: small, direction };
}
