import type { Command } from 'commander'
import { checkPace, type PaceSetup } from '#core/prepare/pace/pace-setup'
import { usualRate, usualRunUp } from '#core/prepare/usual-pace'
import { isUnmeasurable, sentenceOf, type Unmeasurable } from '#core/quantity/unmeasurable'
import { wholeOption, wrongUsage } from '#adapters/terminal/motor-options'
import type { PaceOptions } from '#adapters/terminal/pace-command'
import { quantityOption } from '#adapters/terminal/quantity-option'
import { setUpOf } from '#adapters/terminal/set-up-options'

const seconds = (command: Command, name: string, text: string): number =>
  quantityOption(command, [name, text], 'time') ?? 0

/** The run as the options give it; one turn when no number of commands was given; unmeasurable when it would overheat the motor. */
export const paceSetup = (options: PaceOptions, command: Command): PaceSetup | Unmeasurable => {
  const stepsPerRev = wholeOption(command, ['--steps-per-rev', options.stepsPerRev])
  const microsteps = wholeOption(command, ['--microsteps', options.microsteps])
  const rate = quantityOption(command, ['--rate', options.rate], 'step rate') ?? usualRate
  if (rate === 0) wrongUsage(command, '--rate must be above zero')
  const setup: PaceSetup = {
    motor: options.motor ?? 'unnamed motor',
    stepsPerRev,
    microsteps,
    commands: wholeOption(command, ['--commands', options.commands], stepsPerRev * microsteps),
    passes: wholeOption(command, ['--passes', options.passes]),
    bothWays: options.bothWays ?? false,
    direction: options.reverse ? -1 : 1,
    settleS: seconds(command, '--settle', options.settle),
    dwellS: seconds(command, '--dwell', options.dwell),
    runUp: options.runUp === '0' ? 0 : wholeOption(command, ['--run-up', options.runUp], usualRunUp * microsteps),
    rate,
    coolS: seconds(command, '--cool', options.cool),
    energisedLimitS: seconds(command, '--max-energised', options.maxEnergised),
  }
  return checkPace(setup) ?? setup
}

const headKeys = [
  'motor',
  'steps-per-rev',
  'microsteps',
  'rig',
  'position-unit',
  'radius',
  'distance',
  'foot',
  'ratio',
  'gears',
  'mark-uncertainty',
  'full-step-command',
] as const

/** Set-up lines for the head of the trace, as they were typed; wrong usage when one cannot be read. */
export const headLines = (options: PaceOptions, command: Command): readonly (readonly [string, string])[] => {
  const checked = setUpOf(options as unknown as Readonly<Record<string, unknown>>)
  if (isUnmeasurable(checked)) return wrongUsage(command, sentenceOf(checked))
  const given = options as unknown as Readonly<Record<string, string | undefined>>
  return headKeys.flatMap((key) => {
    const text = given[key.replace(/-(.)/g, (_, letter: string) => letter.toUpperCase())]
    return text === undefined ? [] : [[key, text] as const]
  })
}
