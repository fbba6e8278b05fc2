/**
 * What to turn next, for a program to read. Moves to make, not errors found: µm and µrad. References in the substrate frame; the
 * part along the part frame's axes, turned about its own origin (rx, ry, rz: a rotation vector), in either order.
 */
import type { Design } from '../../design/design.ts';
import type { Finding } from '../../finding/finding.ts';
import { movesWithPart } from '../../kinds/reference.ts';
import { unobservedWords } from '../../metrology/estimate/reference-position.ts';
import type { Slip } from '../../metrology/steering/fault-search.ts';
import { progressOf, readableIn } from '../../metrology/steering/progress.ts';
import { screwTurns } from '../../metrology/steering/screw-uncertainty.ts';
import type { Steering } from '../../metrology/steering/steering.ts';
import { slipWords } from '../../metrology/steering/steering-findings.ts';
import type { HologramSteering } from '../../metrology/steering/steering-hologram.ts';
import { displacementOf, type PartSteering } from '../../metrology/steering/steering-part.ts';
import { labelOf, type SteeringReading } from '../../metrology/steering/steering-readings.ts';
import { knownAcross, type ReferenceSteering } from '../../metrology/steering/steering-reference.ts';
import { type Candidate, type Trial, undecidedSigns } from '../../metrology/steering/steering-signs.ts';
import { stepOf } from '../../metrology/steering/step.ts';
import { UM_PER_MM, URAD_PER_RAD } from '../../quantity/conversion.ts';
import { type BenchReading, subjectOf } from '../../scenario/bench-reading.ts';
import { DEGREES } from '../../scenario/scenario.ts';
import { reportedFinding } from '../report/reported-finding.ts';
import { moveRow, undoing, xyz } from './bench-figures.ts';
import { hologramMove, hologramSigma, notTold } from './hologram-row.ts';
import { progressRows, stepRow } from './progress-rows.ts';

const STEERING_CONVENTION =
  'positive fringes: the reference is displaced along + the sensed direction; move: the correction to apply, not the error found';

/** What earlier rounds tell: their moves led where predicted, and the last one's were no more than noise. */
interface EarlierRounds {
  readonly confirmed: boolean;
  readonly settled: readonly string[];
}

export function steeringReport(
  design: Design,
  steering: Steering,
  findings: readonly Finding[],
  { confirmed, settled }: EarlierRounds = { confirmed: false, settled: [] },
) {
  const { references, part, bench, readings, hologram, asRead } = steering;
  const readOf = (id: string) => asRead.references.find(({ reference }) => reference.id === id);
  const read = new Set(readings.map(({ reading }) => reading.reference.id));
  return {
    format: 'datumlight-steering/1',
    ok: findings.every(({ severity }) => severity !== 'error'),
    convention: STEERING_CONVENTION,
    findings: findings.map(reportedFinding),
    setAside: [...steering.soundness.setAside].map(([entry, why]) => ({
      reading: benchName(bench, entry),
      why,
    })),
    suggestions: steering.soundness.contradicting.flatMap(({ slips }) => slips.map(suggestionRow)),
    ...(hologram === undefined ? {} : { hologram: hologramRow(hologram, bench, asRead.hologram) }),
    references: references.map((each) => referenceRow(each, bench, readOf(each.reference.id))),
    unread: [...readableIn(design)].filter((id) => !read.has(id)),
    part: partRow(part, steering),
    ...stageRows(design, steering),
    step: stepRow(design, steering, stepOf(design, steering, confirmed)),
    ...progressRows(progressOf(design, steering, settled)),
  };
}

/** One slip that would explain a contradiction; it was not applied. */
const suggestionRow = (slip: Slip) => ({
  kind: slip.kind,
  readings: slip.readings.map(labelOf),
  probability: slip.probability,
  words: `the readings would agree if ${slipWords(slip)}`,
});

