import { linearLeastSquares } from '#core/numeric/least-squares'

export interface CountingModel {
  /** N. */
  readonly microsteps: number
  /** Highest power of the command that an error of the rig may take up: 0 pointer, 1 a radius, 2 a wall. */
  readonly bend: number
}

/** Means of each phase of the electrical cycle taken out; the plain mean with less than two cycles. */
const aboutPhases = (values: readonly number[], commands: readonly number[], period: number): number[] => {
  const sums = new Float64Array(period)
  const counts = new Float64Array(period)
  values.forEach((value, m) => {
    const phase = (commands[m] as number) % period
    sums[phase] = (sums[phase] as number) + value
    counts[phase] = (counts[phase] as number) + 1
  })
  return values.map((value, m) => value - (sums[(commands[m] as number) % period] as number) / (counts[(commands[m] as number) % period] as number))
}

/**
 * Squares of marks about their commands, microsteps², once the motor's repeating pattern and what the rig may bend are taken
 * out. It judges countings against each other; the start mark counts like the others.
 * @param positions marks in microsteps
 * @param commands the command each belongs to, ascending, from 0
 */
export const countingMisfit = (positions: readonly number[], commands: readonly number[], { microsteps, bend }: CountingModel): number => {
  const last = commands.at(-1) ?? 0
  const period = last >= 8 * microsteps ? 4 * microsteps : 1
  const errors = aboutPhases(positions.map((position, m) => position - (commands[m] as number)), commands, period)
  const columns = Array.from({ length: bend }, (_, power) => aboutPhases(commands.map((command) => (command / last) ** (power + 1)), commands, period))
  const fit = bend > 0 ? linearLeastSquares(columns, errors) : null
  return fit ? fit.residualSumOfSquares : errors.reduce((sum, error) => sum + error * error, 0)
}
