/** The record of an alignment from its log: what was read, what follows from it, and the SHA-256 of it all. µm and µrad, part frame. */
import type { Design } from '../../design/design.ts';
import { add } from '../../geometry/vector.ts';
import { kindOf } from '../../kinds/kinds.ts';
import { airChange } from '../../metrology/alignment/air-change.ts';
import { deviationsOf, missingRounds, type OrderedStep } from '../../metrology/alignment/deviations.ts';
import { figureLeft } from '../../metrology/alignment/figure-left.ts';
import type { FoundPlace } from '../../metrology/alignment/found-place.ts';
import { movesLeft } from '../../metrology/alignment/moves-left.ts';
import { changeBetween, NOTHING_ANEW, RESEATED, type Round } from '../../metrology/alignment/place-change.ts';
import type { SteeredRound } from '../../metrology/alignment/rounds.ts';
import { COVERAGE } from '../../metrology/budget/coverage.ts';
import { patchNumbers } from '../../metrology/sensing/order-of-work.ts';
import { steeringFindings } from '../../metrology/steering/steering-findings.ts';
import { moveWithPart, type PartSteering } from '../../metrology/steering/steering-part.ts';
import type { ReferenceSteering } from '../../metrology/steering/steering-reference.ts';
import { NM_PER_MM, UM_PER_MM, URAD_PER_RAD } from '../../quantity/conversion.ts';
import type { AlignmentLog, LoggedRound } from '../../scenario/alignment-log.ts';
import { DEGREES } from '../../scenario/scenario.ts';
import { jsonText } from '../json.ts';
import { namedHashes, sha256 } from '../manifest.ts';
import { reportedFinding } from '../report/reported-finding.ts';
import {
  type AlignmentRecord,
  RECORD_FORMAT,
  type RecordedAir,
  type RecordedChange,
  type RecordedFigure,
  type RecordedPlace,
  type RecordedReference,
  type RecordedRound,
  type Six,
} from './record-form.ts';
import { sessionRows, setAsideOf } from './session-rows.ts';

interface RecordHead {
  readonly version: string;
  readonly serial: string;
  readonly scenarioHash: string;
  readonly named: ReadonlyMap<string, string>;
  readonly package: AlignmentRecord['package'];
  readonly order: readonly OrderedStep[];
  /** SHA-256 of the session's file, line ends as LF, hex, where the log has one. */
  readonly sessionHash?: string | undefined;
}

/** `rounds`: those of the log, worked out, none of them ambiguous. The same log gives the same record. */
export function alignmentRecord(
  design: Design,
  log: AlignmentLog,
  rounds: readonly SteeredRound[],
  head: RecordHead,
): AlignmentRecord {
  const last = rounds.at(-1)!;
  const placed = rounds.map(({ steering: { part }, place }) =>
    place === undefined ? undefined : { part, place },
  );
  const recorded = log.rounds.map((logged, k) => roundRow(design, logged, rounds[k]!));
  const content: Omit<AlignmentRecord, 'sha256'> = {
    format: RECORD_FORMAT,
    version: head.version,
    scenario: {
      title: design.scenario.title,
      sha256: head.scenarioHash,
      files: namedHashes(head.named) ?? {},
    },
    package: head.package,
    serial: head.serial,
    date: log.date,
    part: log.part ?? null,
    operator: log.operator ?? null,
    witness: log.witness ?? null,
    air: airRow(design, log, last.steering.part),
    remarks: log.remarks,
    order: head.order,
    steps: log.steps.map(({ step, at = null, by = null, note = null }) => ({ step, at, by, note })),
    deviations: [
      ...deviationsOf(log.steps, head.order),
      ...missingRounds(
        log.rounds.map(({ round }) => round),
        head.order,
      ),
      ...movesLeft(design, log, rounds),
    ],
    rounds: recorded,
    numbers: Object.fromEntries(patchNumbers(design).map((id, k) => [id, k + 1])),
    session:
      log.session === undefined
        ? null
        : {
            file: log.session.file,
            sha256: head.sessionHash!,
            rounds: sessionRows(design, log.session.rounds, six),
          },
    changes: changeRows(design, log.rounds, placed),
    final: log.rounds.at(-1)!.round,
    figure: placed.at(-1) === undefined ? null : figureRow(design, placed.at(-1)!),
    ok: recorded.every(({ findings }) => findings.every(({ severity }) => severity !== 'error')),
  };
  const whole = { ...content, sha256: contentHash(content) };
  // As it is read back: what is made of it is then the same.
  return JSON.parse(jsonText(whole)) as AlignmentRecord;
}

/** Whether a text is a record as it was written, line ends as LF. The text is JSON of the record's form. */
export function isUnchanged(text: string): boolean {
  const record = JSON.parse(text) as AlignmentRecord;
  return (
    record.format === RECORD_FORMAT && jsonText(record) === text && contentHash(record) === record.sha256
  );
}

/** SHA-256, hex, of a record's content as JSON, without the key `sha256` itself. */
function contentHash(record: object): string {
  const { sha256: _, ...content } = record as { readonly sha256?: unknown };
  return sha256(jsonText(content));
}

