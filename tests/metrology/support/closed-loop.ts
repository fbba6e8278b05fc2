/** The loop that the bench closes: displaced, read, steered, moved; how far off it is left, against what steering states. */
import { randomFrom } from '../../../src/algebra/random.ts';
import { Bench, exampleDesign, residualAfterMove } from './bench.ts';

export interface Loop {
  readonly example: string;
  /** Where the references stand about the part's origin, mm: a turn moves them by so much. */
  readonly size: number;
}

export const LOOPS: readonly Loop[] = [
  { example: 'steer-mirror-on-stage', size: 260 },
  { example: 'diverging-balls', size: 84 },
];

export interface Outcome {
  /** The largest of the six errors left after the first move and after the last, over its standard uncertainty. */
  readonly first: number;
  readonly last: number;
  readonly allExact: boolean;
}

/** So many random starts at this share of the capture range, each with so many moves. */
export function runLoops({ example, size }: Loop, share: number, starts: number, moves: number): Outcome[] {
  const bench = new Bench(exampleDesign(example));
  const random = randomFrom(`${example} ${share}`);
  return Array.from({ length: starts }, (): Outcome => {
    let part = bench.displaced(share, size, random);
    const worst: number[] = [];
    let allExact = true;
    for (let move = 0; move < moves; move++) {
      const { left, overSigma, exact } = residualAfterMove(bench, part);
      part = left;
      allExact &&= exact;
      worst.push(Math.max(...overSigma));
    }
    return { first: worst[0]!, last: worst.at(-1)!, allExact };
  });
}
