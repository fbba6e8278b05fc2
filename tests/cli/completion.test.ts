/** Shell completion: the scripts work in their shells, and offer every command and option that --help names. */
import { execFileSync } from 'node:child_process';
import { writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { expect, test } from 'vitest';
import { lacks, program } from '../machine/outside-programs.ts';
import { datumlight, folder } from './support/run.ts';

const [bash, zsh] = [program('bash'), program('zsh')];

async function script(shell: string): Promise<string> {
  const { code, stdout } = await datumlight(['completion', shell]);
  expect(code).toBe(0);
  const file = join(folder(), `completion.${shell}`);
  writeFileSync(file, stdout);
  return file;
}

/** What bash offers for the words of a command line, the last one half written. */
function offered(file: string, words: readonly string[]): string[] {
  const line = words.map((word) => `'${word}'`).join(' ');
  const program = `source ${file}; COMP_WORDS=(${line}); COMP_CWORD=$((\${#COMP_WORDS[@]} - 1)); compopt() { :; }; _datumlight; printf '%s\\n' "\${COMPREPLY[@]}"`;
  return execFileSync(bash!, ['-c', program], { encoding: 'utf8', cwd: 'examples' })
    .split('\n')
    .filter(Boolean);
}

test.skipIf(lacks({ bash }))('bash: commands, options, folders and files', async () => {
  const file = await script('bash');
  expect(offered(file, ['datumlight', 'ba'])).toEqual(['batch']);
  expect(offered(file, ['datumlight', 'batch', '--ver'])).toEqual(['--verify']);
  expect(offered(file, ['datumlight', 'check', 'diverging'])).toContain('diverging-balls.yaml');
  expect(offered(file, ['datumlight', 'batch', 's.yaml', '--out', 'swee'])).toEqual(['sweeps']);
  const { stdout } = await datumlight(['batch', '--help']);
  const named = [...stdout.matchAll(/^ {2}(?:-\w, )?(--[\w-]+)/gm)].map(([, flag]) => flag!);
  expect(offered(file, ['datumlight', 'batch', '--']).sort()).toEqual(named.sort());
});

test.skipIf(lacks({ zsh }))('zsh reads its script without a word', async () => {
  const file = await script('zsh');
  const said = execFileSync(
    zsh!,
    ['-fc', `autoload -Uz compinit; compinit -D; source ${file}; whence -w _datumlight`],
    {
      encoding: 'utf8',
    },
  );
  expect(said).toBe('_datumlight: function\n');
});

test('another shell is refused', async () => {
  const { code, stderr } = await datumlight(['completion', 'fish']);
  expect({ code, stderr }).toEqual({
    code: 2,
    stderr: expect.stringContaining('Allowed choices are bash, zsh.'),
  });
});

test('--help of every command has an example', async () => {
  const { stdout } = await datumlight(['--help']);
  const commands = [...stdout.matchAll(/^ {2}([a-z]+) /gm)]
    .map(([, name]) => name!)
    .filter((name) => name !== 'help');
  expect(commands).toContain('batch');
  for (const command of commands) {
    const help = await datumlight([command, '--help']);
    expect(help.stdout, command).toMatch(/Examples?:\n {2}(source <\()?datumlight /);
  }
});
