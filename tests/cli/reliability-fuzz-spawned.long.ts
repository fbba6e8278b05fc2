/** Hundreds of inputs, each through an executable of its own: what a process adds to `main`, its streams and its exit. */
import fc from 'fast-check';
import { expect, test } from 'vitest';
import { answeredLawfully } from './support/fuzz.ts';
import { Ground } from './support/fuzz-ground.ts';
import type { Ask } from './support/fuzz-program.ts';
import { asked } from './support/fuzz-requests.ts';
import { executable } from './support/run.ts';

const COUNT = 400;
/** Side by side: as many as the gate's machine has cores. */
const LANES = 2;

const spawned: Ask = async ({ argv, input }) => {
  const { code, ...said } = await executable(argv, { input });
  // Ended by a signal, it has no code.
  return { code: code ?? Number.NaN, ...said, cpu_ms: 0 };
};

test(`${COUNT} inputs, a process each`, async () => {
  const seed = Number(process.env.DATUMLIGHT_FUZZ_SEED ?? 7);
  const codes = [0, 0, 0, 0];
  const lane = async (from: number): Promise<void> => {
    const ground = new Ground();
    const inputs = fc.sample(asked(await ground.ready(spawned)), { numRuns: COUNT, seed });
    for (let k = from; k < COUNT; k += LANES) {
      const one = inputs[k]!;
      try {
        codes[(await answeredLawfully(one, ground, spawned)).code]!++;
      } catch (error) {
        throw new Error(`input ${k} of seed ${seed}, ${one.argv.join(' ')}: ${error}`, { cause: error });
      }
    }
  };
  await Promise.all(Array.from({ length: LANES }, (_, k) => lane(k)));
  for (const code of [0, 1, 2]) expect(codes[code]).toBeGreaterThan(5);
}, 1_800_000);
