import type { DriveFigures, ModeFigures } from './drive-figures.ts'

/** The parts of a result document that a drive train needs; angles deg at the shaft, travel positive. */
export interface MeasuredDocument {
  readonly motor: { readonly stepsPerRev: number; readonly microsteps: number }
  /** A command that stands on a full step, as measure decided it. */
  readonly fullStepCommand: number
  readonly rests: readonly { readonly command: number; readonly angleDeg: number; readonly errorDeg: number | null }[]
  readonly effective: { readonly value: number; readonly low: number; readonly high: number }
  readonly modes: readonly { readonly microsteps: number; readonly verdict: NonNullable<ModeFigures['verdict']> }[]
  readonly reversalDeg: number | null
  readonly markUDeg: number | null
}

const mean = (values: readonly number[]): number => values.reduce((sum, value) => sum + value, 0) / values.length

/** n/√(1 + 12σ²/δ²) with σ² = max(0, mean e² − u²) over a mode's rests, its own offset taken out; null below four rests. */
const countOf = (errors: readonly number[], [mode, stepDeg, u]: readonly [number, number, number]): number | null => {
  if (errors.length < 4) return null
  const centre = mean(errors)
  const variance = Math.max(0, mean(errors.map((error) => (error - centre) ** 2)) - u * u)
  return mode / Math.sqrt(1 + (12 * variance) / (stepDeg / mode) ** 2)
}

/** Rests a mode would stop at: every (N/n)-th command from a full step on. */
const restsOfMode = ({ rests, motor, fullStepCommand }: MeasuredDocument, mode: number): MeasuredDocument['rests'] => {
  const stride = motor.microsteps / mode
  return rests.filter(({ command }) => (command - fullStepCommand) % stride === 0)
}

const largestIncrement = (rests: MeasuredDocument['rests'], nominalDeg: number): number | null => {
  const jumps = rests
    .slice(1)
    .map(({ angleDeg }, index) => (angleDeg - (rests[index]?.angleDeg ?? angleDeg)) / nominalDeg)
  return jumps.length === 0 ? null : jumps.reduce((most, jump) => Math.max(most, jump))
}

/**
 * Figures per mode from a result document: count and interval as printed for N itself, the same formula over the rests of a
 * coarser mode (start mark left out; no interval of its own), and each mode's largest increment in its own microsteps.
 */
export const figuresOfRests = (document: MeasuredDocument): DriveFigures => {
  const { motor, effective, markUDeg } = document
  const stepDeg = 360 / motor.stepsPerRev
  const modeFigures = ({ microsteps, verdict }: MeasuredDocument['modes'][number]): ModeFigures => {
    const rests = restsOfMode(document, microsteps)
    const errors = rests
      .filter(({ command }) => command > 0)
      .flatMap(({ errorDeg }) => (errorDeg === null ? [] : [errorDeg]))
    const value = countOf(errors, [microsteps, stepDeg, markUDeg ?? 0])
    const own = value === null ? null : { value, low: value, high: value }
    return {
      microsteps,
      verdict,
      effective: microsteps === motor.microsteps ? effective : own,
      largestIncrement: largestIncrement(rests, stepDeg / microsteps),
    }
  }
  return { modes: document.modes.map(modeFigures), reversalDeg: document.reversalDeg, markUDeg }
}
