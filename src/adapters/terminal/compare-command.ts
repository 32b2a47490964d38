import type { Command } from 'commander'

export interface CompareOptions {
  readonly needEffective?: string
  readonly needMode?: string
  readonly needReversal?: string
  readonly needResolution?: string
  readonly train?: string
  readonly svg?: string
  readonly json?: boolean
}

/** `compare`: results side by side, ranked, with what can be told apart and what cannot. */
export const addCompare = (program: Command): void => {
  program
    .command('compare')
    .argument('<RESULT...>', 'result.json files, or the evidence folders they are in')
    .description('several motors, drivers or settings side by side, ranked for a requirement')
    .option('--need-effective <count>', 'least effective microsteps per full step: 3.5')
    .option('--need-mode <n>', 'step mode that must hold: 4 for 1/4 steps')
    .option('--need-resolution <s>', 'coarsest effective step that will do: 0.1deg at the shaft, or 0.02mm with --train')
    .option('--need-reversal <s>', 'most that may be lost on reversing: 0.3deg at the shaft, or 0.05mm with --train')
    .option('--train <text>', 'drive train in words, for needs at the carriage: "gear 17:2 > screw M4"')
    .option('--svg <file>', 'write the plot as an SVG picture')
    .option('--json', 'one JSON document on stdout')
    .action(async (results: readonly string[], options: CompareOptions, self: Command) => {
      const [{ runCompare }, { show }] = await Promise.all([import('#adapters/terminal/compare/run-compare'), import('#adapters/terminal/outcome')])
      show(await runCompare(results, options, self), options)
    })
}