function hologramRow(
  steered: HologramSteering,
  bench: Steering['bench'],
  asRead: HologramSteering | undefined,
) {
  const { readings, candidates, trial } = steered;
  const moveOf = hologramMove(steered);
  return {
    frame: 'substrate',
    about: 'the origin on the pattern',
    units: { translations: 'um', rotations: 'urad' },
    ...chosen(
      candidates,
      bench,
      moveOf,
      { move_um: null, move_urad: null, insteadByShift_um: null },
      asRead?.candidates,
    ),
    sigma: hologramSigma(steered),
    notTold: notTold(steered),
    readings: readingRows(readings, candidates),
    trial: trialRow(trial, readings, bench, moveOf),
  };
}

function referenceRow(
  steered: ReferenceSteering,
  bench: Steering['bench'],
  asRead: ReferenceSteering | undefined,
) {
  const { reference, readings, candidates, trial, uncertainty, unobserved } = steered;
  const moveOf = ([x, y, z]: Float64Array, sign: 1 | -1) => ({
    move_um: xyz([x!, y!, z!], sign * UM_PER_MM),
  });
  return {
    id: reference.id,
    at: reference.at,
    movesWith: movesWithPart(reference) ? 'part' : 'mount',
    ...chosen(candidates, bench, moveOf, { move_um: null }, asRead?.candidates),
    sigma_um: named(['x', 'y', 'z'], uncertainty.sigma),
    combined_um: named(['x', 'y', 'z'], uncertainty.combined),
    unobserved: unobservedWords(unobserved),
    knownAcross: knownAcross(steered).map(({ direction, displacement, sigma, combined }) => ({
      direction,
      move_um: -displacement * UM_PER_MM,
      sigma_um: sigma * UM_PER_MM,
      combined_um: combined * UM_PER_MM,
    })),
    readings: readingRows(readings, candidates),
    trial: trialRow(trial, readings, bench, moveOf),
  };
}

function partRow(
  { pose, readings, candidates, trial, uncertainty, problem }: PartSteering,
  { bench, asRead }: Steering,
) {
  const moveOf = (unknowns: Float64Array, sign: 1 | -1) => {
    const found = displacementOf(unknowns, pose.size);
    return moveRow(sign > 0 ? found : undoing(found));
  };
  return {
    frame: 'part',
    about: 'the part’s own origin',
    readings: readings.length,
    ...ringRows(readings, candidates),
    ...nullRows(readings, candidates),
    units: { translations: 'um', rotations: 'urad' },
    ...chosen(candidates, bench, moveOf, { move_um: null, move_urad: null }, asRead.part.candidates),
    sigma: named(DEGREES, uncertainty.sigma),
    combined: named(DEGREES, uncertainty.combined),
    unobserved: DEGREES.filter((_, k) => !pose.free.observed[k]),
    ...(candidates.length === 0 ? { undecided: undecidedSigns(problem) } : {}),
    freeMotions: pose.free.motions.map(({ words }) => words),
    trial: trialRow(trial, readings, bench, moveOf),
  };
}

/** What was counted of rings at normal incidence: it tells of the part alone. */
function ringRows(readings: readonly SteeringReading[], candidates: readonly Candidate[]) {
  const rows = readingRows(readings, candidates);
  const rings = rows.filter((_, k) => readings[k]!.reading.countedPerMm !== undefined);
  return rings.length === 0 ? {} : { rings };
}

/** What was read of the null: it tells of the part alone. */
function nullRows(readings: readonly SteeringReading[], candidates: readonly Candidate[]) {
  const only = candidates.length === 1 ? candidates[0]!.solution : undefined;
  const rows = readings.flatMap(({ reading, value, perMm, term, unit }, k) => {
    if (term === undefined) return [];
    const residual = only === undefined ? null : only.residuals[k]! * perMm;
    const shown =
      unit === 'waves'
        ? { waves: value * perMm, residual_waves: residual }
        : { fringes: value * perMm, residual_fringes: residual };
    return [{ name: reading.name, ...shown, normalised: only?.consistency.normalised[k] ?? null }];
  });
  return rows.length === 0 ? {} : { null: rows };
}

