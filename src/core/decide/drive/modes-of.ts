import type { DrivenMotor } from './drive-train.ts'

/**
 * Every step mode that a trace of N commands per full step also holds: the divisors of N, rising (1, 2, 4 … N).
 * @throws RangeError when S or N is not a positive whole number.
 */
export const modesOf = ({ stepsPerRev, microsteps }: DrivenMotor): readonly number[] => {
  if (!Number.isInteger(stepsPerRev) || stepsPerRev < 1)
    throw new RangeError(`expected a positive whole number of steps per revolution, got ${stepsPerRev}`)
  if (!Number.isInteger(microsteps) || microsteps < 1)
    throw new RangeError(`expected a positive whole number of microsteps, got ${microsteps}`)
  return Array.from({ length: microsteps }, (_, index) => index + 1).filter((mode) => microsteps % mode === 0)
}
