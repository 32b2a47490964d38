import type { Command } from 'commander'
import { type MotorOptions, withMotorOptions } from './motor-options.ts'

export interface PlanOptions extends MotorOptions {
  readonly rig: string
  readonly length?: string
  readonly distance?: string
  readonly ratio: string
  readonly spot?: string
  readonly foot?: string
  readonly gears?: string
  readonly pen?: string
  readonly markUncertainty?: string
  readonly pivot?: string
  readonly fullSteps?: string
  readonly turns?: string
  readonly passes: string
  readonly bothWays?: boolean
  readonly dwell?: string
  readonly expectError: string
  readonly halfWidth?: string
  readonly json?: boolean
}

/** `plan`: what the rig will be able to show, before anyone picks up a pen. */
export const addPlan = (program: Command): void => {
  withMotorOptions(program.command('plan'))
    .description(
      'before the test: mark spacing, the uncertainty to expect, pointer length or wall distance, time, paper',
    )
    .option('--rig <kind>', 'pointer (marks round the shaft) or mirror (light spot on a wall)', 'pointer')
    .option('--length <mm>', 'pointer: length to the marks, 75mm (default 80mm, as of the sheet)')
    .option('--distance <mm>', 'mirror: wall distance, 1520mm or "1520 ± 3 mm"')
    .option('--ratio <r>', 'mirror: 2, or 1 for a light source on the shaft', '2')
    .option('--spot <mm>', 'mirror: diameter of the spot on the wall, 3mm')
    .option('--foot <mm>', 'mirror: how well the foot of the perpendicular is known, 10mm')
    .option('--gears <list>', 'gears between motor and pointer, driven:driving, such as 17:2')
    .option('--pen <mm>', 'width of the pen line, 0.5mm')
    .option('--mark-uncertainty <mm>', 'standard uncertainty of placing and reading one mark, 0.2mm')
    .option('--pivot <mm>', 'pointer: how well the dial is centred on the shaft, 0.5mm')
    .option('--full-steps <n>', 'full steps to cover; a whole turn of the pointer, or 8 on a wall, when not given')
    .option('--turns <n>', 'whole turns of the pointer instead')
    .option('--passes <n>', 'repeated passes', '1')
    .option('--both-ways', 'come back as well')
    .option('--dwell <s>', 'time at each mark, 2s')
    .option('--expect-error <percent>', 'position error to expect of the motor, rms, percent of a full step', '3.5')
    .option('--half-width <count>', 'wanted half width of the 95 % interval of the effective count')
    .option('--json', 'one JSON document on stdout')
    .action(async (options: PlanOptions, self: Command) => {
      const [{ runPlan }, { show }] = await Promise.all([
        import('#adapters/terminal/plan/run-plan'),
        import('#adapters/terminal/outcome'),
      ])
      show(runPlan(options, self), options)
    })
}