type MoveOf<Move> = (unknowns: Float64Array, sign: 1 | -1) => Move;

/** The one candidate's move, or null for it and all of them in a list. Whether readings agree is said of all `asRead`, sound or not. */
function chosen<Move extends object, None extends Readonly<Record<keyof Move, null>>>(
  candidates: readonly Candidate[],
  bench: Steering['bench'],
  moveOf: MoveOf<Move>,
  none: None,
  asRead: readonly Candidate[] = candidates,
) {
  const rows = candidates.map(({ signs, solution: { unknowns, exact, consistency } }) => {
    const all =
      candidates.length === 1 && asRead.length === 1 ? asRead[0]!.solution.consistency : consistency;
    const { chiSquared, degreesOfFreedom, probability, contradictory } = all;
    return {
      signs: Object.fromEntries(
        [...signs].map(([entry, sign]) => [benchName(bench, entry), signName(bench[entry]!, sign)]),
      ),
      ...moveOf(unknowns, -1),
      exact,
      consistency: { chiSquared, degreesOfFreedom, probability, contradictory },
    };
  });
  const [first, ...others] = rows;
  if (first !== undefined && others.length === 0) return { ...first, candidates: others };
  return { ...none, exact: null, consistency: null, signs: undefined, candidates: rows };
}

function readingRows(readings: readonly SteeringReading[], candidates: readonly Candidate[]) {
  const only = candidates.length === 1 ? candidates[0]!.solution : undefined;
  return readings.map(({ reading, value, perMm }, k) => {
    const residual = only === undefined ? null : only.residuals[k]!;
    return {
      name: reading.name,
      direction: reading.direction,
      ...(reading.from !== undefined
        ? { fringes: value * perMm, residual_fringes: residual === null ? null : residual * perMm }
        : { deviation_um: value * UM_PER_MM, residual_um: residual === null ? null : residual * UM_PER_MM }),
      normalised: only?.consistency.normalised[k] ?? null,
    };
  });
}

function trialRow<Move extends object>(
  trial: Trial | undefined,
  readings: readonly SteeringReading[],
  bench: Steering['bench'],
  moveOf: MoveOf<Move>,
) {
  if (trial === undefined) return null;
  const told = (shown: readonly { readonly reading: number; readonly fringes: number }[]) =>
    shown.map(({ reading, fringes }) => ({ name: readings[reading]!.reading.name, fringes }));
  return {
    ...moveOf(trial.unknowns, 1),
    expected: [...trial.expected].map(([entry, { ifPlus, ifMinus }]) => ({
      reading: benchName(bench, entry),
      // Of a pair of readings, if the first is right or the second.
      ofTwo: isPair(bench[entry]!),
      fringesIfPlus: told(ifPlus),
      fringesIfMinus: told(ifMinus),
    })),
  };
}

function stageRows({ scenario: { stage } }: Design, { part }: Steering) {
  const found = screwTurns(stage, part);
  if (found === undefined) return {};
  return {
    stage: found.screws.map(({ id, turns, sigma, combined }) => ({
      id,
      turns,
      sigma_turns: sigma ?? null,
      combined_turns: combined ?? null,
    })),
    stageLeaves: moveRow(found.left),
  };
}

const isPair = (given: BenchReading): boolean => given.kind === 'fringes' && given.or !== undefined;

/** Of a pair of readings which of the two it is. */
function signName(given: BenchReading, sign: 1 | -1): string {
  if (isPair(given)) return sign > 0 ? 'first' : 'second';
  return sign > 0 ? '+' : '-';
}

const benchName = (bench: Steering['bench'], entry: number): string => subjectOf(bench[entry]!);

/** Of an axis or a degree of freedom, from mm and rad. */
const named = (
  names: readonly string[],
  values: readonly (number | undefined)[],
): Readonly<Record<string, number | null>> =>
  Object.fromEntries(
    names.map((name, k) => [
      name,
      values[k] === undefined ? null : values[k]! * (name.startsWith('r') ? URAD_PER_RAD : UM_PER_MM),
    ]),
  );
