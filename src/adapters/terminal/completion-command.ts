import { Argument, type Command } from 'commander'

const longOptions = (command: Command): readonly string[] => ['--help', ...command.options.filter(({ hidden }) => !hidden).flatMap(({ long }) => long ?? [])]

const cases = (program: Command): string =>
  program.commands.map((command) => `    ${command.name()}) words="${longOptions(command).join(' ')}" ;;`).join('\n')

/** Options of the command typed, names of files otherwise; commands first. Names hold letters and hyphens only. */
const bashScript = (program: Command): string => `_stepwitness() {
  local word="\${COMP_WORDS[COMP_CWORD]}" words=""
  if [ "$COMP_CWORD" -eq 1 ]; then
    COMPREPLY=($(compgen -W "${program.commands.map((command) => command.name()).join(' ')} --help --version" -- "$word"))
    return
  fi
  case "\${COMP_WORDS[1]}" in
${cases(program)}
  esac
  case "$word" in
    -*) COMPREPLY=($(compgen -W "$words" -- "$word")) ;;
    *) COMPREPLY=() ;;
  esac
}
complete -o default -F _stepwitness stepwitness`

/** The same function in zsh, which can take completions written for bash. */
const zshScript = (program: Command): string => `autoload -U +X bashcompinit && bashcompinit\n${bashScript(program)}`

/** `completion`: a script that lets the shell complete commands and options. */
export const addCompletion = (program: Command): void => {
  program
    .command('completion')
    .addArgument(new Argument('<shell>', 'whose script to print').choices(['bash', 'zsh']))
    .description('a script that lets the shell complete commands and options')
    .addHelpText('after', '\nExample:\n  eval "$(stepwitness completion bash)"')
    .action((shell: string) => {
      process.stdout.write(`${shell === 'bash' ? bashScript(program) : zshScript(program)}\n`)
    })
}
