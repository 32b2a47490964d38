import type { Command } from 'commander'

export interface MotorOptions {
  readonly stepsPerRev?: string
  readonly microsteps?: string
}

/** The motor options every command carries. */
export const withMotorOptions = (command: Command): Command =>
  command
    .option('--steps-per-rev <S>', 'full steps per shaft revolution')
    .option('--microsteps <N>', 'commanded microsteps per full step')

/** Ends the command as wrong usage, exit status 2. */
export const wrongUsage = (command: Command, message: string): never =>
  command.error(`error: ${message}`, { exitCode: 2, code: 'wrong-usage' })

/** A positive whole number from an option, or `otherwise` when it was not given; wrong usage when neither fits. */
export const wholeOption = (
  command: Command,
  [name, text]: readonly [string, string | undefined],
  otherwise?: number,
): number => {
  if (text === undefined && otherwise !== undefined) return otherwise
  if (text === undefined) return wrongUsage(command, `${name} is needed`)
  const value = Number(text)
  if (!/^\d+$/.test(text.trim()) || value < 1)
    return wrongUsage(command, `${name} must be a whole number of 1 or more, not "${text}"`)
  return value
}
