/** `completion SHELL`: a script for bash or zsh that completes commands, options and files, made from the command line itself. */
import { Argument, type Command } from 'commander';
import type { Register } from '../command.ts';
import { EXIT } from '../io.ts';

interface CommandWords {
  readonly name: string;
  readonly summary: string;
  readonly options: readonly OptionWords[];
}

interface OptionWords {
  readonly flag: string;
  readonly description: string;
  readonly takes: 'nothing' | 'folder' | 'file' | 'text';
}

const SCRIPTS = { bash: bashScript, zsh: zshScript };

export const registerCompletion: Register = ({ program, io, end }) =>
  program
    .command('completion')
    .addArgument(new Argument('<shell>', 'the shell').choices(Object.keys(SCRIPTS)))
    .summary('print the completion script of a shell')
    .description('Prints a script that completes commands, options and files in bash or zsh.')
    .addHelpText('after', '\nExample:\n  source <(datumlight completion bash)')
    .action((shell: keyof typeof SCRIPTS) => {
      io.stdout.write(SCRIPTS[shell](program.commands.map(wordsOf)));
      return end(EXIT.fine);
    });

const wordsOf = (command: Command): CommandWords => ({
  name: command.name(),
  summary: command.summary(),
  options: [
    ...command.options.map(({ long, flags, description }) => ({
      flag: long ?? flags,
      description,
      takes: takenBy(flags),
    })),
    { flag: '--help', description: 'how the command is used', takes: 'nothing' as const },
  ],
});

function takenBy(flags: string): OptionWords['takes'] {
  const value = /[<[](\w[\w-]*)/.exec(flags)?.[1];
  if (value === undefined) return 'nothing';
  if (/dir|folder/.test(value)) return 'folder';
  return /file|csv|readings|points/.test(value) ? 'file' : 'text';
}

function bashScript(commands: readonly CommandWords[]): string {
  const options = commands.map(
    ({ name, options }) => `    ${name}) words='${options.map(({ flag }) => flag).join(' ')}' ;;`,
  );
  const all = commands.flatMap(({ options }) => options);
  const taking = (what: OptionWords['takes']): string =>
    [...new Set(all.filter(({ takes }) => takes === what).map(({ flag }) => flag))].join('|') || '--';
  return `# bash completion for datumlight: source <(datumlight completion bash)
_datumlight() {
  local current=\${COMP_WORDS[COMP_CWORD]} before=\${COMP_WORDS[COMP_CWORD-1]} command='' words='' k
  COMPREPLY=()
  for ((k = 1; k < COMP_CWORD; k++)); do
    case \${COMP_WORDS[k]} in -*) ;; *) command=\${COMP_WORDS[k]}; break ;; esac
  done
  if [[ -z $command ]]; then
    COMPREPLY=($(compgen -W '${commands.map(({ name }) => name).join(' ')} --help --version' -- "$current"))
    return
  fi
  case $before in
    ${taking('folder')}) compopt -o filenames; mapfile -t COMPREPLY < <(compgen -d -- "$current"); return ;;
    ${taking('file')}) compopt -o filenames; mapfile -t COMPREPLY < <(compgen -f -- "$current"); return ;;
    ${taking('text')}) return ;;
  esac
  if [[ $command == completion ]]; then
    COMPREPLY=($(compgen -W 'bash zsh' -- "$current"))
    return
  fi
  case $command in
${options.join('\n')}
  esac
  if [[ $current == -* ]]; then
    COMPREPLY=($(compgen -W "$words" -- "$current"))
  else
    compopt -o filenames
    mapfile -t COMPREPLY < <(compgen -f -- "$current")
  fi
}
complete -F _datumlight datumlight
`;
}

function zshScript(commands: readonly CommandWords[]): string {
  const cases = commands.map(({ name, options }) => {
    const specs = options.map(({ flag, description, takes }) => {
      const value = { nothing: '', folder: ':folder:_files -/', file: ':file:_files', text: ':value:' }[
        takes
      ];
      return `'${flag}[${zshQuoted(description)}]${value}'`;
    });
    const rest = name === 'completion' ? "'1:shell:(bash zsh)'" : "'*:file:_files'";
    return `    ${name}) _arguments ${[...specs, rest].join(' \\\n      ')} ;;`;
  });
  return `#compdef datumlight
# zsh completion for datumlight: source <(datumlight completion zsh), after compinit
_datumlight() {
  local -a commands
  commands=(
${commands.map(({ name, summary }) => `    '${name}:${zshQuoted(summary)}'`).join('\n')}
  )
  if (( CURRENT == 2 )); then
    _describe 'command' commands
    _arguments '--help[how datumlight is used]' '--version[the version]'
    return
  fi
  local command=$words[2]
  shift words
  (( CURRENT-- ))
  case $command in
${cases.join('\n')}
  esac
}
compdef _datumlight datumlight
`;
}

/** Within single quotes, and without the signs that end a description. */
const zshQuoted = (text: string): string =>
  text.replace(/[[\]:]/g, (sign) => `\\${sign}`).replaceAll("'", "'\\''");
