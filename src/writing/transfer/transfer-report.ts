/**
 * Where a tracker says that the part is, for a program to read. Errors found and moves to make apart: µm and µrad, along the part
 * frame's axes, about the part's own origin (rx, ry, rz: a rotation vector). Residuals µm, substrate frame; tracker frame mm.
 */
import type { Design } from '../../design/design.ts';
import type { Finding } from '../../finding/finding.ts';
import { placeToParent } from '../../geometry/frame.ts';
import { stageTurns } from '../../metrology/steering/stage.ts';
import { outliersOf, type Registration } from '../../metrology/transfer/registration.ts';
import type { Transfer } from '../../metrology/transfer/transfer.ts';
import { UM_PER_MM, URAD_PER_RAD } from '../../quantity/conversion.ts';
import type { PointTable } from '../../scenario/point-table.ts';
import { DEGREES } from '../../scenario/scenario.ts';
import { reportedFinding } from '../report/reported-finding.ts';
import { moveRow, undoing, xyz } from '../steering/bench-figures.ts';

/** From mm and rad to µm and µrad. */
const REPORTED = DEGREES.map((degree) => (degree.startsWith('r') ? URAD_PER_RAD : UM_PER_MM));

export function transferReport(
  design: Design,
  transfer: Transfer,
  findings: readonly Finding[],
  table: PointTable,
) {
  const { hologram, part, displacement, points } = transfer;
  return {
    format: 'datumlight-transfer/1',
    ok: findings.every(({ severity }) => severity !== 'error'),
    findings: findings.map(reportedFinding),
    table,
    registrations: {
      hologram: hologram === undefined ? null : registrationRow(hologram),
      part: part === undefined ? null : registrationRow(part),
    },
    referencesInTracker:
      hologram === undefined
        ? []
        : design.references.map(({ id, at }) => ({ id, at_mm: placeToParent(hologram.toTracker, at) })),
    repeated: points.flatMap(({ name, repeats }) =>
      repeats === undefined
        ? []
        : [
            {
              point: name,
              count: repeats.count,
              scatter_um: xyz(repeats.scatter, UM_PER_MM),
              probability: repeats.probability,
            },
          ],
    ),
    part: displacement === undefined ? null : partRow(displacement),
    ...stageRow(design, displacement),
  };
}

function registrationRow(registration: Registration) {
  const { points, toTracker, residuals, tests, chiSquared, degreesOfFreedom, probability, contradictory } =
    registration;
  return {
    substrateToTracker: { rotation: toTracker.rotation, translation_mm: toTracker.origin },
    sigma: sigmas(registration.trackerCovariance),
    combined: sigmas(registration.covariance),
    points: points.map(({ name }, k) => ({
      point: name,
      residual_um: xyz(residuals[k]!, UM_PER_MM),
      probability: tests[k]!.probability,
    })),
    outliers: outliersOf(registration).map((k) => points[k]!.name),
    consistency: { chiSquared, degreesOfFreedom, probability, contradictory },
  };
}

function partRow({ found, trackerCovariance, covariance }: NonNullable<Transfer['displacement']>) {
  const error = moveRow(found);
  return {
    frame: 'part',
    about: 'the part’s own origin',
    units: { translations: 'um', rotations: 'urad' },
    error_um: error.move_um,
    error_urad: error.move_urad,
    ...moveRow(undoing(found)),
    sigma: sigmas(trackerCovariance),
    combined: sigmas(covariance),
    covariance: DEGREES.map((_, i) =>
      DEGREES.map((_, j) => covariance[i * 6 + j]! * REPORTED[i]! * REPORTED[j]!),
    ),
  };
}

function stageRow({ scenario: { stage } }: Design, displacement: Transfer['displacement']) {
  if (stage.length === 0 || displacement === undefined) return {};
  const { turns, left } = stageTurns(stage, undoing(displacement.found), displacement.size);
  return { stage: stage.map(({ id }, k) => ({ id, turns: turns[k]! })), stageLeaves: moveRow(left) };
}

const sigmas = (covariance: Float64Array): Readonly<Record<string, number>> =>
  Object.fromEntries(DEGREES.map((degree, k) => [degree, Math.sqrt(covariance[k * 7]!) * REPORTED[k]!]));
