/**
 * What to turn next, for a program to read. Moves to make, not errors found: µm and µrad. References in the substrate frame; the
 * part along the part frame's axes, turned about its own origin (rx, ry, rz: a rotation vector), in either order.
 */
import type { Design } from '../../design/design.ts';
import type { Finding } from '../../finding/finding.ts';
import type { Consistency } from '../../metrology/estimate/consistency.ts';
import { unobservedWords } from '../../metrology/estimate/reference-position.ts';
import { stageTurns } from '../../metrology/steering/stage.ts';
import type { Steering } from '../../metrology/steering/steering.ts';
import { displacementOf, type PartSteering } from '../../metrology/steering/steering-part.ts';
import type { SteeringReading } from '../../metrology/steering/steering-readings.ts';
import type { ReferenceSteering } from '../../metrology/steering/steering-reference.ts';
import type { Candidate, Trial } from '../../metrology/steering/steering-signs.ts';
import { UM_PER_MM, URAD_PER_RAD } from '../../quantity/conversion.ts';
import { DEGREES } from '../../scenario/scenario.ts';
import { reportedFinding } from '../report/reported-finding.ts';

const STEERING_CONVENTION =
  'positive fringes: the reference is displaced along + the sensed direction; move: the correction to apply, not the error found';

type Row = Readonly<Record<string, unknown>>;

export function steeringReport(design: Design, steering: Steering, findings: readonly Finding[]): Row {
  const { references, part, bench } = steering;
  const read = new Set(references.map(({ reference }) => reference.id));
  return {
    format: 'datumlight-steering/1',
    ok: findings.every(({ severity }) => severity !== 'error'),
    convention: STEERING_CONVENTION,
    findings: findings.map(reportedFinding),
    references: references.map((each) => referenceRow(each, bench)),
    unread: design.references.filter(({ id }) => !read.has(id)).map(({ id }) => id),
    part: partRow(part, steering),
    ...stageRows(design, steering),
  };
}

function referenceRow(steered: ReferenceSteering, bench: Steering['bench']): Row {
  const { reference, readings, candidates, trial, uncertainty, unobserved } = steered;
  const move = ({ solution }: Candidate): Row => ({ move_um: xyz(solution.unknowns, -UM_PER_MM) });
  return {
    id: reference.id,
    at: reference.at,
    ...chosen(candidates, bench, move, { move_um: null }),
    sigma_um: named(['x', 'y', 'z'], uncertainty.sigma, () => UM_PER_MM),
    combined_um: named(['x', 'y', 'z'], uncertainty.combined, () => UM_PER_MM),
    unobserved: unobservedWords(unobserved),
    readings: readingRows(readings, candidates),
    trial: trialRow(trial, readings, bench, (unknowns) => ({ move_um: xyz(unknowns, UM_PER_MM) })),
  };
}

function partRow({ pose, candidates, trial, uncertainty }: PartSteering, { bench, readings }: Steering): Row {
  const moveOf = (unknowns: ArrayLike<number>, sign: 1 | -1): Row => {
    const { translation, rotation } = displacementOf(unknowns, pose.size);
    const [rx, ry, rz] = rotation.map((angle) => sign * angle * URAD_PER_RAD);
    return { move_um: xyz(translation, sign * UM_PER_MM), move_urad: { rx, ry, rz } };
  };
  const scale = (degree: string): number => (degree.startsWith('r') ? URAD_PER_RAD : UM_PER_MM);
  return {
    frame: 'part',
    about: 'the part’s own origin',
    units: { translations: 'um', rotations: 'urad' },
    ...chosen(candidates, bench, ({ solution }) => moveOf(solution.unknowns, -1), {
      move_um: null,
      move_urad: null,
    }),
    sigma: named(DEGREES, uncertainty.sigma, scale),
    combined: named(DEGREES, uncertainty.combined, scale),
    unobserved: DEGREES.filter((_, k) => !pose.free.observed[k]),
    freeMotions: pose.free.motions.map(({ words }) => words),
    trial: trialRow(trial, readings, bench, (unknowns) => moveOf(unknowns, 1)),
  };
}

