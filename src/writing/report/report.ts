/** `report.json` from a design and its findings, in the form of report-form.ts; sheet.html says the same for a person. */
import type { Design, DesignedPatch } from '../../design/design.ts';
import { periodRange } from '../../design/period-range.ts';
import type { Finding } from '../../finding/finding.ts';
import { referencePositions } from '../../metrology/estimate/reference-position.ts';
import { featureRange, type GlassReach, reachOf } from '../../metrology/reach/reach.ts';
import { harmlessTilt } from '../../metrology/rings/return-ring.ts';
import { fresnelNumberOf } from '../../metrology/sensing/fresnel.ts';
import { fringesAtNull } from '../../metrology/sensing/null-fringes.ts';
import { ACCEPTANCE, cubeOf } from '../../metrology/sensing/retroreflector.ts';
import { type ReturnedLight, returnedLight } from '../../metrology/sensing/returned-light.ts';
import { screenMark } from '../../metrology/sensing/screen-mark.ts';
import { sensesOf } from '../../metrology/sensing/sensitivity.ts';
import { DEG_PER_RAD, NM_PER_MM, UM_PER_MM, UW_PER_W } from '../../quantity/conversion.ts';
import type { Reference } from '../../scenario/scenario.ts';
import type { PatchTable } from '../coefficients/coefficients.ts';
import { namedHashes } from '../manifest.ts';
import type { Provenance } from '../provenance.ts';
import { beamWords, glassWords } from '../setup-words.ts';
import {
  REPORT_FORMAT,
  type Report,
  type ReportedMark,
  type ReportedPatch,
  type ReportedReference,
} from './report-form.ts';
import { reportedFinding } from './reported-finding.ts';
import { reportedMarks } from './reported-marks.ts';
import { motionOf } from './reported-motion.ts';
import { reportedOrder } from './reported-order.ts';
import { reportedOrientation } from './reported-orientation.ts';
import { reportedOutline } from './reported-outline.ts';
import { reportedScenario } from './reported-scenario.ts';
import { reportedTest } from './reported-test.ts';
import { reportedPart, reportedPosition, reportedSeatFrame } from './reported-uncertainty.ts';

export function reportOf(
  design: Design,
  findings: readonly Finding[],
  head: Provenance,
  tables: readonly PatchTable[],
): Report {
  const files = namedHashes(head.named);
  const test = reportedTest(design);
  const marks = reportedMarks(design, head.patternFiles);
  return {
    format: REPORT_FORMAT,
    version: head.version,
    scenario: {
      title: design.scenario.title,
      sha256: head.scenarioHash,
      ...(files && { files }),
      ...reportedScenario(design),
    },
    draft: head.draft,
    ok: findings.every(({ severity }) => severity !== 'error'),
    findings: findings.map(reportedFinding),
    light: {
      wavelength_nm: design.light.wavelength * NM_PER_MM,
      airIndex: design.light.airIndex ?? null,
    },
    camera: { diameter_mm: design.beam.cameraDiameter, orientation: reportedOrientation(design) },
    setup: { beam: beamWords(design), glass: glassWords(design) },
    substrate: {
      glass: design.glass.name,
      index: design.glass.index,
      thickness_mm: design.glass.thickness,
      lightCrossesIt: design.glass.thickness === 0 ? 'nowhere' : `${design.glass.side} the pattern`,
    },
    patches: tables.flatMap(({ patch, fit }) => ('reference' in patch ? [patchRow(design, patch, fit)] : [])),
    references: referencePositions(design).map((position, k) => {
      return {
        ...reportedPosition(position),
        cube: cubeRow(design, design.references[k]!),
        reach: reachRow(reachOf(design).references[k]!),
      };
    }),
    part: reportedPart(design),
    seatFrame: reportedSeatFrame(design),
    hologram: { harmlessTilt: harmlessTilt(design) ?? null },
    order: reportedOrder(design),
    ...(test && { test }),
    ...(marks && { marks }),
  };
}