function roundRow(
  design: Design,
  { round, file, given, sessionRound }: LoggedRound,
  { steering, place }: SteeredRound,
): RecordedRound {
  const read = new Set(
    steering.bench.flatMap((one) =>
      one.kind === 'fringes' ? one.patch : one.kind === 'length' ? one.measurement : [],
    ),
  );
  // A screen's mark has no fringes to count.
  const counted = design.patches.filter(({ reference }) => kindOf(reference).words.noCount === undefined);
  const all = [...counted, ...design.scenario.measurements].map(({ id }) => id);
  return {
    round,
    file: file ?? null,
    given,
    session: sessionRound ?? null,
    setAside: setAsideOf(steering),
    findings: steeringFindings(steering).map(reportedFinding),
    place: place === undefined ? null : placeRow(design, steering.part, place),
    references: steering.references.map(referenceRow),
    unread: all.filter((id) => !read.has(id)),
  };
}

function placeRow(design: Design, { pose, candidates }: PartSteering, place: FoundPlace): RecordedPlace {
  const { origin } = design.scenario.part.frame;
  const { chiSquared, degreesOfFreedom, probability, contradictory } = candidates[0]!.solution.consistency;
  return {
    displacement: six(place.six.map((part, k) => (place.observed[k] ? part : undefined))),
    origin_mm: add(origin, moveWithPart(design, place.displacement, origin)),
    sigma: six(place.sigma),
    combined: six(place.combined),
    expanded: six(place.combined.map((u) => (u === undefined ? undefined : COVERAGE * u))),
    coverageFactor: COVERAGE,
    covariance: DEGREES.map((_, i) =>
      DEGREES.map((_, j) => {
        const entry = place.covariance[i * 6 + j]! * scaleOf(i) * scaleOf(j);
        return Number.isNaN(entry) ? null : entry;
      }),
    ),
    freeMotions: pose.free.motions.map(({ words }) => words),
    consistency: { chiSquared, degreesOfFreedom, probability, contradictory },
  };
}

function referenceRow({ reference: { id }, candidates, uncertainty }: ReferenceSteering): RecordedReference {
  const { solution } = candidates[0] ?? {};
  const inUm = (value: number | undefined): number | null => (value === undefined ? null : value * UM_PER_MM);
  const [x, y, z] = uncertainty.combined;
  const at = (k: number): number => solution!.unknowns[k]! * UM_PER_MM;
  return {
    id,
    displacement_um: candidates.length === 1 ? { x: at(0), y: at(1), z: at(2) } : null,
    combined_um: { x: inUm(x), y: inUm(y), z: inUm(z) },
  };
}

/** Clamping against the round before it, reseating against the last before it. */
function changeRows(
  design: Design,
  logged: readonly LoggedRound[],
  placed: readonly (Round | undefined)[],
): readonly RecordedChange[] {
  return logged.flatMap(({ round }, k): RecordedChange[] => {
    const [before, after] = [placed[k - 1], placed[k]];
    if (before === undefined || after === undefined) return [];
    const still = changeBetween(design, before, after, NOTHING_ANEW);
    const anew = round === 'reseated' ? changeBetween(design, before, after, RESEATED) : undefined;
    const sigmaOf = ({ change, sigma }: typeof still): Six =>
      six(sigma.map((u, degree) => (change[degree] === undefined ? undefined : u)));
    return [
      {
        from: logged[k - 1]!.round,
        to: round,
        by: round === 'reseated' ? 'reseating' : 'clamping',
        change: six(still.change),
        sigma: sigmaOf(still),
        probability: still.probability,
        significant: still.significant,
        budget:
          anew === undefined
            ? null
            : { sigma: sigmaOf(anew), probability: anew.probability, exceeded: anew.significant },
      },
    ];
  });
}

function figureRow(design: Design, round: Round): RecordedFigure | null {
  const left = figureLeft(design, round);
  if (left === undefined) return null;
  const nm = (value: number | null): number | null => (value === null ? null : value * NM_PER_MM);
  const { place, placeSecondOrder, uncertainty, together } = left;
  return {
    place_nm: place * NM_PER_MM,
    placeSecondOrder_nm: placeSecondOrder * NM_PER_MM,
    uncertainty_nm: nm(uncertainty.expected),
    uncertaintySecondOrder_nm: nm(uncertainty.secondOrder),
    settingByEye_nm: uncertainty.byEye * NM_PER_MM,
    together_nm: nm(together),
  };
}

function airRow(
  design: Design,
  { temperature, pressure }: AlignmentLog,
  { pose }: PartSteering,
): RecordedAir {
  const { light } = design.scenario;
  const change = airChange(design, pose, { temperature, pressure });
  const measured = { temperature_C: temperature ?? null, pressure_Pa: pressure ?? null };
  if (change === undefined || light.given !== 'vacuum') return { ...measured, effect: null };
  return {
    ...measured,
    effect: {
      designed: { temperature_C: light.air.temperature, pressure_Pa: light.air.pressure },
      wavelength_ppm: change.wavelength * 1e6,
      apparent: six(change.apparent.map((part, k) => (pose.free.observed[k] ? part : undefined))),
    },
  };
}

const scaleOf = (degree: number): number => (degree < 3 ? UM_PER_MM : URAD_PER_RAD);

/** From mm and rad. */
const six = (values: readonly (number | undefined)[]): Six =>
  Object.fromEntries(
    DEGREES.map((degree, k) => [degree, values[k] === undefined ? null : values[k]! * scaleOf(k)]),
  ) as Six;
