/** Faults of the readings themselves: contradictions, and more fringes than can be counted. Paths are the readings file's. */
import type { Finding } from '../../finding/finding.ts';
import { isReadBy } from '../../kinds/kinds.ts';
import type { Reading } from '../budget/readings.ts';
import type { Consistency } from '../estimate/consistency.ts';
import { RING_COUNTS } from '../sensing/ring-count.ts';
import type { Slip } from './fault-search.ts';
import type { Steering } from './steering.ts';
import { labelOf, type SteeringReading } from './steering-readings.ts';

export function steeringFindings(steering: Steering): readonly Finding[] {
  const { readings, asRead, soundness } = steering;
  const { references, part } = asRead;
  const slipsAt = (id: string): readonly Slip[] =>
    soundness.contradicting.find((group) => group.references.has(id))?.slips ?? [];
  const { hologram } = asRead;
  const inHologram = (hologram?.candidates ?? [])
    .slice(0, 1)
    .flatMap(({ solution }) =>
      contradiction(
        'hologram',
        solution.consistency,
        hologram!.readings,
        slipsAt(hologram!.readings[0]?.reading.reference.id ?? ''),
      ),
    );
  const inReferences = references.flatMap(({ reference, candidates, readings: own }) =>
    candidates
      .slice(0, 1)
      .flatMap(({ solution }) =>
        contradiction(reference.id, solution.consistency, own, slipsAt(reference.id)),
      ),
  );
  const inPart = part.candidates
    .slice(0, 1)
    .flatMap(({ solution }) =>
      contradiction(
        'part',
        solution.consistency,
        part.readings,
        slipsAt(part.readings[0]?.reading.reference.id ?? ''),
      ),
    );
  const linear = references.flatMap(({ reference, candidates, readings: own }) =>
    candidates.some(({ solution }) => !solution.exact) ? [beyondTrace(reference.id, own)] : [],
  );
  // What contradicts itself at a reference does so in the part again.
  const contradictions = inReferences.length > 0 ? inReferences : inPart;
  return [
    ...inHologram,
    ...contradictions,
    ...blindCounts(steering),
    ...readings.flatMap(beyondCapture),
    ...linear,
  ];
}

function contradiction(
  where: string,
  { contradictory, chiSquared, degreesOfFreedom, probability, worst, normalised }: Consistency,
  readings: readonly SteeringReading[],
  slips: readonly Slip[],
): readonly Finding[] {
  if (!contradictory) return [];
  const names = worst.map((k) => labelOf(readings[k]!));
  const size = Math.abs(normalised[worst[0]!] ?? 0);
  const suspect =
    names.length === 1
      ? `the worst is ${names[0]}`
      : `the worst, which the other readings cannot tell apart, are ${names.join(' and ')}`;
  const what =
    where === 'part'
      ? 'the readings together'
      : `the readings of ${where === 'hologram' ? 'the return rings' : where}`;
  return [
    {
      severity: 'error',
      rule: 'contradicting-readings',
      where,
      message:
        `${what} contradict each other: χ² is ${chiSquared.toPrecision(3)} for ${degreesOfFreedom} ` +
        `degree${degreesOfFreedom === 1 ? '' : 's'} of freedom, probability ${probability.toPrecision(1)}; ` +
        `${suspect}, ${size.toPrecision(3)} standard uncertainties off`,
      hint: hintOf(slips),
      value: chiSquared,
      path: ['readings', readings[worst[0]!]!.entry],
    },
  ];
}

/** Suggestions that are told; the others are less likely. */
const MOST_TOLD = 4;

function hintOf(slips: readonly Slip[]): string {
  if (slips.length === 0)
    return 'no single wrong sign, exchange of two readings or whole fringe explains it: read all of them again';
  const told = slips.slice(0, MOST_TOLD).map(slipWords);
  const more = slips.length > told.length ? `; and ${slips.length - told.length} more` : '';
  return `they would agree if ${told.join('; or if ')}${more}: look again; nothing of this was applied`;
}

/** `the sign of west-rim were the other one` */
export function slipWords({ kind, readings, whole, add }: Slip): string {
  const names = readings.map((one) =>
    whole ? (one.reading.from?.patch.id ?? one.reading.name) : labelOf(one),
  );
  if (kind === 'sign') return `the sign of ${names[0]} were the other one`;
  if (kind === 'exchange') return `${names.join(' and ')} were exchanged`;
  return `${names[0]} had one fringe ${add > 0 ? 'more' : 'less'}`;
}

/** Counts given of a ring that no motion shows as, such as the power of a plane. */
function blindCounts({ bench, readings }: Steering): readonly Finding[] {
  return bench.flatMap((given, entry) => {
    if (given.kind !== 'fringes') return [];
    const own = readings.filter((reading) => reading.entry === entry);
    return given.fringes.flatMap((count, k): readonly Finding[] => {
      if (!count || own.some(({ reading }) => reading.from?.sense === k)) return [];
      const where = `${given.patch} ${RING_COUNTS[k]!}`;
      return [
        {
          severity: 'warning',
          rule: 'blind-count',
          where,
          message: `no motion shows as ${RING_COUNTS[k]!} of ${given.patch} better than an eye sees it; the count is not used`,
          hint: 'leave it out; where it is not zero, the surface or the glass causes it',
          path: ['readings', entry],
        },
      ];
    });
  });
}

function bodyRead({ reference, countedPerMm }: Reading, term: SteeringReading['term']): string {
  if (term === undefined && countedPerMm === undefined) return 'reference';
  return isReadBy(reference, 'alignment') ? 'hologram' : 'part';
}

function beyondCapture({
  reading,
  value,
  perMm,
  captureRange,
  entry,
  unit = 'fringes',
  term,
}: SteeringReading): readonly Finding[] {
  if (!(Math.abs(value) > captureRange)) return [];
  return [
    {
      severity: 'error',
      rule: 'beyond-capture-range',
      where: reading.name,
      message: `${format(value * perMm)} ${unit} are beyond the capture range: too fine for the camera, or from where too little light comes back`,
      hint: `count again, or set the ${bodyRead(reading, term)} by eye first`,
      value: Math.abs(value * perMm),
      limit: captureRange * perMm,
      unit,
      path: ['readings', entry],
    },
  ];
}

const beyondTrace = (id: string, readings: readonly SteeringReading[]): Finding => ({
  severity: 'warning',
  rule: 'beyond-capture-range',
  where: id,
  message: `the ray trace finds no position of ${id} with these readings: its move is correct to first order only`,
  hint: 'make the move and read again',
  path: ['readings', readings[0]!.entry],
});

const format = (fringes: number): string => String(Number(fringes.toPrecision(4))).replace('-', '−');