/** The one candidate's move, or null for it and all of them in a list. */
function chosen(
  candidates: readonly Candidate[],
  bench: Steering['bench'],
  move: (candidate: Candidate) => Row,
  none: Row,
): Row {
  const signs = ({ signs }: Candidate): Row =>
    Object.fromEntries([...signs].map(([entry, sign]) => [benchName(bench, entry), sign > 0 ? '+' : '-']));
  if (candidates.length !== 1)
    return {
      ...none,
      exact: null,
      consistency: null,
      candidates: candidates.map((each) => ({ signs: signs(each), ...move(each), ...agreement(each) })),
    };
  const [only] = candidates as readonly [Candidate];
  return { ...move(only), ...agreement(only), signs: signs(only), candidates: [] };
}

const agreement = ({ solution }: Candidate): Row => ({
  exact: solution.exact,
  consistency: consistencyRow(solution.consistency),
});

const consistencyRow = ({ chiSquared, degreesOfFreedom, probability, contradictory }: Consistency): Row => ({
  chiSquared,
  degreesOfFreedom,
  probability,
  contradictory,
});

function readingRows(readings: readonly SteeringReading[], candidates: readonly Candidate[]): readonly Row[] {
  const only = candidates.length === 1 ? candidates[0]!.solution : undefined;
  return readings.map(({ reading, value, perMm }, k) => {
    const fringes = reading.from !== undefined;
    const residual = only === undefined ? null : only.residuals[k]!;
    return {
      name: reading.name,
      direction: reading.direction,
      ...(fringes ? { fringes: value * perMm } : { deviation_um: value * UM_PER_MM }),
      ...(fringes
        ? { residual_fringes: residual === null ? null : residual * perMm }
        : { residual_um: residual === null ? null : residual * UM_PER_MM }),
      normalised: only?.consistency.normalised[k] ?? null,
    };
  });
}

function trialRow(
  trial: Trial | undefined,
  readings: readonly SteeringReading[],
  bench: Steering['bench'],
  move: (unknowns: ArrayLike<number>) => Row,
): Row | null {
  if (trial === undefined) return null;
  return {
    ...move(trial.unknowns),
    expected: [...trial.expected].map(([entry, { ifPlus, ifMinus }]) => ({
      reading: benchName(bench, entry),
      fringesIfPlus: ifPlus.map(({ reading, fringes }) => ({
        name: readings[reading]!.reading.name,
        fringes,
      })),
      fringesIfMinus: ifMinus.map(({ reading, fringes }) => ({
        name: readings[reading]!.reading.name,
        fringes,
      })),
    })),
  };
}

function stageRows(design: Design, { part, readings }: Steering): Row {
  const { stage } = design.scenario;
  if (stage.length === 0 || part.candidates.length !== 1) return {};
  const { size, problem } = part.pose;
  const { translation, rotation } = displacementOf(part.candidates[0]!.solution.unknowns, size);
  const negative = ([x, y, z]: readonly [number, number, number]) => [-x, -y, -z] as const;
  const { turns, left, gains } = stageTurns(
    stage,
    { translation: negative(translation), rotation: negative(rotation) },
    size,
  );
  const m = readings.length;
  const sigma = (screw: number): number => {
    let variance = 0;
    for (let i = 0; i < m; i++) {
      let gain = 0;
      for (let k = 0; k < 6; k++) gain += gains[screw * 6 + k]! * problem.estimate.gains[k * m + i]!;
      variance += (gain * readings[i]!.reading.u) ** 2;
    }
    return Math.sqrt(variance);
  };
  const [rx, ry, rz] = left.rotation.map((angle) => angle * URAD_PER_RAD);
  return {
    stage: stage.map(({ id }, k) => ({ id, turns: turns[k]!, sigma_turns: sigma(k) })),
    stageLeaves: { move_um: xyz(left.translation, UM_PER_MM), move_urad: { rx, ry, rz } },
  };
}

/** The patch or the measurement that an entry of the bench's list is about. */
function benchName(bench: Steering['bench'], entry: number): string {
  const given = bench[entry]!;
  return given.kind === 'fringes' ? given.patch : given.measurement;
}

const xyz = (three: ArrayLike<number>, factor: number): Row => ({
  x: three[0]! * factor,
  y: three[1]! * factor,
  z: three[2]! * factor,
});

const named = (
  names: readonly string[],
  values: readonly (number | undefined)[],
  scale: (name: string) => number,
): Row =>
  Object.fromEntries(
    names.map((name, k) => [name, values[k] === undefined ? null : values[k]! * scale(name)]),
  );
