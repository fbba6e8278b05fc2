/** Inputs by grammar, by changed branches, cells and bytes through the executable's own `main`, every command; each answer held to the laws. */
import process from 'node:process';
import fc from 'fast-check';
import { expect } from 'vitest';
import type { Asked, Use } from './fuzz-asked.ts';
import { Ground } from './fuzz-ground.ts';
import { obeysLaws } from './fuzz-laws.ts';
import { type Answer, type Ask, Program } from './fuzz-program.ts';
import { asked } from './fuzz-requests.ts';

/** Of one use: inputs, by exit code; CPU of all of them and of the slowest. */
export interface UseTally {
  readonly codes: [number, number, number, number];
  cpu_ms: number;
  slowest_ms: number;
}
export type Tally = Readonly<Record<Use, UseTally>>;

/** A seed of one's own instead of the fixed one, to look further; with the path that a failure told, to replay it. */
const { DATUMLIGHT_FUZZ_SEED: SEED, DATUMLIGHT_FUZZ_PATH: PATH } = process.env;

/** Of 100 inputs, those of a use that end with 0, 1, 2 and 3, as measured over 6,500 inputs of other seeds. */
const SHARES: Readonly<Record<Use, readonly number[]>> = {
  make: [1.8, 7, 13.2],
  draft: [0.24, 2.1, 4.6],
  check: [0.67, 3.2, 6.2],
  plan: [0.22, 0.86, 0.92],
  fringes: [2.9, 0, 4.1],
  steer: [1.65, 0.4, 8],
  read: [0.4, 0, 1.6],
  transfer: [1.2, 0.08, 6.7],
  record: [0.9, 0, 1.1],
  recheck: [0.27, 0, 1.4, 0.36],
  phase: [2.3, 0, 3.7],
  table: [2.6, 0.36, 6],
  batch: [0.54, 0.07, 0.39],
  verify: [0, 0, 0, 1],
  gather: [1.6, 0, 9.3],
  words: [0.9, 0, 1.1],
};

/** Inputs of either half of the long fuzz; the gate asks for fewer on a machine too slow for all. */
export const HALF = Number(process.env.DATUMLIGHT_FUZZ_HALF ?? 10_000);

/** Throws at the first input that is answered wrongly, with the seed and the path that replay it and the input made small. */
export async function fuzzed(count: number, seed: number): Promise<Tally> {
  const ground = new Ground();
  const program = new Program();
  const tally: Partial<Record<Use, UseTally>> = {};
  try {
    const all = asked(await ground.ready(program.ask));
    const answered = async (one: Asked): Promise<void> => {
      const answer = await answeredLawfully(one, ground, program.ask);
      const own = tally[one.use] ?? { codes: [0, 0, 0, 0], cpu_ms: 0, slowest_ms: 0 };
      tally[one.use] = own;
      own.codes[answer.code]!++;
      own.cpu_ms += answer.cpu_ms;
      own.slowest_ms = Math.max(own.slowest_ms, answer.cpu_ms);
    };
    await fc.assert(fc.asyncProperty(all, answered), {
      numRuns: count,
      seed: SEED === undefined ? seed : Number(SEED),
      ...(PATH === undefined ? {} : { path: PATH }),
      // Making an input small must not take longer than finding it.
      interruptAfterTimeLimit: 1_800_000,
      markInterruptAsFailure: true,
      asyncReporter: told,
    });
  } finally {
    await program.end();
  }
  return tally as Tally;
}

/** Asks, and throws where the answer breaks a law. */
export async function answeredLawfully(one: Asked, ground: Ground, ask: Ask): Promise<Answer> {
  const before = ground.standing(one.use);
  ground.place(one);
  try {
    const answer = await ask({ argv: ground.argv(one), input: one.input });
    await obeysLaws(one, answer, before, ground, ask);
    return answer;
  } finally {
    ground.restore(one);
  }
}

/** At least half the share measured, less five standard deviations of chance: one that falls so far says that no input reaches that road any more. */
export function expectEveryOutcome(tally: Tally, count: number): void {
  for (const [use, shares] of Object.entries(SHARES)) {
    for (const [code, share] of shares.entries()) {
      const half = (count * share) / 200;
      const least = Math.max(0, half - 5 * Math.sqrt(half));
      expect(tally[use as Use]?.codes[code] ?? 0, `${use}, exit ${code}`).toBeGreaterThanOrEqual(least);
    }
  }
}

async function told(details: fc.RunDetails<[Asked]>): Promise<void> {
  const { failed, seed, counterexamplePath, counterexample, errorInstance, numRuns } = details;
  if (!failed) return;
  const [one] = counterexample ?? [];
  if (one === undefined) throw new Error(`no end after ${numRuns} inputs, seed ${seed}`);
  const inputs = Object.entries({ stdin: one.input, ...one.files }).map(
    ([name, bytes]) => `${name}, ${printed(Buffer.from(bytes))}`,
  );
  // Inputs first: where a log is cut, its end is what remains.
  throw new Error(
    `made small:\n${inputs.join('\n')}\n${one.argv.join(' ')}, after ${numRuns} inputs:\n${errorInstance}\n` +
      `replay with DATUMLIGHT_FUZZ_SEED=${seed} DATUMLIGHT_FUZZ_PATH=${counterexamplePath}`,
  );
}

/** Text as JSON that leaves nothing out; bytes that are no text, such as a picture, as their number and base64, no more than a log can hold. */
function printed(bytes: Buffer): string {
  const text = bytes.toString('utf8');
  if (Buffer.from(text).equals(bytes) && !text.includes('\0'))
    return `${JSON.stringify(text)}, as text:\n${text}`;
  return `${bytes.length} bytes that are no text, in base64: ${bytes.toString('base64', 0, 6000)}`;
}
