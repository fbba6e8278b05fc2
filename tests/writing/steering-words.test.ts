/**
 * What steering tells of moves that are left out, of a hologram that is to be left, and of an end: the same in words, for a program and in the
 * session's file. Readings are of a simulated bench, pictures by independent rays. µm, µrad.
 */
import { mkdtempSync, readFileSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, expect, test } from 'vitest';
import { parse } from 'yaml';
import { answer } from '../../src/cli/commands/steer-answer.ts';
import { openSession } from '../../src/cli/commands/steer-session.ts';
import { type Job, jobNamed, quiet, steerOnce } from '../end-to-end/support/operator.ts';
import { SIXTEEN } from '../independent/camera-seen.ts';
import { rotationAbout } from '../independent/stage-operator.ts';
import '../machine/patience.ts';

const folder = mkdtempSync(join(tmpdir(), 'words-'));
afterAll(() => rmSync(folder, { recursive: true }));

async function told({ loaded }: Job, text: string, session?: string): Promise<string> {
  const io = quiet();
  const bench = { given: { options: {}, bench: {} }, before: undefined };
  const opened = session === undefined ? undefined : await openSession(session, loaded, [], io);
  const open = opened !== undefined && 'open' in opened ? { session: opened.open } : {};
  answer(loaded.design!, text, 'readings.yml', {}, { ...bench, ...open }, io);
  return io.text();
}

/** Of a part shifted along x, read as finely as the rays tell. */
function readOf({ bench }: Job, x: number): string {
  const part = { rotation: rotationAbout([1, 0, 0], 0), shift: [x, 0, 0] } as const;
  const still = { hologram: [0, 0, 0, 0, 0, 0], part, own: new Map() };
  const entries = bench.read(still, SIXTEEN[0]!, { error: () => 0, round: 0.1 });
  return `readings:\n${entries.map((entry) => `  - ${entry}\n`).join('')}`;
}

test('what is left out of the part’s move is told, and what is to be made is the rest: in words, for a program, in the session', async () => {
  const job = await jobNamed('kinematic-vees', {});
  const text = readOf(job, 0.02);
  const { part, step, done } = await steerOnce(job, text);
  expect(done).toBe(false);
  let largest = 0;
  for (const of of ['move_um', 'move_urad'])
    for (const [degree, whole] of Object.entries<number>(part[of])) {
      const [made, leftOut] = [step.part[of][degree], step.leftOut[of][degree]];
      expect(made / step.fraction + leftOut).toBeCloseTo(whole, 6);
      expect(Math.abs(leftOut)).toBeLessThanOrEqual(part.sigma[degree] * (1 + 1e-9));
      largest = Math.max(largest, Math.abs(leftOut));
    }
  expect(largest).toBeGreaterThan(1);
  const session = join(folder, 'vees.yml');
  const words = await told(job, text, session);
  expect(words).toMatch(/^Make these moves now, then read again:\n {2}x [−+]/m);
  expect(words).toMatch(/^ {2}left out, as it is under its own standard uncertainty: .*µ/m);
  expect(parse(readFileSync(session, 'utf8')).rounds[0].asked.part.move_um.x).toBeCloseTo(
    step.part.move_um.x,
    6,
  );
});

test('a part in its place is done, with where to find what is left', async () => {
  const job = await jobNamed('kinematic-vees', {});
  const words = await told(job, readOf(job, 0));
  expect(words).toMatch(
    /^Done: every move is under its own standard uncertainty, alone and together\. Leave the/m,
  );
  expect(words).not.toContain('left out');
});

test.each([
  [0, 'Within its uncertainty, leave it:'],
  [1, 'Make this move first, then read the rest again:'],
])('a hologram whose ring shows %s fringes: %s', async (fringes, head) => {
  const job = await jobNamed('ring-only', {});
  const ring = job.loaded.design!.patches.find(({ asked }) => asked.focus === 'return')!.id;
  expect(await told(job, `readings:\n  - {patch: ${ring}, fringes: [${fringes}, 0], power: 0}\n`)).toContain(
    head,
  );
});