function patchRow(design: Design, patch: DesignedPatch, fit: PatchTable['fit']): ReportedPatch {
  const { min, max, minAt } = periodRange(patch);
  const senses = sensesOf(design, patch);
  const light = returnedLight(design, patch);
  const fresnel = fresnelNumberOf(design, patch);
  const lateral = senses
    .filter(({ kind }) => kind === 'tilt')
    .map(({ resolution }) => resolution * UM_PER_MM);
  return {
    id: patch.id,
    reference: patch.reference.id,
    kind: patch.reference.kind,
    focus: patch.asked.focus,
    order: patch.order,
    centre: patch.centre,
    outline: reportedOutline(patch.outline),
    target: patch.target,
    distance_mm: patch.distance,
    lineDirection: patch.lineDirection ?? null,
    senses: patch.senses,
    period_um: { min: min * UM_PER_MM, max: max * UM_PER_MM },
    minPeriodAt_mm: minAt,
    resolution_um: lateral.length === 0 ? null : Math.max(...lateral),
    resolutionAlongSenses_um: senses.map(({ resolution }) => resolution * UM_PER_MM),
    fringesPerUmAlongSenses: senses.map(({ fringesPerMm }) => fringesPerMm / UM_PER_MM),
    captureRangeAlongSenses_um: senses.map(({ captureRange }) => captureRange * UM_PER_MM),
    readableRangeAlongSenses_um: senses.map(({ readableRange }) => readableRange * UM_PER_MM),
    fresnelNumber: fresnel?.number ?? null,
    fresnelDirection: fresnel?.direction ?? null,
    returnedShare: light?.share ?? null,
    lossShares: light === undefined ? null : lossRow(light),
    motion: motionOf(design, patch),
    mark: markRow(design, patch),
    bias: biasRow(design, patch),
    fitResidual_waves: { pv: fit.residual.pv, rms: fit.residual.rms, worst: fit.residual.worst },
    fitDegree: fit.degree,
  };
}

/** What of the free glass can serve the reference under `process.minFeature`, and the features that it would take there. */
function reachRow({ order, share, features }: GlassReach): ReportedReference['reach'] {
  const { finest, coarsest } = featureRange(features);
  return {
    order,
    shareOfFreeGlass: share ?? null,
    finestFeature_um: finest === undefined ? null : finest * UM_PER_MM,
    coarsestFeature_um: coarsest === undefined ? null : coarsest * UM_PER_MM,
  };
}

/** How an SMR's cube stands, or is taken to stand where the scenario does not say. */
function cubeRow(design: Design, reference: Reference): ReportedReference['cube'] {
  const given = reference.cube;
  const isSeen = design.patches.some((patch) => patch.reference.id === reference.id);
  if (given === undefined || !isSeen) return null;
  const { axis, roll } = cubeOf(design, reference);
  return {
    axis,
    roll_deg: roll * DEG_PER_RAD,
    acceptance_deg: (given.acceptance ?? ACCEPTANCE) * DEG_PER_RAD,
    axisGiven: given.axis !== undefined,
    rollGiven: given.roll !== undefined,
  };
}

const lossRow = ({ losses }: ReturnedLight): NonNullable<ReportedPatch['lossShares']> => ({
  evanescent: losses.evanescent,
  missed: losses.missed,
  outsideAperture: losses['outside aperture'],
  deadZone: losses['dead zone'],
  besidePatch: losses['beside patch'],
});

function markRow(design: Design, patch: DesignedPatch): ReportedMark | null {
  const mark = screenMark(design, patch);
  if (mark === undefined) return null;
  return {
    shape: mark.shape,
    widths_um: mark.widths.map((width) => width * UM_PER_MM),
    length_mm: mark.length ?? null,
    efficiency: mark.efficiency,
    peakAgainstBeam: mark.peak,
    shareOfBeam: mark.share ?? null,
    power_uW: mark.power === undefined ? null : mark.power * UW_PER_W,
  };
}

function biasRow(design: Design, patch: DesignedPatch): ReportedPatch['bias'] {
  return {
    shape: patch.bias?.shape ?? 'none',
    fringes: patch.bias?.fringes ?? 0,
    fringesAtNull: fringesAtNull(design, patch) ?? null,
  };
}
