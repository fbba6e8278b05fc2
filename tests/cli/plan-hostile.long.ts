/**
 * `plan` on hostile scenes, through the command line's `main`: exit code 0, 1 or 2 and never an internal error, in bounded work, and
 * what it says is still open is what a reader of the written scenario finds open. The limit of work is set low, so that many reach it.
 */
import { Readable, Writable } from 'node:stream';
import fc from 'fast-check';
import { beforeEach, expect, test, vi } from 'vitest';
import { main } from '../../src/cli/main.ts';
import { readScenario } from '../../src/reading/scenario/read-scenario.ts';
import { hostileOpen } from './support/hostile-open.ts';
import '../machine/patience.ts';

/** Units of work (src/planning/work.ts), far below what a user's search may spend. */
const LIMIT = vi.hoisted(() => 60_000);
/** One in which each outcome comes up, and searches that end at their limit. */
const SEED = 14;
const patchesDesigned = vi.hoisted(() => ({ count: 0 }));

vi.mock('../../src/planning/work.ts', async (original) => ({
  ...(await original<object>()),
  MOST_WORK: LIMIT,
}));
vi.mock('../../src/design/design-patch.ts', async (original) => {
  const own = await original<typeof import('../../src/design/design-patch.ts')>();
  const designPatch: typeof own.designPatch = (...given) => {
    patchesDesigned.count++;
    return own.designPatch(...given);
  };
  return { ...own, designPatch };
});

beforeEach(() => {
  patchesDesigned.count = 0;
});

interface Answer {
  readonly code: number;
  readonly stdout: string;
  readonly stderr: string;
}

async function planned(text: string): Promise<Answer> {
  const said = { stdout: '', stderr: '' };
  const into = (name: keyof typeof said): Writable =>
    new Writable({
      write(chunk, _, done) {
        said[name] += chunk;
        done();
      },
    });
  const io = {
    stdin: Readable.from([text]),
    stdout: into('stdout'),
    stderr: into('stderr'),
    env: { DATUMLIGHT_TRACE: '1' },
  };
  const code = await main(['plan', '-', '--out', '-', '--json'], io);
  return { code, ...said };
}

/**
 * Of `plan`, which searches twice at most: each patch that is designed in a search costs 1000 units; beside those the scenario with
 * its patches is designed some times after the limit, and a ring is tried at up to 400 radii.
 */
const MOST_DESIGNED = 2 * (LIMIT / 1000 + 400) + 400;

test('any scene is answered with 0, 1 or 2 in bounded work, and what is left open is told', async () => {
  const codes = [0, 0, 0];
  let stopped = 0;
  await fc.assert(
    fc.asyncProperty(hostileOpen, async (text) => {
      patchesDesigned.count = 0;
      const { code, stdout, stderr } = await planned(text);
      expect([0, 1, 2], stderr).toContain(code);
      codes[code]!++;
      expect(patchesDesigned.count).toBeLessThan(MOST_DESIGNED);
      const answer = JSON.parse(stdout);
      expect(answer.ok).toBe(code === 0);
      if (code === 2) return;
      if (answer.stopped) stopped++;
      const { findings } = readScenario(answer.scenario, 'planned');
      const open = findings.filter(({ rule }) => rule === 'open-place').map(({ where }) => where);
      expect(answer.open.toSorted()).toEqual(open.toSorted());
      expect(answer.complete).toBe(open.length === 0);
      expect(answer.complete || code === 1).toBe(true);
      expect(findings.filter(({ rule }) => rule !== 'open-place')).toEqual([]);
    }),
    { numRuns: 40, seed: SEED },
  );
  for (const count of [...codes, stopped]) expect(count).toBeGreaterThan(0);
});
