import type { Command } from 'commander'
import { type MotorOptions, withMotorOptions } from './motor-options.ts'

export interface TravelOptions extends MotorOptions {
  readonly gears?: string
  readonly train?: readonly string[]
  readonly screw?: readonly string[]
  readonly drum?: readonly string[]
  readonly belt?: readonly string[]
  readonly rack?: readonly string[]
  readonly rotary?: boolean
  readonly effective?: string
  readonly result?: string
  readonly unit: string
  readonly torqueUnit: string
  readonly speed?: string
  readonly stepRate?: string
  readonly mass?: string
  readonly force?: string
  readonly tilt?: string
  readonly acceleration?: string
  readonly holding?: string
  readonly rotorInertia?: string
  readonly pullOut?: string
  readonly coilResistance?: string
  readonly coilInductance?: string
  readonly current?: string
  readonly needResolution?: string
  readonly needReversal?: string
  readonly needTravel?: string
  readonly json?: boolean
}

const gather = (text: string, earlier: readonly string[] = []): readonly string[] => [...earlier, text]

const withTrains = (command: Command): Command =>
  command
    .option('--gears <list>', 'reductions as tooth counts driven:driving, motor side first, such as 17:2,40:10')
    .option(
      '--screw <lead>',
      'lead screw: pitch, pitch x starts, or a thread: 0.7mm, "2mm x 4", M8, Tr8x8(P2)',
      gather,
    )
    .option(
      '--drum <size>',
      'drum or pulley with a line: its diameter, or "round 41.78mm" for its circumference',
      gather,
    )
    .option('--belt <teeth x pitch>', 'toothed belt: "20 x 2mm" or "20 GT2"', gather)
    .option('--rack <teeth x pitch>', 'rack and pinion: "20 x 3.14mm" or "20 module 1mm"', gather)
    .option('--rotary', 'the output only turns')
    .option(
      '--train <text>',
      'a whole train in words: "gear 17:2 backlash 0.5deg > screw M4 efficiency 30%"',
      gather,
    )

const withLoad = (command: Command): Command =>
  command
    .option('--speed <v>', 'wanted carriage speed: 5mm/s, 300mm/min')
    .option('--step-rate <r>', 'commands per second: shows the speed they give')
    .option('--mass <m>', 'moving mass: 1.2kg')
    .option('--force <f>', 'steady force against the motion: 3N, 0.5kgf (rotary: a torque)')
    .option('--tilt <angle>', 'rise of the travel: 0deg lying, 90deg upright')
    .option('--acceleration <a>', 'wanted acceleration: 100mm/s²')

const withMotorData = (command: Command): Command =>
  command
    .option('--holding <torque>', 'holding torque: 40N·cm, 2.5kg·cm, 30oz·in')
    .option('--rotor-inertia <J>', 'rotor inertia: 35g·cm²')
    .option('--pull-out <list>', 'pull-out points, full steps per second : torque: "200:20N·cm, 800:8N·cm"')
    .option('--coil-resistance <R>', 'one coil: 2.5ohm')
    .option('--coil-inductance <L>', 'one coil: 4mH')
    .option('--current <I>', 'rated current: 1.2A')

const withNeeds = (command: Command): Command =>
  command
    .option('--need-resolution <s>', 'asks which mode and train meets it: 0.02mm (rotary: 0.1deg)')
    .option('--need-reversal <s>', 'most that may be lost on reversing')
    .option('--need-travel <s>', 'length of travel')

/** `travel`: from the motor's step to the carriage, one drive train or several side by side. */
export const addTravel = (program: Command): void => {
  const command = program
    .command('travel')
    .description('what a step moves at the carriage, through gears, screw, drum, belt or rack')
  withNeeds(withMotorData(withLoad(withTrains(withMotorOptions(command)))))
    .option('--effective <count>', 'effective microsteps per full step, when there is no result file')
    .option('--result <file>', 'result.json of a measured motor: adds effective and guaranteed figures')
    .option('--unit <unit>', 'unit to show lengths in: mm, in, µm', 'mm')
    .option('--torque-unit <unit>', 'unit to show torques in: mN·m, N·cm, kg·cm, oz·in', 'mN·m')
    .option('--json', 'one JSON document on stdout')
    .action(async (options: TravelOptions, self: Command) => {
      const [{ runTravel }, { show }] = await Promise.all([
        import('#adapters/terminal/travel/run-travel'),
        import('#adapters/terminal/outcome'),
      ])
      show(await runTravel(options, self), options)
    })
}
