/**
 * The session of an alignment as its record holds it: each round as its file keeps it, and where its readings put the part. µm and µrad, turns
 * of screws.
 */
import type { Design } from '../../design/design.ts';
import { steeredRound } from '../../metrology/alignment/rounds.ts';
import type { Steering } from '../../metrology/steering/steering.ts';
import { subjectOf } from '../../scenario/bench-reading.ts';
import { type ScenarioHashes, SESSION_FORMAT, type SessionRound } from '../../scenario/bench-session.ts';
import { DEGREES } from '../../scenario/scenario.ts';
import { jsonText } from '../json.ts';
import { askedRow } from '../session/session-round.ts';
import type { RecordedSession, RecordedSessionRound, SetAside, Six } from './record-form.ts';

/** `six`: from mm and rad. */
export function sessionRows(
  design: Design,
  rounds: readonly SessionRound[],
  six: (values: readonly (number | undefined)[]) => Six,
): readonly RecordedSessionRound[] {
  return rounds.map((round, k) => {
    const { moment, readings, camera, confirmed, settled, asked, written } = round;
    const { steering, place, ambiguous } = steeredRound(design, readings);
    const why = new Map(setAsideOf(steering).map((one) => [one.reading, one.why]));
    const isKnown = place !== undefined && !ambiguous;
    const { observed = [], six: found = [], combined = [] } = isKnown ? place : {};
    return {
      ...{ round: k + 1, moment, camera },
      readings: entriesIn(written),
      ...{ confirmed, settled },
      setAside: round.setAside
        .filter((name) => readings.some((reading) => subjectOf(reading) === name))
        .map((reading) => ({ reading, why: why.get(reading) ?? null })),
      codes: codesIn(written),
      asked: asked === undefined ? null : askedRow(asked, screwsIn(written)),
      displacement: isKnown
        ? six(DEGREES.map((_, degree) => (observed[degree] ? found[degree] : undefined)))
        : null,
      combined: isKnown ? six(combined) : null,
    };
  });
}

/** Why each of the readings was not trusted. */
export const setAsideOf = ({
  bench,
  soundness,
}: Steering): readonly (SetAside & { readonly why: string })[] =>
  [...soundness.setAside].map(([entry, why]) => ({ reading: subjectOf(bench[entry]!), why }));

/** The session's file again, from what the record holds of it. */
export const sessionTextOf = ({ rounds }: RecordedSession, scenario: ScenarioHashes): string =>
  jsonText({
    format: SESSION_FORMAT,
    scenario,
    rounds: rounds.map(({ codes, setAside, displacement, combined, ...kept }) => ({
      ...kept,
      setAside: setAside.map(({ reading }) => reading),
      found: { codes },
    })),
  });

type Plain = Readonly<Record<string, unknown>>;

const plain = (value: unknown): Plain =>
  typeof value === 'object' && value !== null ? (value as Plain) : {};

function entriesIn(written: unknown): readonly Plain[] {
  const { readings } = plain(written);
  return Array.isArray(readings) ? readings : [];
}

/** Codes of findings; a hand may have written anything. */
function codesIn(written: unknown): readonly string[] {
  const { codes } = plain(plain(written).found);
  const known = Array.isArray(codes)
    ? codes.filter((code): code is string => typeof code === 'string' && /^[a-z][a-z0-9-]{0,60}$/.test(code))
    : [];
  return known.slice(0, MOST_CODES);
}

/** More than there are kinds of findings. */
const MOST_CODES = 100;

function screwsIn(written: unknown): Readonly<Record<string, number>> | undefined {
  const { screws } = plain(plain(written).asked);
  if (screws === undefined) return undefined;
  const turns = Object.entries(plain(screws)).filter((one): one is [string, number] =>
    Number.isFinite(one[1]),
  );
  return Object.fromEntries(turns);
}
