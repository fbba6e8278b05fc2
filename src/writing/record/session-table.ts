/** The rounds of the session that the alignment was steered in, a row each, for the page of a record: from record.json alone. */
import { inertCell } from '../csv.ts';
import { type Html, html, table } from '../page/html.ts';
import { rounded, signed } from '../steering/bench-figures.ts';
import type { AlignmentRecord, RecordedMove, RecordedSession, RecordedSessionRound } from './record-form.ts';
import { asideWords, DEGREES, ROUND_TITLES, unitOf } from './record-tables.ts';

/** Rounds beyond this are counted: the first show how it began, the last how it ended. */
const MOST_ROUNDS = 40;

/** Nothing where the alignment was steered in no session. */
export function sessionSection({ session, numbers = {} }: AlignmentRecord): Html | '' {
  if (session === undefined || session === null) return '';
  const { rounds } = session;
  const half = MOST_ROUNDS / 2;
  const isLong = rounds.length > MOST_ROUNDS;
  const shown = isLong ? [...rounds.slice(0, half), ...rounds.slice(-half)] : rounds;
  const rows = shown.map((round) => [
    `${round.round}${round.moment === 'before' ? '' : `, ${ROUND_TITLES[round.moment]}`}`,
    ...DEGREES.map((degree) => displacement(round, degree)),
    inertCell(askedWords(round)),
    inertCell(stateWords(round, numbers)),
  ]);
  return html`<h2>Rounds of steering</h2>
<section class="session">${table(
    ['Round', ...DEGREES.map((degree) => `${degree}, ${unitOf(degree)}`), 'Moves asked for', 'State'],
    rows,
    [1, 2, 3, 4, 5, 6],
  )}</section>
<p>Displacement of the part as each round’s readings show it. Moves asked for are corrections along the part’s axes about its origin, or of a reference
or the hologram in the substrate frame.${isLong ? ` ${rounds.length - MOST_ROUNDS} rounds in the middle are left out here; record.json has them all.` : ''} ${belongs(session)}</p>`;
}

const belongs = ({ file, sha256 }: RecordedSession): Html =>
  html`Session: ${inertCell(file)}, SHA-256 <span class="hash">${sha256}</span>.`;

function displacement(
  { displacement: of, combined }: RecordedSessionRound,
  degree: (typeof DEGREES)[number],
) {
  const [value, u] = [of?.[degree], combined?.[degree]];
  return typeof value === 'number' && typeof u === 'number' ? signed(value, u) : '–';
}

/** Moves that come out as 0 are left out. */
function askedWords({ asked }: RecordedSessionRound): string {
  const named = (of: object, unit: string, uncertainty = 1): string[] =>
    Object.entries(of).flatMap(([name, value]: [string, number]) => {
      const amount = signed(value, uncertainty);
      return Number(amount) === 0 ? [] : [`${name} ${amount}${unit}`];
    });
  const moveWords = ({ move_um, move_urad }: RecordedMove): string[] => [
    ...named(move_um, ' µm'),
    ...named(move_urad, ' µrad'),
  ];
  if (asked === null) return 'none';
  if (asked.hologram !== undefined) return `the hologram, first: ${moveWords(asked.hologram).join(', ')}`;
  const { part, references, screws = {}, fraction } = asked;
  const moves = [
    ...(part === null ? [] : moveWords(part)),
    ...Object.entries(references).flatMap(([id, { move_um }]) => {
      const words = named(move_um, ' µm');
      return words.length === 0 ? [] : [`${id}: ${words.join(', ')}`];
    }),
  ];
  const turns = named(screws, '', 0.1);
  const words = [
    ...(fraction === 1 ? [] : [`${rounded(100 * fraction)} % of the correction`]),
    ...(moves.length === 0 ? ['no move over 0.05 µm or µrad'] : [moves.join(', ')]),
    ...(turns.length === 0 ? [] : [`turns of screws: ${turns.join(', ')}`]),
  ];
  return words.join('; ');
}

function stateWords(
  { confirmed, settled, setAside, codes }: RecordedSessionRound,
  numbers: Readonly<Record<string, number>>,
): string {
  return [
    ...(confirmed ? ['signs confirmed'] : []),
    ...(settled.length > 0 ? [`settled, what is left being noise: ${settled.join(', ')}`] : []),
    ...(setAside.length === 0 ? [] : [`set aside: ${asideWords(setAside, numbers)}`]),
    ...(codes.length === 0 ? [] : [`findings: ${codes.join(', ')}`]),
  ].join('; ');
}
