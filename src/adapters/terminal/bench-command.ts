import { type Command, Option } from 'commander'

export interface BenchOptions {
  readonly project: string
  readonly port: string
  readonly lan?: boolean
  readonly json?: boolean
  /** Set by the bench itself, which measures in a process apart. */
  readonly evidenceOf?: string
}

/** `bench`: the local page on which the whole job is done. */
export const addBench = (program: Command): void => {
  program
    .command('bench')
    .description('the whole job on a local page, with a mouse, keyboard or phone')
    .option('--project <folder>', 'where tests, photos, evidence and notes are kept', '.')
    .option('--port <n>', 'port to serve on', '4720')
    .option('--lan', 'let phones on the local network in, each with a one-time code')
    .addOption(new Option('--evidence-of <test>').hideHelp())
    .option('--json', 'one JSON document on stdout: the address')
    .action(async (options: BenchOptions, self: Command) => {
      const { runBench } = await import('#adapters/terminal/bench/run-bench')
      await runBench(options, self)
    })
}
