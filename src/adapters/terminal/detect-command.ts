import type { Command } from 'commander'
import { optimiseLate } from '#adapters/terminal/detect/optimise-late'
import { type HintTexts, withHintOptions } from './hint-options.ts'
import { withSetUpOptions } from './set-up-options.ts'

export interface DetectCommandOptions extends HintTexts {
  readonly out?: string
  readonly json?: boolean
  readonly [setUp: string]: unknown
}

/** `detect`: marks found in a photo, as a trace file plus an overlay picture to check them by. */
export const addDetect = (program: Command): void => {
  const command = program.command('detect').argument('<photo>', 'JPEG, PNG or WebP').description('photo → marks as a trace file, and an overlay to check them by')
  withHintOptions(withSetUpOptions(command))
    .option('--out <folder>', 'where marks.csv and overlay.png go (default: <photo>-marks; with --json only when given)')
    .option('--json', 'one JSON document on stdout')
    .addHelpText('after', '\nExample:\n  stepwitness detect trace.jpg --paper a4\n\nLook at overlay.png before you believe the marks; correct marks.csv by hand where it is wrong.')
    .action(async (file: string, options: DetectCommandOptions) => {
      optimiseLate()
      const [{ runDetect }, { show }] = await Promise.all([import('#adapters/terminal/detect/run-detect'), import('#adapters/terminal/outcome')])
      show(await runDetect(file, options), options)
    })
}
