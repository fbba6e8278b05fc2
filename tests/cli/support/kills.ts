/** Kills `make` at random moments while it replaces one package by another, and looks at what stands there. */

import { spawn } from 'node:child_process';
import { createHash } from 'node:crypto';
import { existsSync, readdirSync, readFileSync, writeFileSync } from 'node:fs';
import { join, resolve } from 'node:path';
import process from 'node:process';
import { expect } from 'vitest';
import { randomFrom } from '../../../src/algebra/random.ts';
import { datumlight, folder, soundScenario } from './run.ts';

/** What is in the folder: the name of a whole package by its title, or what is wrong with it. */
function standing(out: string, titles: readonly string[]): string {
  if (!existsSync(out)) return 'absent';
  const manifest = JSON.parse(readFileSync(join(out, 'manifest.json'), 'utf8'));
  for (const [name, { sha256 }] of Object.entries<{ sha256: string }>(manifest.files)) {
    const found = createHash('sha256')
      .update(readFileSync(join(out, name)))
      .digest('hex');
    if (found !== sha256) return `a mixture: ${name} is not of this manifest`;
  }
  const names = [...Object.keys(manifest.files), 'manifest.json', 'notes.txt'].sort();
  const there = readdirSync(out).sort();
  if (there.join() !== names.join()) return `a mixture: ${there.join()}`;
  const sheet = readFileSync(join(out, 'sheet.html'), 'utf8');
  return titles.find((title) => sheet.includes(title)) ?? 'a package of nobody';
}

export async function killedAtRandom(count: number, seed: string): Promise<{ old: number; fresh: number }> {
  const random = randomFrom(`kills ${seed}`);
  const dir = folder();
  const [out, scenario] = [join(dir, 'out'), join(dir, 's.yaml')];
  const titles = ['Even', 'Odd'];
  const write = (turn: number): void =>
    writeFileSync(scenario, soundScenario().replace('title: Sound', `title: ${titles[turn % 2]}`));
  write(0);
  const started = performance.now();
  expect((await datumlight(['make', scenario, '--out', out])).code).toBe(0);
  const takes = performance.now() - started;
  writeFileSync(join(out, 'notes.txt'), 'mine');
  const outcomes = { old: 0, fresh: 0, absent: 0 };
  let before = titles[0]!;
  for (let turn = 1; turn <= count; turn++) {
    write(turn);
    const child = spawn(process.execPath, [resolve('bin/datumlight.js'), 'make', scenario, '--out', out], {
      stdio: 'ignore',
    });
    const ended = new Promise((done) => child.on('exit', done));
    // Four in five moments fall into the last part of a run, where the files are written.
    const part = random.uniform() < 0.8 ? 0.6 + 0.6 * random.uniform() : random.uniform();
    const timer = setTimeout(() => child.kill('SIGKILL'), takes * part);
    await ended;
    clearTimeout(timer);
    const found = standing(out, titles);
    if (found === 'absent') outcomes.absent++;
    else {
      expect([before, titles[turn % 2]]).toContain(found);
      outcomes[found === before ? 'old' : 'fresh']++;
      before = found;
      expect(readFileSync(join(out, 'notes.txt'), 'utf8')).toBe('mine');
    }
  }
  // Between the two renames of a swap no folder has the name, for some microseconds: hit once in thousands of kills at most.
  expect(outcomes.absent).toBeLessThanOrEqual(count >= 100 ? 1 : 0);
  write(count + 1);
  expect((await datumlight(['make', scenario, '--out', out])).code).toBe(0);
  expect(standing(out, titles)).toBe(titles[(count + 1) % 2]);
  expect(readdirSync(dir).sort()).toEqual(['out', 's.yaml']);
  return outcomes;
}
