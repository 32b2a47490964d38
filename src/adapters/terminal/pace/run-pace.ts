import type { Command } from 'commander'
import writeFileAtomic from 'write-file-atomic'
import { gcodeText } from '#core/prepare/pace/gcode-text'
import { type PaceSetup, passSeconds } from '#core/prepare/pace/pace-setup'
import { scheduleCsv } from '#core/prepare/pace/schedule-csv'
import { marksOf, scheduleOf } from '#core/prepare/pace/schedule-of'
import { sketchText } from '#core/prepare/pace/sketch-text'
import { readLoneNumber } from '#core/quantity/read-number'
import { isUnmeasurable, type Unmeasurable, unmeasurable } from '#core/quantity/unmeasurable'
import { durationText } from '#core/report/duration-text'
import { systemReason } from '#adapters/files/system-reason'
import { wrongUsage } from '#adapters/terminal/motor-options'
import type { Shown } from '#adapters/terminal/outcome'
import type { PaceOptions } from '#adapters/terminal/pace-command'
import { paceSetup } from './pace-options.ts'
import { runPrompts } from './run-prompts.ts'

const textFor = (setup: PaceSetup, options: PaceOptions, command: Command): string => {
  if (options.csv) return scheduleCsv(setup)
  if (options.sketch) return sketchText(setup)
  const unitsPerTurn = readLoneNumber(options.unitsPerTurn) ?? Number.NaN
  if (!/^[ABCUVWXYZ]$/.test(options.axis) || !(unitsPerTurn > 0))
    return wrongUsage(command, '--axis must be one of A B C U V W X Y Z and --units-per-turn above zero')
  return gcodeText(setup, { letter: options.axis, unitsPerTurn })
}

const written = async (path: string, text: string): Promise<Unmeasurable | null> => {
  try {
    await writeFileAtomic(path, text)
    return null
  } catch (error) {
    return unmeasurable(
      `it cannot be written (${systemReason(error)})`,
      path,
      'choose a folder that exists and can be written',
    )
  }
}

const summaryOf = (setup: PaceSetup) => {
  const events = scheduleOf(setup)
  const last = events.at(-1)
  return {
    setup,
    marks: marksOf(events).length,
    seconds: (last?.atS ?? 0) + (last?.seconds ?? 0),
    energisedPerPassS: passSeconds(setup),
  }
}

const runTexts = async (options: PaceOptions, command: Command): Promise<Shown | Unmeasurable> => {
  const setup = paceSetup(options, command)
  if (isUnmeasurable(setup)) return setup
  const text = textFor(setup, options, command)
  const problem = options.out === undefined ? null : await written(options.out, text)
  if (problem) return problem
  const { marks, seconds } = summaryOf(setup)
  return {
    json: {
      schema: 'stepwitness/pace@1',
      ...summaryOf(setup),
      out: options.out ?? null,
      text: options.out === undefined ? text : null,
    },
    text: options.out === undefined ? text : `${options.out}: ${marks} marks in about ${durationText(seconds)}`,
  }
}

/** Runs `pace`: prompts in the terminal, or one of the texts for a machine. */
export const runPace = async (
  trace: string | undefined,
  options: PaceOptions,
  command: Command,
): Promise<Shown | Unmeasurable> => {
  const texts = [options.gcode, options.csv, options.sketch].filter(Boolean).length
  if (texts > 1 || (texts === 1 && trace !== undefined))
    return wrongUsage(command, 'give one of TRACE, --gcode, --csv and --sketch')
  if (texts === 1) return runTexts(options, command)
  return trace === undefined
    ? wrongUsage(command, 'name a trace file to write, or ask for --gcode, --csv or --sketch')
    : runPrompts(trace, options, command)
}
