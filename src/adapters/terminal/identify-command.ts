import type { Command } from 'commander'
import { type MotorOptions, withMotorOptions } from './motor-options.ts'

export interface IdentifyOptions extends MotorOptions {
  readonly ohm?: string
  readonly wires?: string
  readonly lead?: string
  readonly ratedCurrent?: string
  readonly commands?: string
  readonly turned?: string
  readonly holding?: string
  readonly detent?: string
  readonly friction?: string
  readonly ladder?: string
  readonly motor: string
  readonly note?: string
  readonly json?: boolean
}

/** `identify`: what a motor without a data sheet is. */
export const addIdentify = (program: Command): void => {
  withMotorOptions(program.command('identify'))
    .description(
      'an unknown motor: wires to coils and ways to wire it, steps per turn, torque by lever and weight, highest speed',
    )
    .option('--ohm <readings>', 'resistances between wires: "red-blue: 5.2, red-green: open"')
    .option('--wires <names>', 'all wires, when not all were measured yet: "red, blue, green, white"')
    .option('--lead <R>', 'resistance of the meter leads, taken off each reading: 0.3ohm')
    .option('--rated-current <I>', 'rated current of a half winding (a coil without taps): 0.5A')
    .option('--commands <n>', 'commands given; goes with --turned and --microsteps')
    .option('--turned <angle>', 'how far the shaft turned: "360 ± 5 deg"')
    .option('--holding <weight>', 'lever and weight, current on: "0.20..0.22 kg at 100 ± 1 mm" (held..slipped)')
    .option('--detent <weight>', 'the same, current off, to the next click')
    .option('--friction <weight>', 'the same, to keep it turning')
    .option(
      '--ladder <runs>',
      'out and back at rising rates, full steps/s : full steps off the start mark: "200:0, 400:0, 600:-4"',
    )
    .option('--motor <name>', 'name of the motor', 'unnamed motor')
    .option('--note <file>', 'put what was found into this parts note')
    .option('--json', 'one JSON document on stdout')
    .action(async (options: IdentifyOptions, self: Command) => {
      const [{ runIdentify }, { show }] = await Promise.all([
        import('#adapters/terminal/identify/run-identify'),
        import('#adapters/terminal/outcome'),
      ])
      show(await runIdentify(options, self), options)
    })
}
