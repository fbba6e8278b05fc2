/** `explain WORD|CODE`: what a word of a scenario or the code of a finding means. */

import { errorFinding } from '../../finding/finding.ts';
import { didYouMean } from '../../quantity/nearest-name.ts';
import { type ScenarioWord, scenarioWords } from '../../reading/scenario/scenario-words.ts';
import { type CodeRow, codeTable } from '../../rules/code-table.ts';
import { jsonText } from '../../writing/json.ts';
import { type Register, type TalkOptions, talkative } from '../command.ts';
import { EXIT, type ExitCode, type Io } from '../io.ts';
import { refusing } from '../say.ts';

export const registerExplain: Register = ({ program, io, end }) =>
  talkative(program.command('explain'))
    .argument('<word>', 'a word of a scenario such as patches.bias, or a code such as keep-out')
    .summary('what a word of a scenario or the code of a finding means')
    .description(
      'Prints what a word of a scenario means, with its default, or what a code means and what to do about it. The end of a\n' +
        'word is enough: `clearance` stands for substrate.clearance. schemas/README.md lists all of them.',
    )
    .addHelpText(
      'after',
      '\nExamples:\n  datumlight explain patches.bias.shape\n  datumlight explain feature-too-small',
    )
    .action((asked: string, options: TalkOptions) => end(explain(asked, options, io)));

function explain(asked: string, options: TalkOptions, io: Io): ExitCode {
  const all = scenarioWords();
  const words = all.flatMap((word) => {
    const paths = word.paths.filter((path) => path === asked || path.endsWith(`.${asked}`));
    return paths.length === 0 ? [] : [{ ...word, paths }];
  });
  const table = codeTable();
  const codes = table.filter(({ code }) => code === asked);
  if (words.length === 0 && codes.length === 0) {
    const names = [
      ...table.map(({ code }) => code),
      ...all.flatMap(({ word, paths }) => [...paths, word, lastOf(word)]),
    ];
    const hint = didYouMean(asked, names) ?? 'schemas/README.md lists all words and codes';
    const message = `${JSON.stringify(asked)} is neither a scenario word nor a code`;
    return refusing(options, io)(asked, {
      findings: [errorFinding('unknown-name', 'explain', message, hint)],
    });
  }
  if (options.json) {
    io.stdout.write(
      jsonText({
        words: words.map(({ paths, meaning, required, fallback }) => ({
          paths,
          meaning,
          required,
          default: fallback ?? null,
        })),
        codes,
      }),
    );
  } else io.stdout.write([...words.map(wordText), ...codes.map(codeText)].join('\n'));
  return EXIT.fine;
}

const lastOf = (word: string): string => word.slice(word.lastIndexOf('.') + 1);

function wordText({ paths, meaning, required, fallback }: ScenarioWord): string {
  const stands = required ? ' (required)' : fallback === undefined ? '' : ` (default: ${fallback})`;
  return `${paths.join(', ')}${stands}\n${meaning === '' ? '' : `  ${meaning}\n`}`;
}

const codeText = ({ code, family, meaning, limit, remedy }: CodeRow): string =>
  `${code} (${family === 'rule' ? 'layout rule' : 'error'})\n  ${meaning}\n${limit === undefined ? '' : `  Limit: ${limit}.\n`}  ${remedy}\n`;
