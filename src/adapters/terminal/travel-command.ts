import type { Command } from 'commander'
import { type MotorOptions, withMotorOptions } from './motor-options.ts'

export interface TravelOptions extends MotorOptions {
  readonly gears?: string
  readonly train: readonly string[]
  readonly screw: readonly string[]
  readonly drum: readonly string[]
  readonly belt: readonly string[]
  readonly rack: readonly string[]
  readonly rotary?: boolean
  readonly effective?: string
  readonly result?: string
  readonly json?: boolean
}

const gather = (text: string, earlier: readonly string[]): readonly string[] => [...earlier, text]

/** `travel`: from the motor's step to the carriage, one drive train or several side by side. */
export const addTravel = (program: Command): void => {
  withMotorOptions(program.command('travel'))
    .description('what a step moves at the carriage, through gears, screw, drum, belt or rack')
    .option('--gears <list>', 'reductions as tooth counts driven:driving, motor side first, such as 17:2,40:10')
    .option('--screw <lead>', 'lead screw: pitch, pitch x starts, or a thread: 0.7mm, "2mm x 4", M8, Tr8x8(P2)', gather, [])
    .option('--drum <size>', 'drum or pulley with a line: its diameter, or "round 41.78mm" for its circumference', gather, [])
    .option('--belt <teeth x pitch>', 'toothed belt: "20 x 2mm" or "20 GT2"', gather, [])
    .option('--rack <teeth x pitch>', 'rack and pinion: "20 x 3.14mm" or "20 module 1mm"', gather, [])
    .option('--rotary', 'the output only turns')
    .option('--train <text>', 'a whole train in words: "gear 17:2 backlash 0.5deg > screw M4 efficiency 30%"', gather, [])
    .option('--effective <count>', 'effective microsteps per full step, when there is no result file')
    .option('--result <file>', 'result.json of a measured motor: adds effective and guaranteed figures')
    .option('--json', 'one JSON document on stdout')
    .action(async (options: TravelOptions, command: Command) => {
      const [{ runTravel }, { show }] = await Promise.all([import('#adapters/terminal/travel/run-travel'), import('#adapters/terminal/outcome')])
      show(await runTravel(options, command), options)
    })
}
