import type { Command } from 'commander'
import { type HintTexts, withHintOptions } from './hint-options.ts'
import { withSetUpOptions } from './set-up-options.ts'

export interface MeasureCommandOptions extends HintTexts {
  readonly out?: string
  readonly seed?: string
  readonly limits?: string
  readonly train?: string
  readonly json?: boolean
  readonly [setUp: string]: unknown
}

/** `measure`: trace file or photo → figures, verdict per mode, evidence folder. */
export const addMeasure = (program: Command): void => {
  const command = program.command('measure').argument('<trace>', 'trace file (CSV or one position per line) or photo').description('trace or photo → figures, verdict per mode, evidence folder')
  withHintOptions(withSetUpOptions(command))
    .option('--out <folder>', 'where the evidence goes (default: <trace>-evidence; with --json only when given)')
    .option('--train <text>', 'drive train, to say what it means at the carriage: "gear 17:2 > screw M4"')
    .option('--limits <low,high>', 'the least and the most an increment may be of its nominal for a mode to hold (default: 0.5,1.5)')
    .option('--seed <n>', 'seed of the resampling', '1')
    .option('--json', 'one JSON document on stdout')
    .addHelpText('after', '\nExamples:\n  stepwitness measure rail-2.csv\n  stepwitness measure trace.jpg --paper a4 --steps-per-rev 48 --microsteps 4 --out evidence/rail-2')
    .action(async (file: string, options: MeasureCommandOptions) => {
      const [{ runMeasure }, { show }] = await Promise.all([import('#adapters/terminal/measure/run-measure'), import('#adapters/terminal/outcome')])
      show(await runMeasure(file, options), options)
    })
}
