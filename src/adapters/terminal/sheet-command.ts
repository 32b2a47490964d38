import type { Command } from 'commander'
import { withMotorOptions } from './motor-options.ts'

export interface SheetOptions {
  readonly rig: string
  readonly paper: string
  readonly length?: string
  readonly strip?: string
  readonly shaft?: string
  readonly motor?: string
  readonly measuredBar?: string
  readonly stepsPerRev?: string
  readonly microsteps?: string
  readonly out: string
  readonly json?: boolean
}

/** `sheet`: a PDF to mark on, print-true, that a photo is later measured by. */
export const addSheet = (program: Command): void => {
  const command = program
    .command('sheet')
    .description('print-true PDF to mark on: reference targets, centre, scale bar, a code carrying the set-up')
    .option('--rig <kind>', 'pointer: marks about the shaft; mirror: marks along a strip on the wall', 'pointer')
    .option('--paper <size>', 'a4 or letter', 'a4')
    .option('--length <mm>', 'pointer length (default 80), or distance from mirror to wall (default 2000)')
    .option('--strip <mm>', 'mirror: length of the strip; several pages are joined (default: one page)')
    .option('--shaft <mm>', 'pointer: diameter of the circle to cut out for the shaft, 0 for a cross alone (default 8)')
    .option('--motor <name>', 'name of the motor, kept in the code')
    .option('--measured-bar <mm>', 'what a ruler says of the 100 mm bar on an earlier print from this printer')
    .option('--out <file>', 'where to write the PDF', 'sheet.pdf')
    .option('--json', 'print one JSON document')
  withMotorOptions(command).action(async (options: SheetOptions) => {
    const { runSheet } = await import('./sheet/run-sheet.ts')
    const { show } = await import('./outcome.ts')
    show(await runSheet(command, options), options)
  })
}
