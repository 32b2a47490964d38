import type { Command } from 'commander'
import { usualDwellS, usualRate, usualSettleS } from '#core/prepare/usual-pace'
import { withSetUpOptions } from './set-up-options.ts'

export interface PaceOptions {
  readonly motor?: string
  readonly stepsPerRev?: string
  readonly microsteps?: string
  readonly commands?: string
  readonly passes: string
  readonly bothWays?: boolean
  readonly reverse?: boolean
  readonly dwell: string
  readonly settle: string
  readonly runUp?: string
  readonly rate: string
  readonly cool: string
  readonly maxEnergised: string
  readonly resume?: boolean
  readonly gcode?: boolean
  readonly csv?: boolean
  readonly sketch?: boolean
  readonly axis: string
  readonly unitsPerTurn: string
  readonly out?: string
  readonly json?: boolean
}

const withRun = (command: Command): Command =>
  command
    .option('--passes <n>', 'repeated passes', '1')
    .option('--both-ways', 'come back and mark the same commands again')
    .option('--reverse', 'begin in the other sense of rotation')
    .option('--dwell <s>', 'time to make a mark; 0s waits for Enter', `${usualDwellS}s`)
    .option('--settle <s>', 'time for the shaft to come to rest first', `${usualSettleS}s`)
    .option('--run-up <n>', 'commands that take up friction before each pass; four full steps when not given')
    .option('--rate <r>', 'commands per second where nothing is marked', String(usualRate))
    .option('--cool <s>', 'current off between passes for so long', '0s')
    .option('--max-energised <time>', 'longest time under current without such a pause', '60min')

const withOutputs = (command: Command): Command =>
  command
    .option('--resume', 'go on with TRACE where it was stopped')
    .option('--gcode', 'write the run as G-code instead')
    .option('--csv', 'write the run as a table instead')
    .option('--sketch', 'write the run as a C++ sketch for a step/direction driver instead')
    .option('--axis <letter>', 'G-code: axis the motor is on', 'A')
    .option('--units-per-turn <n>', 'G-code: axis units per turn of the motor', '360')
    .option('--out <file>', 'where to write G-code, table or sketch; stdout when not given')
    .option('--json', 'one JSON document on stdout')

/** `pace`: keeps count while a person steps and marks, or hands the same run to a machine. */
export const addPace = (program: Command): void => {
  const command = program
    .command('pace')
    .argument('[TRACE]', 'trace file to write as the marks are made')
    .description('the command run: timed prompts that write the trace as you go, or G-code, a table, a sketch')
  withOutputs(withRun(withSetUpOptions(command)))
    .addHelpText(
      'after',
      '\nKeys: Enter marked, p pause, r time again, s skip, n note, digits the position, q stop (go on later with --resume).',
    )
    .action(async (trace: string | undefined, options: PaceOptions, self: Command) => {
      const [{ runPace }, { show }] = await Promise.all([
        import('#adapters/terminal/pace/run-pace'),
        import('#adapters/terminal/outcome'),
      ])
      show(await runPace(trace, options, self), options)
    })
}
