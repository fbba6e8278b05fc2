/** Faults of the readings themselves: contradictions, and more fringes than can be counted. Paths are the readings file's. */
import type { Finding } from '../../finding/finding.ts';
import type { Consistency } from '../estimate/consistency.ts';
import type { Steering } from './steering.ts';
import type { SteeringReading } from './steering-readings.ts';

export function steeringFindings(steering: Steering): readonly Finding[] {
  const { references, part, readings } = steering;
  const inReferences = references.flatMap(({ reference, candidates, readings: own }) =>
    candidates.slice(0, 1).flatMap(({ solution }) => contradiction(reference.id, solution.consistency, own)),
  );
  const inPart = part.candidates
    .slice(0, 1)
    .flatMap(({ solution }) => contradiction('part', solution.consistency, part.readings));
  const linear = references.flatMap(({ reference, candidates, readings: own }) =>
    candidates.some(({ solution }) => !solution.exact) ? [beyondTrace(reference.id, own)] : [],
  );
  // What contradicts itself at a reference does so in the part again.
  const contradictions = inReferences.length > 0 ? inReferences : inPart;
  return [...contradictions, ...readings.flatMap(beyondCapture), ...linear];
}

function contradiction(
  where: string,
  { contradictory, chiSquared, degreesOfFreedom, probability, worst, normalised }: Consistency,
  readings: readonly SteeringReading[],
): readonly Finding[] {
  if (!contradictory) return [];
  const names = worst.map((k) => readings[k]!.reading.name);
  const size = Math.abs(normalised[worst[0]!] ?? 0);
  const suspect =
    names.length === 1
      ? `the worst is ${names[0]}`
      : `the worst, which the other readings cannot tell apart, are ${names.join(' and ')}`;
  const what = where === 'part' ? 'the readings together' : `the readings of ${where}`;
  return [
    {
      severity: 'error',
      rule: 'contradicting-readings',
      where,
      message:
        `${what} contradict each other: χ² is ${chiSquared.toPrecision(3)} for ${degreesOfFreedom} ` +
        `degree${degreesOfFreedom === 1 ? '' : 's'} of freedom, probability ${probability.toPrecision(1)}; ` +
        `${suspect}, ${size.toPrecision(3)} standard uncertainties off`,
      hint: 'read it again; first check its sign and its count of whole fringes',
      value: chiSquared,
      path: ['readings', readings[worst[0]!]!.entry],
    },
  ];
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
      severity: 'warning',
      rule: 'beyond-capture-range',
      where: reading.name,
      message: `${format(value * perMm)} ${unit} are beyond the capture range: too fine for the camera, or from where too little light comes back`,
      hint: `count again, or set the ${term === undefined ? 'reference' : 'part'} by eye first`,
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
