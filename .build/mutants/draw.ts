/** Which mutants are tried: those of a room, of changed lines, or a seeded draw over all rooms. */
import { execFileSync } from 'node:child_process';
import { createHash } from 'node:crypto';
import { type Mutant, roomOf } from './sites.ts';

/** How much more often a mutant is drawn from a room whose output a user sees directly. */
const WEIGHTS: Record<string, number> = {
  writing: 2,
  rules: 2,
  optics: 2,
  design: 2,
  reading: 2,
  metrology: 2,
  cli: 2,
  'bench-page': 1,
  batch: 1,
  disk: 1,
  kinds: 2,
  readback: 2,
  planning: 1,
  pattern: 1,
  scenario: 1,
  finding: 1,
  quantity: 1,
  algebra: 1,
  geometry: 1,
};

export const ROOMS: readonly string[] = Object.keys(WEIGHTS);

/**
 * `count` mutants without replacement, each with a chance in proportion to its room's weight (P. S. Efraimidis and P. G. Spirakis,
 * Inf. Process. Lett. 97, 181 (2006)). A mutant's lot is its own: changes elsewhere hardly change the draw.
 */
export function drawn(mutants: readonly Mutant[], count: number, seed: string): readonly Mutant[] {
  return mutants
    .map((mutant) => ({
      mutant,
      lot: Math.log(uniform(`${seed} ${mutant.key}`)) / WEIGHTS[roomOf(mutant.file)],
    }))
    .sort((a, b) => b.lot - a.lot)
    .slice(0, count)
    .map(({ mutant }) => mutant);
}

/** In (0, 1), from a text. */
function uniform(text: string): number {
  const word = createHash('sha256').update(text).digest().readUIntBE(0, 6);
  return (word + 0.5) / 2 ** 48;
}

/** What lines of src/ the working tree changed since a commit: for each file, from and to. */
export type ChangedLines = ReadonlyMap<string, readonly (readonly [number, number])[]>;

/** Against `base`; without one, against where the branch left its upstream, or the commit before. */
export function changedLines(base?: string): ChangedLines {
  const since = base ?? git('merge-base', 'HEAD', '@{upstream}') ?? 'HEAD~1';
  const diff = git('diff', '--unified=0', '--no-ext-diff', '--no-prefix', since, '--', 'src');
  if (diff === undefined) throw new Error(`git cannot compare with ${since}`);
  const changed = new Map<string, [number, number][]>();
  let file = '';
  for (const row of diff.split('\n')) {
    if (row.startsWith('+++ ')) file = row.slice(4);
    const hunk = /^@@ -\S+ \+(\d+)(?:,(\d+))? @@/.exec(row);
    if (hunk === null) continue;
    const [first, count] = [Number(hunk[1]), Number(hunk[2] ?? 1)];
    if (count > 0) changed.set(file, [...(changed.get(file) ?? []), [first, first + count - 1]]);
  }
  return changed;
}

export const onLines = (mutants: readonly Mutant[], changed: ChangedLines): readonly Mutant[] =>
  mutants.filter(({ file, line }) => changed.get(file)?.some(([from, to]) => from <= line && line <= to));

function git(...args: string[]): string | undefined {
  try {
    return execFileSync('git', args, { encoding: 'utf8', stdio: ['ignore', 'pipe', 'ignore'] }).trimEnd();
  } catch {
    return undefined;
  }
}
