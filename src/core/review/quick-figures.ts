import { effectiveCount } from '#core/figures/effective-microsteps'
import { incrementU, motionsOf } from '#core/figures/motion'
import { errorSize, positionErrors } from '#core/figures/position-errors'
import type { Result } from '#core/report/result-schema'

/** The figures that follow a hand while it drags; the whole measurement follows when it lets go. */
export interface QuickFigures {
  readonly effectiveMicrosteps: number
  readonly peakToPeakDeg: number
  readonly rmsDeg: number
  readonly merged: number
  readonly reversed: number
}

/** Rest angles with the measurement's own uncertainty and rig corrections → the figures a hand can see move. */
export const quickFigures = (anglesDeg: readonly number[], { motor, uncertainty }: Pick<Result, 'motor' | 'uncertainty'>): QuickFigures => {
  const microstepDeg = 360 / motor.stepsPerRev / motor.microsteps
  const size = errorSize(positionErrors(anglesDeg, microstepDeg))
  const expanded = incrementU(uncertainty.markDeg)
  const increments = anglesDeg.slice(1).map((angle, i) => angle - (anglesDeg[i] ?? 0))
  const motions = motionsOf(increments, increments.map(() => expanded), microstepDeg)
  const count = (kind: string): number => motions.reduce((sum, motion) => sum + (motion === kind ? 1 : 0), 0)
  return {
    effectiveMicrosteps: effectiveCount(motor.microsteps, size.rmsDeg ** 2, uncertainty.markDeg, microstepDeg),
    peakToPeakDeg: size.peakToPeakDeg,
    rmsDeg: size.rmsDeg,
    merged: count('merged'),
    reversed: count('reversed'),
  }
}
