/** Of `record --check`: the record's figures worked out anew from its readings. */
import type { Design } from '../../design/design.ts';
import { seenRound } from '../../metrology/alignment/rounds.ts';
import { roundFromRecord } from '../../reading/bench/log-round.ts';
import { readLogSession } from '../../reading/bench/log-session.ts';
import { alignmentRecord } from '../../writing/record/alignment-record.ts';
import { differingFigures } from '../../writing/record/differing-figures.ts';
import type { AlignmentRecord } from '../../writing/record/record-form.ts';
import { sessionTextOf } from '../../writing/record/session-rows.ts';
import type { Loaded } from '../load-scenario.ts';

/** Paths of what comes out otherwise. */
export function recomputed(
  design: Design,
  record: AlignmentRecord,
  { hash, named }: Pick<Loaded, 'hash' | 'named'>,
): readonly string[] {
  const session = sessionOf(design, record, { hash, named });
  if (session !== undefined && session.findings.length > 0) return ['session'];
  // The session holds the readings of its own rounds: those that the round repeats have to be the same.
  const rounds = record.rounds.map(({ round, file, given, session: number }) =>
    typeof number === 'number'
      ? session?.logged.find((one) => one.round === round && one.sessionRound === number)
      : roundFromRecord(round, file ?? undefined, given, design.scenario),
  );
  const readable = rounds.flatMap((round) => round ?? []);
  if (readable.length < rounds.length) return ['rounds'];
  const steered = readable.flatMap((round) => {
    const seen = seenRound(design, round);
    return 'round' in seen && !seen.round.ambiguous ? [seen.round] : [];
  });
  if (steered.length < rounds.length) return ['rounds'];
  const { air, steps, ...said } = record;
  const log = {
    serial: said.serial,
    date: said.date,
    part: said.part ?? undefined,
    operator: said.operator ?? undefined,
    witness: said.witness ?? undefined,
    temperature: air.temperature_C ?? undefined,
    pressure: air.pressure_Pa ?? undefined,
    remarks: said.remarks,
    steps: steps.map(({ step, at, by, note }) => ({
      step,
      at: at ?? undefined,
      by: by ?? undefined,
      note: note ?? undefined,
    })),
    ...(session === undefined ? {} : { session: { file: record.session!.file, rounds: session.rounds } }),
    rounds: readable,
  };
  const { version, serial, package: own, order } = record;
  const head = {
    version,
    serial,
    scenarioHash: hash,
    named,
    package: own,
    order,
    sessionHash: record.session?.sha256,
  };
  return differingFigures(record, alignmentRecord(design, log, steered, head));
}

/** What the record holds of a session, read as its file was. */
const sessionOf = (
  design: Design,
  { session }: AlignmentRecord,
  { hash, named }: Pick<Loaded, 'hash' | 'named'>,
): ReturnType<typeof readLogSession> | undefined => {
  if (session === undefined || session === null) return undefined;
  const hashes = { sha256: hash, files: Object.fromEntries(named) };
  return readLogSession(sessionTextOf(session, hashes), session.file, design.scenario, hashes);
};
