/** `plan` killed at random moments while it replaces a complete scenario and its map: each is the one before or the one asked for, whole. */
import { readdirSync, readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { expect } from 'vitest';
import { randomFrom } from '../../../src/algebra/random.ts';
import { Durations, type Moment, run } from './kills.ts';
import { folder, openScenario } from './run.ts';

export interface PlanKills {
  /** Ends met, of those that were killed. */
  readonly old: number;
  readonly fresh: number;
  /** Runs that had ended before their kill came. */
  readonly tooLate: number;
}

const FILES = ['planned.yaml', 'reach.svg'];
const MOMENTS: readonly Moment[] = ['at large', 'writing', 'at large', 'swapped'];
const UNDISTURBED_EVERY = 10;

export async function planKilledAtRandom(count: number, seed: string): Promise<PlanKills> {
  const random = randomFrom(`plan kills ${seed}`);
  const dir = folder();
  const open = join(dir, 'open.yaml');
  const [planned, reach] = FILES.map((name) => join(dir, name)) as [string, string];
  const args = ['plan', open, '--out', planned, '--reach', reach, '--quiet'];
  const marks = { aside: /^\.planned\.yaml\.new-/, swapped: /^planned\.yaml$/ };
  const durations = new Durations();
  const titleOf = (turn: number): string => `Turn ${turn}.`;
  const write = (turn: number): void =>
    writeFileSync(open, openScenario().replace('title: Open', `title: ${titleOf(turn)}`));
  // The last line of a plan has a checksum of the others, the title among them: that it stands there shows that the plan is whole.
  const texts = (): readonly string[] =>
    [planned, reach].map((file) =>
      readFileSync(file, 'utf8').replace(/(checksum of the lines above: )[0-9a-f]{16}\n$/, '$1ITS OWN\n'),
    );
  let whole: readonly string[] = [];
  /** Nothing of killed runs is left after it; `whole` is what it wrote, without its title. */
  const undisturbed = async (turn: number): Promise<void> => {
    const done = await run(args, dir, marks);
    expect(done.code).toBe(0);
    durations.add(done);
    expect(readdirSync(dir).sort()).toEqual(['open.yaml', ...FILES]);
    const found = texts().map((text) => text.replaceAll(titleOf(turn), 'TITLE'));
    if (whole.length > 0) expect(found).toEqual(whole);
    whole = found;
  };
  write(0);
  for (let k = 0; k < 2; k++) await undisturbed(0);
  expect(whole[0]).toContain('TITLE');
  expect(whole[0]).toMatch(/ITS OWN\n$/);
  const met = { old: 0, fresh: 0, tooLate: 0 };
  let standing = [0, 0];
  for (let turn = 1; turn <= count; turn++) {
    write(turn);
    const moment = MOMENTS[turn % MOMENTS.length]!;
    const delay = durations.delay(moment, random.uniform());
    const { code } = await run(args, dir, marks, { moment, delay });
    // A kill between the two leaves the new plan beside an older map: each is whole, of one turn or the other.
    const found = texts();
    const of = found.map((text, k) =>
      [standing[k]!, turn].find((one) => text === whole[k]!.replaceAll('TITLE', titleOf(one))),
    );
    for (const [k, one] of of.entries()) expect(one, `turn ${turn}, ${FILES[k]}: ${found[k]}`).toBeDefined();
    if (code === null) met[of[0] === turn ? 'fresh' : 'old']++;
    else {
      met.tooLate++;
      expect({ turn, code, of }).toEqual({ turn, code: 0, of: [turn, turn] });
    }
    standing = of as number[];
    if (turn % UNDISTURBED_EVERY !== 0) continue;
    await undisturbed(turn);
    standing = [turn, turn];
  }
  return met;
}
