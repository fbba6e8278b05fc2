/**
 * The session that an alignment was steered in, as its log takes it: which of its rounds are the readings before clamping, after clamping
 * and after reseating. Before clamping counts the last round that was read while the part was being moved; after it, rounds that are marked so
 * (`moment`) and that no move has followed.
 */
import type { Finding } from '../../finding/finding.ts';
import type { LoggedRound } from '../../scenario/alignment-log.ts';
import type { ScenarioHashes, SessionRound } from '../../scenario/bench-session.ts';
import type { RoundName } from '../../scenario/round-name.ts';
import type { Scenario } from '../../scenario/scenario.ts';
import { parseYaml } from '../yaml/parse-yaml.ts';
import { type RoundPlaces, roundFromSession } from './log-round.ts';
import { readSession } from './read-session.ts';

interface ReadLogSession {
  readonly rounds: readonly SessionRound[];
  /** Those that count, in the order of an alignment. */
  readonly logged: readonly LoggedRound[];
  readonly places: ReadonlyMap<RoundName, RoundPlaces>;
  /** With one, the rest is empty; each with its place in the session's text. */
  readonly findings: readonly Finding[];
}

/** Indices of the rounds that count, in the order of an alignment. */
function roundsThatCount(rounds: readonly SessionRound[]): readonly number[] {
  const lastAfter = (moment: RoundName, start: number): number =>
    rounds.findLastIndex((round, k) => k > start && round.moment === moment);
  const before = lastAfter('before', -1);
  const clamped = lastAfter('clamped', before);
  const reseated = lastAfter('reseated', Math.max(before, clamped));
  return [before, clamped, reseated].filter((index) => index >= 0);
}

/** The file called `name`; `now`: of the scenario, whose session it has to be. */
export function readLogSession(
  text: string,
  name: string,
  scenario: Scenario,
  now: ScenarioHashes,
): ReadLogSession {
  const refused = (findings: readonly Finding[]): ReadLogSession => {
    return { rounds: [], logged: [], places: new Map(), findings };
  };
  const { session, findings } = readSession(text, name, scenario, now);
  if (session === undefined) return refused(findings);
  const { places } = parseYaml(text, name);
  const read = roundsThatCount(session.rounds).map((index) =>
    roundFromSession(session.rounds[index]!, index, name, scenario),
  );
  const faults = read.flatMap((one) => ('findings' in one ? one.findings : []));
  if (faults.length > 0)
    return refused(
      faults.map((fault) => {
        const place = places.ofValue(fault.path ?? []);
        return place === undefined ? fault : { ...fault, place };
      }),
    );
  const logged = read.flatMap((one) => ('round' in one ? one.round : []));
  return {
    rounds: session.rounds,
    logged,
    places: new Map(
      logged.map(({ round, sessionRound }) => [
        round,
        { text, placeOf: (path) => places.ofValue(['rounds', sessionRound! - 1, ...path]) },
      ]),
    ),
    findings: [],
  };
}
