/** How well things are known, as reports carry it: from mm and radians to µm and µrad, for the part, the references and the seats. */
import type { Design } from '../../design/design.ts';
import type { BudgetTable } from '../../metrology/budget/budget-table.ts';
import { degreeBudgets } from '../../metrology/estimate/degree-budget.ts';
import { inHologramOf, partPose } from '../../metrology/estimate/pose.ts';
import { poseOf } from '../../metrology/estimate/pose-estimate.ts';
import type { ReferencePosition } from '../../metrology/estimate/reference-position.ts';
import { type Lever, seatFrame } from '../../metrology/estimate/seat-frame.ts';
import { UM_PER_MM, URAD_PER_RAD } from '../../quantity/conversion.ts';
import { DEGREES } from '../../scenario/scenario.ts';
import type {
  ReportedBudget,
  ReportedCovariance,
  ReportedDegree,
  ReportedLever,
  ReportedPart,
  ReportedReference,
  ReportedSeatFrame,
} from './report-form.ts';

const UNITS = { translations: 'um', rotations: 'urad' } as const;

/** Of an axis or a degree of freedom. */
const scaleOf = (name: string): number => (name.startsWith('r') ? URAD_PER_RAD : UM_PER_MM);

export function reportedPart(design: Design): ReportedPart {
  const { sigma, covariance, unobserved, freeMotions, weakest, budget } = partPose(design);
  return {
    frame: 'part',
    units: UNITS,
    sigma: scaled(sigma),
    covariance: scaledCovariance(covariance, DEGREES),
    unobserved,
    freeMotions,
    weakest: weakest && {
      words: weakest.words,
      sigma: weakest.sigma * (weakest.turns ? URAD_PER_RAD : UM_PER_MM),
      unit: weakest.turns ? 'urad' : 'um',
    },
    budget: scaledBudget(budget),
    inHologram: reportedInHologram(design),
    degrees: reportedDegrees(design),
  };
}

/** Each degree against the hologram's own frame, µm and µrad. */
export const reportedInHologram = (design: Design): ReportedPart['inHologram'] =>
  scaled(inHologramOf(poseOf(design)));

/** Each degree against its wish, µm and µrad. */
export const reportedDegrees = (design: Design): readonly ReportedDegree[] =>
  degreeBudgets(design).map(({ degree, wanted, reached, largest }) => {
    const scale = scaleOf(degree);
    return {
      degree,
      unit: degree.startsWith('r') ? 'urad' : 'um',
      wanted: wanted === undefined ? null : wanted * scale,
      reached: reached === null ? null : reached * scale,
      margin: wanted === undefined || reached === null ? null : (wanted - reached) * scale,
      largest: largest && { term: largest.term, sigma: largest.sigma * scale },
    };
  });

export function reportedPosition(position: ReferencePosition): Omit<ReportedReference, 'cube' | 'reach'> {
  const { id, at, sigma, covariance, ellipsoid, unobserved, budget } = position;
  return {
    id,
    at,
    sigma_um: scaled(sigma),
    covariance_um2: scaledCovariance(covariance, ['x', 'y', 'z']),
    ellipsoid: ellipsoid.map(({ direction, sigma: along }) => ({
      direction,
      sigma_um: along === null ? null : along * UM_PER_MM,
    })),
    unobserved,
    budget_um: scaledBudget(budget),
  };
}

/** Null for a hologram without seats. */
export function reportedSeatFrame(design: Design): ReportedSeatFrame | null {
  const found = seatFrame(design);
  if (found === undefined) return null;
  const { seats, sigma, covariance, freeMotions, atReferences, atPart } = found;
  return {
    frame: 'substrate',
    units: UNITS,
    seats: seats.map(({ id, at, sigma: own }) => ({ id, at_mm: at, sigma_um: own * UM_PER_MM })),
    sigma: scaled(sigma),
    covariance: scaledCovariance(covariance, DEGREES),
    freeMotions,
    atReferences:
      atReferences === null
        ? null
        : atReferences.map(({ id, ...lever }) => ({ id, ...reportedLever(lever) })),
    atPart: atPart && { ...reportedLever(atPart), rotations_urad: scaled(atPart.rotations) },
  };
}

const reportedLever = ({ at, sigma, largest }: Lever): ReportedLever => {
  return { at_mm: at, sigma_um: scaled(sigma), largest_um: largest * UM_PER_MM };
};

function scaledBudget<Name extends string>(budget: BudgetTable<Name>): ReportedBudget<Name> {
  return {
    combined: scaled(budget.combined),
    simulated: mapped(budget.simulated, (spread, name) =>
      spread === null
        ? null
        : { sigma: spread.sigma * scaleOf(name), samplingError: spread.samplingError * scaleOf(name) },
    ),
    trials: budget.trials,
    terms: budget.terms.map(({ term, by }) => ({ term, by: scaled(by) })),
  };
}

const scaled = <Name extends string, Value extends number | null>(
  values: Readonly<Record<Name, Value>>,
): Readonly<Record<Name, Value>> =>
  mapped(values, (value, name) => (value === null ? value : ((value * scaleOf(name)) as Value)));

const scaledCovariance = (covariance: ReportedCovariance, names: readonly string[]): ReportedCovariance =>
  covariance.map((row, i) =>
    row.map((entry, j) => (entry === null ? null : entry * scaleOf(names[i]!) * scaleOf(names[j]!))),
  );

const mapped = <Name extends string, Value, Other>(
  values: Readonly<Record<Name, Value>>,
  change: (value: Value, name: Name) => Other,
): Readonly<Record<Name, Other>> =>
  Object.fromEntries(
    Object.entries(values).map(([name, value]) => [name, change(value as Value, name as Name)]),
  ) as Record<Name, Other>;
