import type { Command } from 'commander'

export interface ReplayOptions {
  readonly photo?: string
  readonly json?: boolean
}

/** `replay`: an evidence folder recomputed from its own inputs. */
export const addReplay = (program: Command): void => {
  program
    .command('replay')
    .argument('<EVIDENCE>', 'evidence folder that measure or the page wrote')
    .description('an evidence folder recomputed from its own inputs: is every figure, every file still the same?')
    .option('--photo <file>', 'where the photo is now, to look for its marks again (default: where it was)')
    .option('--json', 'one JSON document on stdout')
    .addHelpText('after', '\nExit status 0: all the same; 1: something differs or cannot be computed again.\n\nExamples:\n  stepwitness replay evidence/rail-2\n  stepwitness replay evidence/rail-2-photo --photo archive/rail-2.jpg')
    .action(async (folder: string, options: ReplayOptions) => {
      const [{ runReplay }, { show }] = await Promise.all([import('#adapters/terminal/replay/run-replay'), import('#adapters/terminal/outcome')])
      const outcome = await runReplay(folder, options)
      show(outcome, options)
      if ('same' in outcome && !outcome.same) process.exitCode = 1
    })
}
