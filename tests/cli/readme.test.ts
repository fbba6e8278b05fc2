/** What the README shows of a terminal is what the program prints: every command of its blocks is run, and every line looked for. */
import { execFile } from 'node:child_process';
import { readFileSync } from 'node:fs';
import { expect, test } from 'vitest';
import '../machine/patience.ts';

const blocks = [...readFileSync('README.md', 'utf8').matchAll(/^```\n\$ (.+)\n([\s\S]*?)^```$/gm)].map(
  ([, command, output]) => [command, output] as const,
);

const run = (command: string): Promise<string> =>
  new Promise((done) => {
    execFile('sh', ['-c', command], (_, stdout, stderr) => done(`${stdout}\n${stderr}`));
  });

test('there are blocks to look at', () => {
  expect(blocks.length).toBeGreaterThanOrEqual(4);
});

test.each(blocks)('%s', async (command, output) => {
  const printed = await run(command);
  // An ellipsis stands for what is left out.
  for (const part of output.split(/…|\n/)) expect(printed).toContain(part.trim());
});
